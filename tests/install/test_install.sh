#!/bin/sh
# Installed under any prefix, moved, and removed again. The folders are those of
# the GNU Coding Standards and the XDG Base Directory Specification 0.8.

. "$(dirname "$0")/../app/lib.sh"
unset BARTER_CONFIG
export XDG_DATA_DIRS="$work/nowhere"
cd "$work" || exit 1

DESTDIR=$work/root "$CMAKE" --install "$BUILD" --prefix /opt/a >log 2>&1
check "it is installed: $(tail -n 2 log)" test -x root/opt/a/bin/barter
mv root/opt/a "moved here"
prefix="$work/moved here"
BARTER=$prefix/bin/barter

# It finds its files and its sound beside it, wherever that is
quiet charts
check "its charts are there" grep -q '^blues ' "$out"
quiet settings
check "its settings are there" grep -q "$prefix/share/barter/barter.cfg" "$out"
if [ -r /usr/share/sounds/sf2/TimGM6mb.sf2 ]; then
  XDG_DATA_DIRS=/usr/share quiet demo --wav demo.wav --out demo.mid
  check "it sounds" test -s demo.wav
  mv "$prefix/lib" lib # Where a multiarch folder is, it is in there
  XDG_DATA_DIRS=/usr/share refused 2 'barter-sound.so.*install it again' \
    demo --wav other.wav --out demo.mid
  mv lib "$prefix/lib"
fi
mv "$prefix/lib" lib
refused 2 'barter-page.so.*install it again' open --no-browser --in none \
  --out none
mv lib "$prefix/lib"

# Without the folder beside it, under the data folders; else a line that helps
mv "$prefix/share/barter" elsewhere
refused 2 'moved here/share/barter.*BARTER_CONFIG' demo
mkdir -p data
mv elsewhere data/barter
XDG_DATA_DIRS="data:$work/data" quiet charts
check "its charts are found among data" grep -q '^blues ' "$out"
mv data/barter "$prefix/share/barter"

# No place of where it was built, but for the sources' names: the undefined
# sanitizer of gcc keeps those whole. tests/package asks a build without it.
strings_of() {
  find "$prefix" -type f | while read -r file; do
    case $file in
      *.gz) gzip -dc "$file" ;;
      *) cat "$file" ;;
    esac
  done
}
strings_of | tr '\000' '\n' | grep -av '\.[chly]$' >all
check "all was read" test "$(wc -c <all)" -gt 1000000
for place in "$SOURCE" "$BUILD"; do
  check "$place is not in it" sh -c '! grep -qaF "$1" all' sh "$place"
done

# One version: the program's, the changelog's, the metadata's
quiet --version
version=$(sed -n '1s/^barter //p' "$out")
check "the changelog's first is $version" test "$(gzip -dc \
  "$prefix/share/doc/barter/changelog.gz" |
  sed -n '1s/^barter (\([^)]*\)).*/\1/p')" = "$version"
metadata=$(ls "$prefix"/share/metainfo/*.metainfo.xml)
check "and the metadata's" grep -q "release version=\"$version\"" "$metadata"
check "which go by their id" test "$(basename "$metadata" .metainfo.xml)" = \
  "$(sed -n 's/.*<id>\(.*\)<\/id>.*/\1/p' "$metadata")"
for library in libconfig fluidsynth librsvg-2.0 sqlite3 libwebsockets; do
  check "it tells of $library" grep -qE "^  $library [0-9]" "$out"
done

# Removed, with nothing left but what a person put there
mv "$prefix" root/opt/a
cp root/opt/a/share/barter/charts/blues.cfg root/opt/a/share/barter/charts/own.cfg
DESTDIR=$work/root "$CMAKE" --build "$BUILD" --target uninstall >log 2>&1
check "it is removed: $(tail -n 2 log)" test ! -e root/opt/a/bin/barter
check "what is left is a person's" test \
  "$(find root -type f -o -type l)" = root/opt/a/share/barter/charts/own.cfg
check "no folder of its own is left empty" test \
  -z "$(find root -type d -path '*/barter*' -empty)"

finish
