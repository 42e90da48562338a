#!/bin/sh
# Sheets: read again by poppler's pdftotext, pdfinfo and pdffonts, and by the
# heads of the files (PNG, 3rd edition, 5.2; A4 and Letter as pdfinfo has them).

. "$(dirname "$0")/lib.sh"
cd "$work" || exit 1
own=$XDG_CONFIG_HOME/barter

has_poppler=yes
for tool in pdftotext pdfinfo pdffonts; do
  command -v $tool >/dev/null || has_poppler=no
done

# says PATTERN: on the page stands a line like that
says() {
  grep -q -- "$1" page.txt
}

# page FILE.pdf: its text and what is told of it, in page.txt and info.txt
page() {
  pdftotext -layout "$1" page.txt && pdfinfo "$1" >info.txt &&
    pdffonts "$1" >fonts.txt
}

if [ $has_poppler = yes ]; then
  # Every shipped chart, in sharps or in flats: title and key are text
  next='E Ab'
  for file in "$BARTER_CONFIG"/charts/*.cfg; do
    name=$(basename "$file" .cfg)
    title=$(sed -n 's/^title = "\(.*\)";.*/\1/p' "$file")
    key=${next%% *}
    next="${next#* } $key"
    quiet sheet --chart "$name" --key $key --out "$name.pdf" || continue
    printed=$(echo $key | sed 's/b/♭/')
    check "$name is a PDF" page "$name.pdf"
    check "$name has its title" says "^ *$title"
    check "$name has its key" says "^ *$printed m[a-z]*, [34]/4, "
    check "$name is called so" grep -q "^Title: *$title in $printed m" info.txt
    check "$name takes two pages at most" grep -q '^Pages: *[12]$' info.txt
    check "$name brings its letters" awk '
      NR > 2 && $(NF - 4) != "yes" { bad = 1 } END { exit bad || NR < 3 }
    ' fonts.txt
  done
  quiet sheet --chart blues --key Eb --rung 6 --out blues.pdf
  page blues.pdf
  check "the key" says '^E♭ major, 4/4, swing at 100'
  for chord in 'E♭7' 'A♭7' 'B♭7' 'E♭ G B♭ D♭' 'E♭ major blues'; do
    check "$chord" says "$chord"
  done
  check "how eighths go" says 'swung eighths, long to short about 1\.[3-9] : 1'
  check "the task" says "Today's aim, "
  check "the caution" says 'stop if anything hurts'
  pdftotext -layout sixteen-bar.pdf page.txt
  check "whose turn it is" says '^ *partner$'
  page blues.pdf
  check "A4" grep -q '^Page size: *595.* x 841.*A4' info.txt
  quiet sheet --paper Letter --out letter.pdf
  page letter.pdf
  check "Letter" grep -q '^Page size: *612 x 792.*letter' info.txt
  quiet sheet --chart blues --feel straight --rung 3 --out straight.pdf
  page straight.pdf
  check "even where the feel is" says 'even eighths'

  # Of a person's own: a title in other letters, and many bars
  mkdir -p "$own/charts"
  {
    printf 'title = "Für später";\nmeter = "12/8";\nkey = "D minor";\n'
    printf 'feel = "slow12";\nscale = "by chord";\nbars = [ "i7"'
    for bar in $(seq 2 200); do printf ', "iv7 V7b9"'; done
    printf ' ];\n'
  } >"$own/charts/long.cfg"
  quiet sheet --chart long --out long.pdf
  page long.pdf
  check "its title" says 'Für später'
  check "a row for each four bars" test \
    "$(grep -c '^ *[0-9]*[13579]\( \|$\)' page.txt)" -ge 50
  check "A7♭9" says 'A7♭9'
  check "more pages" grep -q '^Pages: *[3-9]$' info.txt
else
  echo "without poppler: what stands on the pages is not read"
fi

# Pictures: a page a file
quiet sheet --chart one-chord --out one.svg
check "one page keeps its name" grep -q '</svg>' one.svg
quiet sheet --chart sixteen-bar --key Gb --out two.png
check "it says how many" grep -q '2 pages' "$out"
for file in two-1.png two-2.png; do
  check "$file" test "$(head -c 4 $file | tail -c 3)" = PNG
done
check "no third" test ! -e two-3.png -a ! -e two.png
quiet sheet --chart blues --out a.svg
cp a.svg b.svg
quiet sheet --chart blues --out a.svg
same "the same page again" a.svg b.svg
quiet learner add ada --name 'Ada Ö'
quiet sheet --learner ada --chart blues --out ada.svg

# Whose it is, of which day, and what it is for
settings=$XDG_DATA_HOME/barter/learners/ada/learner.cfg
quiet learner set ada 'goals=leave more space; land well'
quiet learner add bo
quiet learner add boxed --name "$(printf 'Bo \364\217\277\275')"
warned 'has letters that the page.s face lacks' sheet --learner boxed --out x.pdf
quiet learner set boxed "name=$(printf '\330\242\330\257\330\247')"
plain 0 sheet --learner boxed --out x.pdf
check "what runs from the right" grep -qE 'right to left|lacks' "$err"
quiet learner remove boxed --for-good
quiet learner add long --name 'The one from next door who always sits at the left, by it'
quiet sheet --learner long --date 2026-02-03 --chart sixteen-bar --key Eb --out long.pdf
quiet learner remove long --for-good
quiet sheet --learner ada --date 2026-02-03 --out ada.pdf
quiet sheet --all --date 2026-02-03 --chart blues-jazz --key C \
  --out all.pdf
check "it says of how many" grep -q '^2 learners, [0-9] pages' "$out"
quiet sheet --rhythms 10 --rung rhythm=5 --seed 3 --learner bo --out r.pdf
check "it says what they are" grep -q '^Rhythms: 1 page' "$out"
quiet sheet --rhythms 10 --rung rhythm=5 --seed 3 --out r3.svg
quiet sheet --rhythms 10 --rung rhythm=5 --seed 3 --out r3-again.svg
quiet sheet --rhythms 10 --rung rhythm=5 --seed 4 --out r4.svg
same "the same rhythms again" r3.svg r3-again.svg
differ "another seed, other rhythms" r3.svg r4.svg
if [ $has_poppler = yes ]; then
  page ada.pdf
  check "name and date" says 'Ada Ö, 2026-02-03$'
  check "goals" says '^Goals: leave more space$'
  check "each on a line of its own" says '^ *land well$'
  page long.pdf
  check "a long name on each leaf" test "$(
    grep -c 'The one from next door.* by it' page.txt)" -eq 2
  page all.pdf
  check "one" says 'Ada Ö, 2026-02-03$'
  check "and the other learner" says '  bo, 2026-02-03$'
  check "a page of each at least" grep -q '^Pages: *[2-4]$' info.txt
  check "the blues scale of the key" says 'C minor blues, over every chord'
  check "no other is" test "$(grep -c 'over every chord' page.txt)" -eq 2
  quiet sheet --chart waltz --key C --out waltz.pdf
  page waltz.pdf
  check "not where it does not belong" sh -c "! grep -q 'minor blues' page.txt"
  page sixteen-bar.pdf
  check "its second leaf says what it is" test "$(grep -c 'Sixteen' page.txt)" -ge 2
  page r.pdf
  check "a title of its own" says '^Rhythms in 4/4 .*bo, [0-9-]*$'
  check "how to have them again" says '^rung 5 of rhythm, triplets too; .*; seed 3$'
  check "and what it is called" grep -q '^Title: *Rhythms in 4/4' info.txt
  check "a page of rhythms" says '^Rhythms to speak, clap and play'
  check "numbered" says '^ *10$'
  check "and nothing else" sh -c "! grep -q 'The form' page.txt"
fi
printf 'split = ;\n' >"$settings"
plain 2 sheet --all --out some.pdf
check "who is at fault is left out" grep -q 'ada is left out$' "$err"
check "and the others are there" test -s some.pdf

# Refused, with nothing written
refused 2 'needs --out' sheet
refused 2 '\.svg, \.png or \.pdf' sheet --out page.jpg
refused 2 'neither a4 nor letter' sheet --paper folio --out page.pdf
refused 2 'takes no file' sheet take.mid --out page.pdf
refused 2 'there is no chart' sheet --chart nowhere --out page.pdf
refused 2 'no note is called so here' sheet --key H --out page.pdf
refused 3 'cannot be written' sheet --out nowhere/page.pdf
refused 2 'needs --out FILE.pdf' sheet --all --out page.svg
refused 2 '\-\-all is of everybody' sheet --all --learner bo --out page.pdf
refused 2 'not a number from 1 to 24' sheet --rhythms 25 --out page.pdf
refused 2 'is no day' sheet --date 2026-02-30 --out page.pdf
real=$BARTER
printf '#!/bin/sh\nPATH=/nowhere exec "%s" "$@"\n' "$real" >nowhere.sh
chmod +x nowhere.sh
BARTER=$PWD/nowhere.sh
refused 2 'install the package abcm2ps' sheet --out page.pdf
BARTER=$real
check "nothing is left" test ! -e page.jpg -a ! -e page.pdf

finish
