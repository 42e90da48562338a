#!/bin/sh
# Twenty ways on from each of ten real phrases (BARTER_TAKES), on several rungs:
# what holds for every answer holds as it is told.

. "$(dirname "$0")/lib.sh"
takes=${BARTER_TAKES:-}
[ -n "$takes" ] || skip "BARTER_TAKES is not set"
[ -d "$takes/fours" ] || skip "there is no $takes/fours"
cd "$work" || exit 1

# Of each development the last written note is [root] or chord tone, none is
# <left?>, likeness falls
told_right() {
  awk '
    function last_of(line, n, i, note) {
      n = split(line, word, " ")
      for (i = n; i > 2 && word[i] ~ /^~/; --i);
      return word[i]
    }
    / \(likeness [0-9]* %\)$/ {
      in_ways = 1
      like = $(NF - 1)
      if (n_ways++ && like + 0 > before + 0) bad = 1
      before = like
    }
    in_ways && /^    bar / { if ($0 ~ /\?>/) bad = 1; last = last_of($0) }
    in_ways && /^    To practise/ { if (last ~ /^[(<]/) bad = 1 }
    END { exit bad || n_ways < 3 }' "$1"
}

n=0
for chart in "$takes"/fours/*.cfg; do
  n=$((n + 1))
  [ $((n % 9)) -eq 1 ] || continue
  rung=$((n / 9 % 4 * 2 + 2))
  four=${chart%.cfg}
  plain 0 ideas "$four.mid" --chart "$chart" --rung $rung --count 20 || continue
  cp "$out" told.txt
  check "$four on $rung" told_right told.txt
done
check "ten and more were read" test $n_checked -ge 20

finish
