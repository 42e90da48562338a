#!/bin/sh
# Notation read by another program: LilyPond's reader of MusicXML and LilyPond
# itself, which checks every bar line, make MIDI of it; its onsets must be
# those of the report, tick for tick.

. "$(dirname "$0")/lib.sh"
. "$here/notation.sh"
command -v musicxml2ly >/dev/null && command -v lilypond >/dev/null &&
  command -v midicsv >/dev/null || skip "LilyPond or midicsv is missing"
cd "$work" || exit 1
conversations

# Chord symbols are left out: this reader counts them as music and stumbles.
# Its voices are put into a score of our own, since its own plays the parts one
# after the other; no page is drawn, which would take long.
for name in $names; do
  awk '/<harmony>/ { out = 1 } !out; /<\/harmony>/ { out = 0 }' \
    $name.musicxml >$name.plain
  musicxml2ly --midi -o $name.ly $name.plain >$name.log 2>&1 ||
    fail "musicxml2ly: $(tail -n 3 $name.log)"
  sed '/^% The score definition/,$d' $name.ly >voices
  {
    cat voices
    echo '\score { <<'
    sed -n 's/^\(PartP[A-Za-z]*Voice[A-Za-z]*\) =.*/\\new Staff { \\new Voice = "\1" { \\\1 } }/p' voices
    echo '>> \midi { } }'
  } >$name.ly
  check "$name is read without a warning" \
    awk '/[Ww]arning|[Ee]rror/ { print; bad = 1 } END { exit bad }' $name.log
done
lilypond --loglevel=WARNING two.ly three.ly four.ly five.ly six.ly twelve.ly \
  >lilypond.log 2>&1 || fail "lilypond ended badly"
check "bars are whole: $(head -n 3 lilypond.log)" test ! -s lilypond.log

# 384 ticks a quarter become 960; a track is a staff
onsets() {
  midicsv "$1" | awk -F', ' -v pick_up="$2" '
    $3 == "Title_t" { part = $4 ~ /PTwo/ }
    $3 == "Note_on_c" && $6 > 0 {
      print part, $2 * 2.5 - pick_up, $5 }' | sort
}

for name in $names; do
  pick_up=$("$PRINT_SCORE" pick-up $name.musicxml)
  onsets $name.midi "$pick_up" >heard
  "$PRINT_SCORE" notes $name.musicxml | sort >written
  "$PRINT_SCORE" report $name.json | sort >told
  check "$name: many notes" test "$(wc -l <told)" -gt 30
  check "$name: what was told is heard" test -z "$(comm -23 told heard)"
  check "$name: what is written is heard" test -z "$(comm -23 written heard)"
  # What is heard beside are the grace notes, which LilyPond plays early
  check "$name: nothing else is heard" test \
    "$(comm -13 written heard | wc -l)" -eq \
    "$("$PRINT_SCORE" graces $name.musicxml)"
  cat $name.musicxml >>all
done
for mark in '<grace slash="yes"/>' '<tuplet type="start"' '<tied type="start"/>' \
  '<staff>2</staff>' '<chord/>' '<swing>'; do
  check "there is a $mark" grep -q "$mark" all
done

# A replay writes the same file, and whatever cannot be written is told
quiet answer four.mid --chart four.cfg --feel swing --bars 2 --rung 7 --seed 3 \
  --out one.mid --musicxml one.musicxml
quiet answer --replay one.mid --musicxml two.musicxml
same "notation of a replay" one.musicxml two.musicxml
refused 3 'none/x.musicxml' answer four.mid --musicxml none/x.musicxml
refused 2 'name one file' answer four.mid --out x --musicxml x
refused 2 'what was played' answer four.mid --musicxml four.mid

# Ideas: the phrase and what comes of it, each under its name
quiet ideas four.mid --chart four.cfg --rung 6 --count 5 --musicxml ideas.musicxml
check "the phrase" grep -q '<words>the phrase</words>' ideas.musicxml
check "five ideas" test \
  "$(grep -c '<words>[1-5]\. [a-z, ]*</words>' ideas.musicxml)" -eq 5
check "double bars" test \
  "$(grep -c '<bar-style>light-light</bar-style>' ideas.musicxml)" -eq 10

# Nothing played is a page of rests
printf '%s\n' track 'tempo 0 500000' 'note 90000 10 60 1 0' | take empty.mid
plain 0 answer empty.mid --choruses 1 --musicxml empty.musicxml
check "an empty take" test "$("$PRINT_SCORE" pick-up empty.musicxml)" -eq 0

finish
