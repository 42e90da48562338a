#!/bin/sh
# `--report -` prints JSON and nothing else on standard output, read here by
# Jansson, which refuses anything behind it (RFC 8259).

. "$(dirname "$0")/lib.sh"
phrases 3 4 | take "$work/take.mid"
cd "$work" || exit 1

# says WANT PATH...: the report has it there
says() {
  want=$1
  shift
  n_checked=$((n_checked + 1))
  got=$("$READ_JSON" "$@" <report.json 2>&1)
  [ "$got" = "$want" ] || fail "$* is '$got', not '$want'"
}

# The words go to standard error then
for words in 'answer take.mid' 'hear take.mid' demo; do
  # shellcheck disable=SC2086 # words
  run 0 $words --report -
  cp "$out" report.json
  says barter-report format
  says 1 version
  says 960 ppq
  check "it still talks: $words" grep -q '^Notes: \[C4\] root' "$err"
done

quiet answer take.mid --report report.json --key Eb --seed 5 --bars 2 \
  --tempo 92.5 --first partner --choruses 2
check "it talks on standard output" grep -q '^Turn 1, bars 1-2, partner' "$out"
says 'Twelve-bar blues' chart
says 'Eb major' key
says 4/4 meter
says swing feel
says 92.5 tempo_bpm
says 5 seed
says 2 bars_per_turn
says 12 turns
says partner turns 0 by
says player turns 1 by
says 7680 turns 1 start_tick
says 15360 turns 1 end_tick
says 3 turns 1 first_bar
says 6 summary player_turns

# A report of what was heard has the player's turns only, on the same ticks
quiet hear take.mid --report report.json
says 5 turns
says player turns 4 by
says 61440 turns 4 start_tick

# A pick-up, here 300 ticks before bars 9 and 17, belongs to the turn it leads to
for words in 'answer take.mid --choruses 2' 'hear take.mid'; do
  # shellcheck disable=SC2086 # words
  quiet $words --report report.json
  says player turns 2 by
  says 30420 turns 2 notes 0 tick
  says 61140 turns 4 notes 0 tick
done
finish
