# What is engraved: by its ending, for every command that has notes. abcm2ps
# sets it, pdftotext, pdfinfo and file's own first bytes tell.
. "$(dirname "$0")/lib.sh"
cd "$work" || exit 1

command -v abcm2ps >/dev/null || skip "there is no abcm2ps"
phrases 2 2 | take take.mid

svg() {
  check "$1 is an SVG that scales" grep -q 'viewBox="0 0 ' "$1"
  check "$1 names no day" sh -c "! grep -q Creat '$1'"
}

quiet answer take.mid --score answer.svg
svg answer.svg
check "two parts are named" grep -q 'Partner' answer.svg
quiet hear take.mid --score hear.svg
svg hear.svg
check "nobody answers" sh -c "! grep -q Partner hear.svg"
quiet ideas take.mid --count 3 --score ideas.svg
svg ideas.svg
quiet warmup --date 2026-03-02 --score warmup.abc
check "a tune" grep -q '^X:1' warmup.abc
check "with fingers" grep -q '!1!' warmup.abc
check "the left hand in the bass" grep -q 'clef=bass' warmup.abc

# The same notes make the same picture
quiet answer take.mid --score again.svg
check "the same bytes" cmp -s answer.svg again.svg

quiet answer take.mid --score answer.pdf
check "a PDF" sh -c 'head -c 5 answer.pdf | grep -q "%PDF-"'
quiet answer take.mid --score answer.png
check "a PNG" sh -c 'head -c 4 answer.png | grep -q PNG'
if command -v pdfinfo >/dev/null; then
  check "of A4" sh -c 'pdfinfo answer.pdf | grep -q "A4"'
  check "drawn by lines" sh -c 'pdfimages -list answer.pdf | wc -l | grep -q "^2$"'
fi

# Faults: an ending that tells nothing, a place that is none, no engraver, one
# that hangs, one that makes nothing
refused 2 'ends in none of' answer take.mid --score notes.txt
refused 3 'nowhere' answer take.mid --score nowhere/a.svg
check "before anything is told" test ! -s "$out"
refused 2 'take the place of what was played' answer take.mid --score take.mid
real=$BARTER
printf '#!/bin/sh\nPATH=/nowhere exec "%s" "$@"\n' "$real" >nowhere.sh
chmod +x nowhere.sh
BARTER=$PWD/nowhere.sh
refused 2 'install the package abcm2ps' answer take.mid --score a.svg
BARTER=$real
mkdir bin
printf '#!/bin/sh\nexit 0\n' >bin/abcm2ps
chmod +x bin/abcm2ps
kept=$PATH
PATH=$PWD/bin:$kept
refused 2 'failed over the notes' answer take.mid --score a.svg
PATH=$kept
check "nothing half made" test ! -e a.svg

finish
