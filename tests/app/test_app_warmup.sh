#!/bin/sh
# A day's warm-up, and practice that moves the rungs and can be replayed.
# midicsv reads the warm-up beside us.

. "$(dirname "$0")/lib.sh"
phrases 3 4 | take "$work/take.mid"
cd "$work" || exit 1

# The same all day, another tomorrow
quiet warmup --date 2026-03-02 --out one.mid
cp "$out" one.txt
quiet warmup --date 2026-03-02 --out two.mid
same "the plan of a day" one.txt "$out"
same "the file of a day" one.mid two.mid
quiet warmup --date 2026-03-03 --out three.mid
differ "another day's file" one.mid three.mid
check "nobody was made" test ! -e "$XDG_DATA_HOME/barter"
quiet warmup

# It fits the screen, whatever is asked for
for words in "" "--minutes 3" "--minutes 60 --tempo 200" \
  "--chart waltz --key F#" "--chart sixteen-bar --tempo 60" \
  "--chart modal-vamp --minutes 5.5"; do
  quiet warmup --date 2026-03-02 $words
  check "80 columns: $words" \
    test "$(awk '{ if (length > 80) n++ } END { print n + 0 }' "$out")" -eq 0
  check "stop at pain: $words" grep -q 'stop' "$out"
done
quiet warmup --minutes 45
check "a pause in three quarters of an hour" \
  test "$(grep -c 'Pause: five minutes' "$out")" -eq 1
quiet warmup --minutes 20
check "none in twenty minutes" test "$(grep -c 'Pause' "$out")" -eq 0

# About as long as asked for: at 92, a tick is 60000 / 92 / 960 ms
if command -v midicsv >/dev/null; then
  quiet warmup --minutes 12 --tempo 92 --out long.mid
  midicsv long.mid >long.csv || fail "midicsv reads it"
  n_checked=$((n_checked + 3))
  awk -F', *' '$3 == "End_track" && $2 > last { last = $2 }
    END { s = last * 60 / 92 / 960; exit !(s > 700 && s < 740) }' long.csv ||
    fail "twelve minutes"
  [ "$(grep -c 'Marker_t' long.csv)" -eq 8 ] || fail "a marker for each item"
  # The player's track is left free
  awk -F', *' '$3 == "Title_t" && $4 ~ /player/ { track = $1 }
    $3 == "Note_on_c" && $1 == track { n++ } END { exit n != 0 }' long.csv ||
    fail "the player's turns are free"
fi

# On paper stands what is told: each chord's round, how many there are, and the
# scale's own names
quiet warmup --date 2026-03-03 --score w.abc
check "rounds over each chord" sh -c "grep -q '\"F7\"' w.abc && grep -q '\"G7\"' w.abc"
check "how many" grep -q 'Chord tones, 6 rounds' w.abc
check "Eb, as the text has it" sh -c "grep -q '_E' w.abc && ! grep -q '\^D[0-9 ,]' w.abc"

refused 2 '--date 2026-02-30 is no day' warmup --date 2026-02-30
refused 2 '--date yesterday is no day' warmup --date yesterday
refused 2 'from 3 to 60' warmup --minutes 2
refused 2 'takes no file' warmup take.mid
refused 2 'no learner ada' warmup --learner ada
refused 3 'cannot be written' warmup --out /nowhere/w.mid
check "before anything is told" test ! -s "$out"

# Practice moves the rungs; a recording of it is made again note for note
phrases 30 4 | take "$work/long.mid"
quiet answer long.mid --make-room --choruses 20 --practice --out practised.mid \
  --report practised.json
cp "$out" practised.txt
quiet answer --replay practised.mid --out again.mid
same "a replay of practice" practised.mid again.mid
same "what is told of it" practised.txt "$out"
if command -v sqlite3 >/dev/null; then
  journal=$XDG_DATA_HOME/barter/learners/me/journal.db
  n_checked=$((n_checked + 3))
  [ "$(sqlite3 "$journal" 'SELECT count(*) FROM session')" = 1 ] ||
    fail "a replay is no practice"
  # Each judged turn says why, and what was next stands from then on
  [ "$(sqlite3 "$journal" "SELECT count(*) FROM turn WHERE by_player = 1
    AND notes > 0 AND (success IS NULL OR why = '')")" = 0 ] ||
    fail "every turn with notes is judged"
  [ "$(sqlite3 "$journal" "SELECT count(*) FROM turn a JOIN turn b
    ON b.session = a.session AND b.number = a.number + 1 WHERE a.by_player = 1
    AND (a.next_notes, a.next_rhythm, a.next_shape, a.next_ornament) <>
    (b.stands_notes, b.stands_rhythm, b.stands_shape, b.stands_ornament)")" = 0 ] ||
    fail "the answer stands where the turn led"
fi

# Each move of the ladder, with its reason, is in the report, in the journal and
# in progress; each turn of the player's says in the report what the journal says
if command -v sqlite3 >/dev/null; then
  quiet progress --report progress.json
  kept=$(sqlite3 "$journal" "SELECT count(*) FROM turn WHERE moved <> ''")
  check "some turn moved the ladder" test "$kept" -gt 0
  check "progress has them all" test "$("$READ_JSON" moves <progress.json)" = "$kept"
  check "the latest with its words" test \
    "$("$READ_JSON" moves 0 moved <progress.json)" = "$(sqlite3 "$journal" \
      "SELECT moved FROM turn WHERE moved <> '' ORDER BY number DESC LIMIT 1")"
  n_moves=0
  for i in $(seq 0 $(($("$READ_JSON" turns <practised.json) - 1))); do
    [ "$("$READ_JSON" turns "$i" by <practised.json)" = player ] || continue
    check "why, turn $i" test \
      "$("$READ_JSON" turns "$i" outcome <practised.json)" = \
      "$(sqlite3 "$journal" "SELECT text FROM turn JOIN line ON line.number = turn.why
        WHERE turn.number = $i + 1")"
    why=$("$READ_JSON" turns "$i" moved why <practised.json 2>/dev/null) || continue
    n_moves=$((n_moves + 1))
    check "moved, turn $i" test "$why" = \
      "$(sqlite3 "$journal" "SELECT moved FROM turn WHERE number = $i + 1")"
  done
  check "the report has them all" test $n_moves = "$kept"
fi

# The same played day by day is summed up in other words than the day before
for i in 1 2 3 4; do
  quiet answer take.mid --practice
  sed -n '/^Afterwards/,$p' "$out" | sed 1d >after.$i
  check "something is said" test "$(grep -c . after.$i)" -ge 3
done
for i in 1 2 3; do
  n_checked=$((n_checked + 1))
  if grep -qxFf after.$i after.$((i + 1)); then
    fail "said twice running: $(grep -xFf after.$i after.$((i + 1)))"
  fi
done

# The teacher's words; broken ones are told of, and the session goes on
export BARTER_CONFIG="$work/config"
cp -r "$(dirname "$0")/../../config" "$BARTER_CONFIG"
sed -i 's/I heard you\./Heard!/; s/You came home to {note}, the root/Home on {note}/' \
  "$BARTER_CONFIG/sentences.cfg"
quiet check "$BARTER_CONFIG/sentences.cfg"
printf 'praise = { root = [ "Ah." ]; };\n' >"$BARTER_CONFIG/sentences.cfg"
plain 0 answer take.mid
check "the line is named" grep -q 'sentences.cfg:1: ' "$err"
check "and what is done" grep -q 'built in' "$err"
rm "$BARTER_CONFIG/sentences.cfg"
plain 0 hear take.mid
check "missing words are told of" grep -q 'sentences.cfg' "$err"

finish
