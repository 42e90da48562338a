#!/bin/sh
# barter settings: every choice in force, and which place it comes from. Each
# place is made to say something that the one before it says, too.

. "$(dirname "$0")/lib.sh"
cd "$work" || exit 1
own=$XDG_CONFIG_HOME/barter
learner=$XDG_DATA_HOME/barter/learners/ana/learner.cfg

# tells NAME VALUE FROM: a line of the last run
tells() {
  n_checked=$((n_checked + 1))
  tr -s ' ' <"$out" | grep -qxF " $1 $2 $3" ||
    fail "not '$1 $2 $3' but: $(grep "^  $1 " "$out")"
}

# Nothing is said: what is built in, the chart and the ladder hold
mkdir -p "$own"
echo '# Nothing' >"$own/barter.cfg"
quiet settings
tells tempo "$(sed -n 's/^tempo *= *\([0-9]*\);.*/\1/p' \
  "$BARTER_CONFIG/charts/blues.cfg") bpm" chart
tells feel swing chart
tells key 'C major' chart
tells bars '4 bars' default
tells seed 1 default
tells split C4 default
tells lag_ms '0 ms' default
tells rhythm "$(sed -n 's/.*start *=.*rhythm *= *\([0-9]\).*/\1/p' \
  "$BARTER_CONFIG/ladder.cfg")" ladder.cfg
check "where the sentences are" grep -q '^  sentences.cfg .*sentences.cfg$' "$out"
check "no learner.cfg" test -z "$(grep learner.cfg "$out")"

# barter.cfg, by its lines
cat >"$own/barter.cfg" <<'END'
tempo = 90;
bars = 2;
first = "partner";

rung = "rhythm=3";
split = "A3"; hand_span = 9;
lag_ms = 7;
sounds = {
  bass = { program = "fretless bass"; };
};
END
quiet settings
tells tempo '90 bpm' barter.cfg:1
tells bars '2 bars' barter.cfg:2
tells first partner barter.cfg:3
tells rhythm 3 barter.cfg:5
tells split A3 barter.cfg:6
tells hand_span '9 semitones' barter.cfg:6
tells lag_ms '7 ms' barter.cfg:7
tells sounds.bass.program 'fretless bass' barter.cfg:9
tells sounds.bass.level 66 default
check "its path" grep -qF "$own/barter.cfg" "$out"

# equipment.cfg over it
printf '\nlag_ms = 12.5;\ncontrol = "key21";\n' >"$own/equipment.cfg"
quiet settings
tells lag_ms '12.5 ms' equipment.cfg:2
tells control key21 equipment.cfg:3

# learner.cfg over both, and caps over where one stands
run 0 learner add ana
printf 'tempo = 72;\nsplit = "G3";\ncaps = { rhythm = 2; };\n' >"$learner"
quiet settings --learner ana
tells tempo '72 bpm' learner.cfg:1
tells split G3 learner.cfg:2
tells hand_span '9 semitones' barter.cfg:6
tells rhythm 2 learner.cfg
tells bars '2 bars' barter.cfg:2
quiet settings
tells tempo '90 bpm' barter.cfg:1

# The command line over all
quiet settings --learner ana --tempo 60 --rung rhythm=5 --control cc66 \
  --key F --seed 9 --make-room --first player
tells tempo '60 bpm' --tempo
tells rhythm 5 --rung
tells control cc66 --control
tells key 'F major' --key
tells seed 9 --seed
tells make-room yes --make-room
tells first player --first
tells split G3 learner.cfg:2

# Where the learner stood is the journal's word
phrases 3 4 | take take.mid
printf 'tempo = 72;\n' >"$learner"
quiet answer take.mid --practice --learner ana
quiet settings --learner ana
tells notes "$(sed -n 's/.*start *=.*notes *= *\([0-9]\).*/\1/p' \
  "$BARTER_CONFIG/ladder.cfg")" journal

# As JSON, alone on standard output
run 0 settings --report - --learner ana --tempo 61.5
cp "$out" all.json
check "JSON" is_json all.json
one() { tr -d ' \n' <all.json | grep -o "{\"name\":\"$1\"[^}]*}"; }
check "tempo" test "$(one tempo)" = '{"name":"tempo","value":61.5,"from":"option","help":"quartersaminute,30to320","unit":"bpm","least":30.0,"most":320.0}'
check "bars" test "$(one bars | grep -o '"from":"barter.cfg"')" = '"from":"barter.cfg"'
check "bars by its line" test "$(one bars | grep -o '"line":2')" = '"line":2'
check "first" test "$(one first | grep -o '"words":.*')" = '"words":["player","partner"]}'

# What is wrong is told as elsewhere
echo 'tempo = 900;' >"$own/barter.cfg"
refused 2 'barter.cfg:1: tempo 900 is outside 30..320' settings
rm "$own/barter.cfg" "$own/equipment.cfg"
refused 2 'there is no chart' settings --chart 'no such'
refused 2 'takes no file' settings take.mid
refused 2 'there is no learner' settings --learner nobody
finish
