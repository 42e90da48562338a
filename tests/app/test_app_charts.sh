#!/bin/sh
# Charts: the shipped ones in all keys, a person's own before them, and `check`.

. "$(dirname "$0")/lib.sh"
phrases 2 4 | take "$work/take.mid"
cd "$work" || exit 1
own=$XDG_CONFIG_HOME/barter

# Every shipped chart in the twelve keys of the circle of fifths, a minor one by
# the names that need the fewest accidentals
quiet charts
cp "$out" charts.txt
major='C G D A E B F# Db Ab Eb Bb F'
minor='A E B F# C# G# Eb Bb F C G D'
for file in "$BARTER_CONFIG"/charts/*.cfg; do
  name=$(basename "$file" .cfg)
  check "charts lists $name" grep -q "^$name  *[0-9]* bars" charts.txt
  quiet check "$file"
  if grep -q '^key .*minor' "$file"; then
    mode=minor keys=$minor
  else
    mode=major keys=$major
  fi
  for key in $keys; do
    run 0 answer take.mid --chart "$name" --key "$key" --choruses 1 --report - ||
      continue
    check "$name in $key" test "$("$READ_JSON" key <"$out")" = "$key $mode"
  done
done

# A person's own chart goes before the shipped one of its name
mkdir -p "$own/charts" "$own/feels"
sed 's/^title .*/title = "My blues";/' "$BARTER_CONFIG/charts/blues.cfg" \
  >"$own/charts/blues.cfg"
sed 's/^title .*/title = "My vamp";/' "$BARTER_CONFIG/charts/modal-vamp.cfg" \
  >"$own/charts/mine.cfg"
quiet answer take.mid
check "the own one is taken" grep -q '^My blues, in C major' "$out"
quiet answer take.mid --chart mine
check "by its name" grep -q '^My vamp, in D minor' "$out"
quiet answer take.mid --chart "$BARTER_CONFIG/charts/blues.cfg"
check "a path is a path" grep -q '^Twelve-bar blues' "$out"
quiet charts
check "it is said whose it is" grep -q '^blues .*My blues *(your own)' "$out"
check "what a feel is for" grep -q '^waltz  *for 3/4$' "$out"
check "scales by name" grep -q '^by chord, major, natural minor' "$out"
check "to the last" grep -q 'chromatic$' "$out"
check "once" test "$(grep -c '^blues ' "$out")" -eq 1

# Demo is not changed by what a person likes
printf 'key = "F major";\nfirst = "partner";\nbars = 1;\nfeel = "bossa";\n' \
  >"$own/barter.cfg"
rm "$own/charts/blues.cfg"
quiet demo
cp "$out" demo.txt
rm "$own/barter.cfg"
quiet demo
same "the demo with other defaults" demo.txt "$out"

# Own defaults hold where the command line says nothing
printf 'key = "F major";\nfirst = "partner";\nbars = 2;\nchart = "waltz";\n' \
  >"$own/barter.cfg"
quiet answer take.mid
head -n 2 "$out" | tr '\n' ' ' >head.txt # Long lines are broken
check "own defaults" grep -q \
  '^Sixteen bars in three, in F major, 3/4, .*; your partner begins, 2 bars each' \
  head.txt
quiet answer take.mid --key G --first player --bars 4 --chart blues
check "the command line first" grep -q \
  '^Twelve-bar blues, in G major, 4/4, .*; you begin, 4 bars each' "$out"
quiet answer take.mid --chart blues-minor
check "a tonic for a minor chart" grep -q 'in F minor' "$out"
rm -r "$own"

# A chart that names no feel gets one for its meter
for row in 3/4:waltz 6/8:slow12 12/8:slow12 5/4:swing 2/4:swing; do
  printf 'title = "Own";\nmeter = "%s";\nkey = "A minor";\nscale = "minor blues";\nbars = ["i7", "iv7"];\n' \
    "${row%:*}" >own.cfg
  quiet answer take.mid --chart own.cfg
  check "a feel for ${row%:*}" grep -q ", ${row%:*}, ${row#*:} at" "$out"
done

# Check: line by line, what is wrong and what would be right
cat >many.cfg <<'END'
title = "Many";
meter = "4/4";
key = "C major";
scale = "by chrod";
bras = [ "I7" ];
bars = [ "I7", "X9" ];
END
plain 1 check many.cfg
for line in 4 5 6; do
  check "line $line" grep -q "^many.cfg:$line: " "$out"
done
check "bras is bars" grep -q 'many.cfg:5:.*bars' "$out"
echo '# to come' >empty.cfg
plain 1 check empty.cfg
check "nothing is set" grep -q '^empty.cfg: nothing is set here' "$out"
cp empty.cfg barter.cfg
quiet check barter.cfg
plain 1 check nowhere.cfg
check "it is not there" grep -q '^nowhere.cfg: ' "$out"
quiet check "$BARTER_CONFIG"/charts/*.cfg "$BARTER_CONFIG"/feels/*.cfg \
  "$BARTER_CONFIG/ladder.cfg" "$BARTER_CONFIG/barter.cfg"
check "all shipped files are good" test "$(grep -vc ': good$' "$out")" -eq 0

finish
