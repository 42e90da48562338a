#!/bin/sh
# Through all places of the page in headless Chromium, with axe-core (of the npm
# registry) as the independent checker where it can be had.
#
#   sh test_page_places.sh FILES-OF-THE-PAGE; what is fetched stays in the folder
#   that it runs in. 77: skipped.

here=$(cd "$(dirname "$0")" && pwd)
axe=axe-core
version=4.10.3
checker=$PWD/$axe-$version

for program in node chromium chromedriver; do
  command -v $program >/dev/null ||
    { echo "skipped: $program is missing"; exit 77; }
done
if [ ! -e "$checker/package/axe.min.js" ] && command -v npm >/dev/null; then
  (mkdir -p "$checker" && cd "$checker" &&
    timeout 120 npm pack --silent $axe@$version &&
    tar xzf $axe-$version.tgz) >/dev/null 2>&1
fi
if [ -e "$checker/package/axe.min.js" ]; then
  AXE=$checker/package/axe.min.js
  export AXE
else
  echo "accessibility is not checked: the registry does not give $axe"
fi
exec timeout 240 node --test --test-concurrency=1 "$here/places.test.mjs"
