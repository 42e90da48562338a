#!/bin/sh
# Edge cases and broken files of other MIDI libraries' tests (BARTER_TAKES,
# folder parser): read or refused as index.csv says of each, in its sources'
# own words.

. "$(dirname "$0")/lib.sh"
seconds=10
mebibytes=250
takes=${BARTER_TAKES:-}
[ -n "$takes" ] || skip "BARTER_TAKES is not set"
[ -r "$takes/parser/index.csv" ] || skip "there is no $takes/parser/index.csv"
cd "$work" || exit 1

# FILE read|refuse|either, by the columns structure, expected, observed
awk '
  function fields(line,   n, i, c, quoted, text) {
    n = 1; text = ""; quoted = 0
    for (i = 1; i <= length(line); ++i) {
      c = substr(line, i, 1)
      if (c == "\"") quoted = !quoted
      else if (c == "," && !quoted) { field[n++] = text; text = "" }
      else text = text c
    }
    field[n] = text
  }
  NR > 1 {
    fields($0)
    structure = field[3]; expected = field[4]; observed = field[6]
    verdict = "either"
    if (observed ~ /^reads/) verdict = "read"
    # No Standard MIDI File, or one whose parts are not to sound together, or
    # whose time cannot be counted
    if (structure ~ /^no MThd/ && structure !~ /RIFF/) verdict = "refuse"
    if (structure ~ /not an SMF|zero bytes/) verdict = "refuse"
    if (structure ~ /^format [2-9]|^format [1-9][0-9]/) verdict = "refuse"
    if (expected ~ /must be refused|^must fail: (format|track header)/) verdict = "refuse"
    if (expected ~ /refuse, no division by zero/) verdict = "refuse"
    if (expected ~ /format error|must fail: header length/) verdict = "either"
    print field[1], verdict
  }' "$takes/parser/index.csv" >verdicts

while read -r file verdict; do
  "$BOUNDED" $seconds $mebibytes "$BARTER" hear "$takes/$file" >"$out" 2>"$err" \
    </dev/null
  got=$?
  n_checked=$((n_checked + 1))
  case $verdict.$got in
    read.0 | refuse.2 | either.0 | either.2) ;;
    *) fail "$file: $got, but it is to $verdict: $(head -n 2 "$err")" ;;
  esac
  # One line for each thing that is wrong, with its place
  n_odd=$(grep -cvE "^barter: $takes/$file: (byte [0-9]+: |and [0-9]+ more|is empty|\
there is no note to hear|its tempo of |its last [0-9]+ note)" "$err")
  [ "$n_odd" -eq 0 ] || fail "$file said: $(head -n 3 "$err")"
  [ $got -eq 0 ] || [ "$(wc -l <"$err")" -eq 1 ] || fail "$file: more than a line"
done <verdicts
check "there were some of each" \
  test "$(cut -d' ' -f2 verdicts | sort | uniq -c | awk '$1 >= 20' | wc -l)" -eq 3

finish
