#!/bin/sh
# Music that nobody made for barter: every MIDI file of the Debian package
# openttd-openmsx (GPL-2) is heard and answered.

. "$(dirname "$0")/lib.sh"
seconds=20
mebibytes=200
files=$(dpkg -L openttd-openmsx 2>/dev/null | grep '\.mid$')
[ -n "$files" ] || skip "openttd-openmsx is not installed"
cd "$work" || exit 1

for file in $files; do
  plain 0 answer "$file" --out one.mid || continue
  check "its turns are told: $file" grep -q '^Turn 1, bars 1-4, you$' "$out"
  # What the reader has against a file says where
  check "a place in $file" \
    test "$(grep -vc "^barter: $file: byte [0-9]*: " "$err")" -eq 0
  plain 0 hear "$file"
done
check "there were some" test "$(echo "$files" | wc -l)" -gt 20

finish
