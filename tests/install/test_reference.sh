#!/bin/sh
# The manual, the menu entry and the metadata, each read by its own tool:
# mandoc (mdoc), desktop-file-validate (Desktop Entry Specification 1.5),
# appstreamcli (AppStream 0.16), xmllint and rsvg-convert.

. "$(dirname "$0")/../app/lib.sh"
export BARTER_CONFIG="$SOURCE/config"
cd "$work" || exit 1
DESTDIR=$work/root "$CMAKE" --install "$BUILD" --prefix /usr >log 2>&1
share=root/usr/share
n_tools=0

has() {
  command -v "$1" >/dev/null && n_tools=$((n_tools + 1)) ||
    { echo "$1 is not installed: not checked by it"; false; }
}

quiet --help
commands=$(awk '/^  [a-z]/ && $1 != "barter" { print $1 }' "$out")
check "there are commands" test "$(echo "$commands" | wc -l)" -gt 10
for command in $commands; do
  page=$share/man/man1/barter-$command.1.gz
  check "$command has a page" test -s "$page"
  gzip -dc "$page" >page
  check "the manual knows $command" sh -c \
    'gzip -dc "$1" | grep -q "^.Xr barter-$2 1"' sh "$share/man/man1/barter.1.gz" "$command"
  # All that its help tells stands there
  quiet "$command" --help
  sed -n 's/^  --\([a-z-]*\) .*/\1/p' "$out" >options
  check "$command has options" test -s options
  while read -r option; do
    check "the page of $command tells of --$option" \
      grep -q "^.It Fl -$option\( \|\$\)" page
  done <options
done
check "and no page but these" test \
  "$(find $share/man/man1 -name 'barter-*' | wc -l)" -eq "$(echo "$commands" | wc -l)"

if has mandoc; then
  for page in "$share"/man/man1/*.gz; do
    gzip -dc "$page" >page.1
    mandoc -T lint -W warning page.1 >faults 2>&1
    check "$page: $(head -n 1 faults)" test ! -s faults
  done
fi
if has desktop-file-validate; then
  desktop-file-validate $share/applications/barter.desktop >faults 2>&1
  check "the menu entry: $(cat faults)" test ! -s faults
fi
check "the menu entry runs a command there is" sh -c \
  'grep -qx "$(sed -n "s/^Exec=barter //p" "$1")" "$2"' sh \
  $share/applications/barter.desktop /dev/fd/3 3<<EOF
$commands
EOF
if has appstreamcli; then
  appstreamcli validate --no-net $share/metainfo/*.xml >faults 2>&1
  check "the metadata: $(cat faults)" test $? -eq 0
fi
if has rsvg-convert; then
  check "the icon is a picture" rsvg-convert -o icon.png \
    $share/icons/hicolor/scalable/apps/barter.svg
fi

[ $n_tools -gt 0 ] || skip "none of the tools is installed"
finish
