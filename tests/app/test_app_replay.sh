#!/bin/sh
# A recording made again is the same file, byte for byte (design, section 3).

. "$(dirname "$0")/lib.sh"
phrases 4 2 | take "$work/take.mid"
cd "$work" || exit 1
mkdir folder
sed 's/^title = .*/title = "A copy";/' "$BARTER_CONFIG/charts/blues-jazz.cfg" \
  >folder/copy.cfg

# again WORDS...: answer, replay, and replay the replay
again() {
  quiet answer take.mid "$@" --out one.mid || return
  cp "$out" told
  quiet answer --replay one.mid --out two.mid || return
  same "replay of: $*" one.mid two.mid
  same "what was told of: $*" told "$out"
  quiet answer --replay two.mid --out three.mid || return
  same "replay of a replay of: $*" one.mid three.mid
}

again
again --make-room
again --make-room --first partner --bars 2
again --first partner
again --bars 1
again --bars 2 --key Eb --tempo 93.7
again --tempo 60000e-3 --seed 9223372036854775807 --rung 8
again --chart blues-minor --feel shuffle --rung notes=3,rhythm=2
again --chart two-five-one --feel bossa --rung 5
again --chart waltz --key F# --bars 1 --choruses 2
again --chart folder/copy.cfg --key Bb --rung notes=8,ornament=4

# Keys that overlap, come before bar 1 or are never let up
printf '%s\n' 'track' 'note 0 3000 60 80 0' 'note 100 400 60 90 0' \
  'note 700 100 60 20 0' 'note 2000 10 64 70 0' 'note 2000 900 64 30 0' \
  'note 2001 900 64 35 0' 'note 9000 99999999 67 80 0' 'track' \
  'note 0 900 60 50 1' 'note 2000 500 67 80 1' | take take.mid
again
again --lead-in 4
again --lead-in 8 --bars 1 --first partner

# Everything else that is wanted of it can be had again
quiet answer --replay one.mid --out two.mid --report report.json
check "a report" is_json report.json

# What it was played over may have changed meanwhile: said, and played all the
# same
phrases 4 4 | take take.mid
quiet answer take.mid --chart folder/copy.cfg --out one.mid
echo '# another line' >>folder/copy.cfg
warned 'the chart has changed since this was recorded' answer --replay one.mid \
  --out two.mid
mkdir -p "$XDG_CONFIG_HOME/barter/feels"
sed 's/^title .*/title = "Own swing";/' "$BARTER_CONFIG/feels/swing.cfg" \
  >"$XDG_CONFIG_HOME/barter/feels/swing.cfg"
warned 'the feel has changed since this was recorded' answer --replay one.mid
rm -r "$XDG_CONFIG_HOME/barter"
mkdir -p away/folder
cp folder/copy.cfg away/folder
rm folder/copy.cfg
refused 2 'one.mid: was played over folder/copy.cfg, which is not here' \
  answer --replay one.mid
refused 2 'one.mid was played over folder/copy.cfg, which is not here;.*--chart' \
  hear one.mid
refused 2 'not here' ideas one.mid
# ... or beside the recording, in its folder or as it is
cp one.mid away
warned 'and is heard over it' hear away/one.mid
warned 'the chart has changed' answer --replay away/one.mid --out two.mid
mv away/folder/copy.cfg away
warned 'and is heard over it' hear away/one.mid

# A replay takes no other choices, and no take
refused 2 'a replay brings its own choices' answer --replay one.mid --tempo 100
refused 2 'a replay brings its own choices' answer --replay one.mid --make-room
refused 2 'answer takes one file' answer take.mid --replay one.mid
refused 2 'there is no conversation in it' answer --replay take.mid
refused 2 'there is no such file' answer --replay nowhere.mid

# The session within is damaged: no byte of it is taken for another
phrases 4 4 | take take.mid
quiet answer take.mid --choruses 3 --out one.mid
damaged() {
  LC_ALL=C sed "s/$1/$2/" one.mid >damaged.mid
  refused 2 "damaged.mid: the session" answer --replay damaged.mid
}
damaged 'bars=4' 'bars=3'
damaged 'rhythm=' 'rythmm='
damaged 'choruses=3' 'choruses=x'
damaged 'highest=84' 'highest=10'

# A recording as a take: it is heard over what it was played over, from its bar
# one on, or it is said that it is not
phrases 3 4 | take own.mid
run 0 answer own.mid --chart blues-jazz --key Eb --bars 4 --seed 5 --rung 5 --out kept.mid
grep -A 3 '^Turn 1, ' "$out" | sed -n '2,3p' >first
warned 'kept.mid was played over blues-jazz in Eb, and is heard over it' hear kept.mid
grep -A 3 '^In bars 1-4' "$out" | sed -n '2,3p' >heard
same "the same notes in the same bars" first heard
warned 'over blues-jazz, and is heard over waltz, as you say, with 4 bars a turn in Eb$' \
  hear kept.mid --chart waltz
phrases 4 2 | take twos.mid
run 0 answer twos.mid --bars 2 --chart blues-jazz --out twos-kept.mid
warned 'as you say, with 2 bars a turn$' hear twos-kept.mid --chart blues
check "its turns are as long" grep -q '^In bars 5-6' "$out"
warned 'with 4 bars a turn$' hear twos-kept.mid --chart blues --bars 4
warned 'was played over' answer kept.mid --rung 5 --seed 5 --out again.mid
check "it is in E flat again" grep -q ', in Eb major, ' "$out"
run 0 hear kept.mid --key C
check "a key that is asked for is had" \
  grep -q 'blues-jazz in Eb, and is heard over it in C, as you say' "$err"
run 0 hear kept.mid --key Eb
check "the same key is no other" grep -q 'is heard over it; --chart' "$err"

# Its chart may be another by now
cp "$BARTER_CONFIG/charts/blues.cfg" mine.cfg
run 0 answer own.mid --chart mine.cfg --bars 4 --seed 5 --out kept.mid
warned 'was played over mine.cfg' hear kept.mid
run 0 hear kept.mid
check "it is the same" sh -c "! grep -q 'has changed' '$err'"
cp "$BARTER_CONFIG/charts/blues-jazz.cfg" mine.cfg
run 0 hear kept.mid
check "it is another" grep -q 'the chart mine.cfg has changed since' "$err"
run 0 answer kept.mid --out again.mid
check "which is answered over, too" grep -q 'the chart mine.cfg has changed' "$err"
run 0 answer own.mid --make-room --bars 2 --out room.mid
run 0 answer room.mid --out other.mid
check "room is not made twice" grep -q 'made with --make-room' "$err"
quiet hear own.mid

finish
