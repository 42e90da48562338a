#!/bin/sh
# What `barter answer --out` writes, read back by a program that is not ours:
# midicsv (Debian package midicsv), which lists every event of a MIDI file.

. "$(dirname "$0")/lib.sh"
command -v midicsv >/dev/null || skip "midicsv is not installed"

csv() {
  "$BOUNDED" 20 400 "$(command -v midicsv)" "$1" >"$2"
}

# whole FILE.csv NAME=VALUE...: as recording.awk wants it
whole() {
  file=$1
  shift
  for value; do
    set -- "$@" -v "$value"
    shift
  done
  awk -F', ' "$@" -f "$here/recording.awk" "$file"
}

phrases 3 4 | take "$work/take.mid"
phrases 2 2 | take "$work/short.mid"
cd "$work" || exit 1

# At 120 a bar of 4/4 lasts 2 s, so the count-in is one bar (design, section 3)
quiet answer take.mid --choruses 2 --out a.mid
check "midicsv reads it" csv a.mid a.csv
check "in fours" whole a.csv first=player turns=6 turn_ticks=15360 \
  count_in=3840 bar=3840

quiet answer short.mid --bars 1 --choruses 1 --first partner --out b.mid
check "midicsv reads it" csv b.mid b.csv
check "in ones, the partner first" whole b.csv first=partner turns=12 \
  turn_ticks=3840 count_in=3840 bar=3840

# At 100 a bar of 3/4 lasts 1.8 s, at 200 0.9 s: then two bars are counted
quiet answer short.mid --chart waltz --tempo 100 --bars 2 --choruses 1 --out c.mid
check "midicsv reads it" csv c.mid c.csv
check "in three" whole c.csv first=player turns=8 turn_ticks=5760 \
  count_in=2880 bar=2880
quiet answer short.mid --chart waltz --tempo 200 --bars 2 --choruses 1 --out d.mid
check "midicsv reads it" csv d.mid d.csv
check "in three, fast" whole d.csv first=player turns=8 turn_ticks=5760 \
  count_in=5760 bar=2880

# A tempo is microseconds a quarter: 60,000,000 / 100
check "the tempo" grep -q '^1, 0, Tempo, 600000$' c.csv
check "the meter" grep -q '^1, 0, Time_signature, 3, 2, 24, 8$' c.csv
check "F major has one flat" grep -q '^1, 0, Key_signature, -1, "major"$' c.csv

# The player's notes are the take's, one count-in later
played() {
  awk -F', ' -v track="$2" -v later="$3" \
    '$1 == track && $3 ~ /^Note_o/ { print $2 + later, $3, $5, $3 == "Note_on_c" ? $6 : 0 }' \
    "$1" | sort
}
check "midicsv reads the take" csv take.mid take.csv
played take.csv 2 3840 >want
played a.csv 2 0 >got
same "what was played" want got

# Chance: the same seed and options give the same bytes, another seed others
quiet answer take.mid --choruses 2 --out a2.mid
same "once more" a.mid a2.mid
quiet answer take.mid --choruses 2 --seed 1 --out a3.mid
same "1 is the seed if none is named" a.mid a3.mid
quiet answer take.mid --choruses 2 --seed 2 --out a4.mid
check "midicsv reads it" csv a4.mid a4.csv
played a.csv 3 0 >one
played a4.csv 3 0 >two
differ "the partner by another seed" one two
played a4.csv 2 0 >got
same "the player by another seed" want got

# With room, an answer follows every call
quiet answer short.mid --make-room --choruses 1 --out e.mid
check "midicsv reads it" csv e.mid e.csv
check "with room" whole e.csv first=player turns=6 turn_ticks=15360 \
  count_in=3840 bar=3840

# A form of three bars in turns of four: calls of three bars, answers as long
cat >three.cfg <<'END'
title = "Three";
meter = "4/4";
key = "C major";
scale = "by chord";
bars = [ "I7", "IV7", "V7" ];
END
quiet answer short.mid --chart ./three.cfg --make-room --choruses 3 --out f.mid
check "midicsv reads it" csv f.mid f.csv
check "with room in a short form" whole f.csv first=player turns=6 \
  turn_ticks=11520 count_in=3840 bar=3840

# How long it is: as many choruses as hold the last onset, and no more when it
# lands on the first beat after one
tail_at() {
  printf 'track\nnote 0 480 60 80 0\nnote %d 6000 60 80 0\n' "$1" | take tail.mid
  quiet answer tail.mid --out tail-out.mid
  csv tail-out.mid tail.csv
  grep -c 'Marker_t' tail.csv
}
check "it lands on the one after a chorus" test "$(tail_at 46080)" -eq 3
check "it goes on" test "$(tail_at 47050)" -eq 6

finish
