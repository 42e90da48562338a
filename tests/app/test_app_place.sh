#!/bin/sh
# Where a learner begins: the first turns find it, unless a teacher set it.

. "$(dirname "$0")/lib.sh"
cd "$work" || exit 1

# A player of some years: calls in fours, with rests, that land on the root of
# C7, G7, F7 and again
awk 'BEGIN {
  print "track"; print "tempo 0 500000"; print "track player"
  split("64 67 62 60 71 74 69 67 69 72 67 65", pitch, " ")
  for (turn = 0; turn < 6; turn += 2)
    for (i = 1; i <= 4; ++i)
      print "note", turn * 4 * 3840 + (i - 1) * 960, 800, pitch[turn / 2 % 3 * 4 + i], 80, 0
}' | take take.mid

sum() {
  quiet settings --learner "$1" --report s.json || return
  total=0
  i=0
  n=$("$READ_JSON" choices <s.json)
  while [ "$i" -lt "$n" ]; do
    case $("$READ_JSON" choices "$i" name <s.json) in
    notes | rhythm | shape | ornament)
      total=$((total + $("$READ_JSON" choices "$i" value <s.json))) ;;
    esac
    i=$((i + 1))
  done
  echo "$total"
}

quiet learner add ada
before=$(sum ada)
quiet answer take.mid --practice --learner ada --out one.mid --report r.json
cp "$out" told
check "the first turns go further than a rung: $before to $(sum ada)" \
  [ "$(sum ada)" -ge $((before + 3)) ]
check "it is said why" grep -q 'Finding your place' told
quiet answer --replay one.mid --out two.mid
same "replay of a session that finds" one.mid two.mid

# The best phrase comes back after the closing bar, from the partner: 24 bars,
# one to count in and one to close
if command -v midicsv >/dev/null; then
  midicsv one.mid >one.csv
  check "the best phrase is played back" \
    [ "$(awk -F', ' '$1 == 3 && $3 == "Note_on_c" && $2 >= 26 * 3840' one.csv |
      wc -l)" -eq 4 ]
fi

# ... and the next session begins with it
quiet answer take.mid --practice --learner ada --first partner --out next.mid
cp "$out" told
check "the partner begins with the best of the last time" \
  grep -q 'What you said best the last time' told
quiet answer --replay next.mid --out two.mid
same "replay of a session that begins with it" next.mid two.mid

# A teacher's word goes before
quiet learner add bo
config=$(find home -path '*bo*' -name learner.cfg)
echo 'rung = "notes=4,rhythm=3,shape=2,ornament=1";' >>"$config"
quiet check "$config"
check "the teacher's rungs: $(sum bo)" [ "$(sum bo)" = 10 ]
quiet answer take.mid --practice --learner bo --out one.mid
check "nothing is to be found" sh -c '! grep -q "Finding your" "$1"' - "$out"

# A session without a note is no practice
quiet learner add cy
printf '%s\n' track 'note 400000 900 60 80 0' | take silent.mid
"$BOUNDED" 20 400 "$BARTER" answer silent.mid --practice --learner cy \
  --choruses 1 --out one.mid >/dev/null 2>&1
quiet progress --learner cy
check "nothing was practised" grep -qi 'nothing\|no practice\|0 of the last 7' "$out"
finish
