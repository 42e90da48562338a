#!/bin/sh
# Real playing that nobody on the project played (BARTER_TAKES): whole solos
# over their own charts with room made, two hands, songs, and dense piano rolls,
# which must neither hang nor grow.

. "$(dirname "$0")/lib.sh"
seconds=20
mebibytes=120
takes=${BARTER_TAKES:-}
[ -n "$takes" ] || skip "BARTER_TAKES is not set"
[ -d "$takes/solos" ] || skip "there is no $takes/solos"
cd "$work" || exit 1

# The answers of a report: as many as the player's turns, none of them empty
answered() {
  "$READ_JSON" turns <report.json >n_turns || return 1
  quiet_turns=$(grep -c '"notes": \[\]' report.json)
  n_silent=$("$READ_JSON" summary silent_turns <report.json)
  [ $(($(cat n_turns) % 2)) -eq 0 ] && [ "$quiet_turns" -le "$n_silent" ]
}

for chart in "$takes"/solos/*.cfg; do
  solo=${chart%.cfg}
  plain 0 answer "$solo.steady.mid" --chart "$chart" --make-room --rung 6 \
    --report report.json --out one.mid || continue
  check "every call of $solo has its answer" answered
done
for solo in "$takes"/solos/s0[1-3].mid; do
  plain 0 answer "$solo" --chart "${solo%.mid}.cfg" --make-room --out one.mid ||
    continue
  plain 0 answer --replay one.mid --out two.mid
  same "replay of $solo" one.mid two.mid
done

for file in "$takes"/hands/*.both.mid "$takes"/pop/*.mid "$takes"/rolls/*.mid; do
  plain 0 answer "$file" --out one.mid
done
# The left hand of two is heard as chords: its notes are told of
plain 0 hear "$takes/hands/h01.both.mid"
tr -s '\n ' '  ' <"$out" >told # Lines may break anywhere
check "chords of a left hand" grep -q 'notes of your own chords' told

finish
