#!/bin/sh
# The built program, played through its page in headless Chromium. BARTER names
# it. 77: skipped.

here=$(cd "$(dirname "$0")" && pwd)

for program in node chromium chromedriver; do
  command -v $program >/dev/null ||
    { echo "skipped: $program is missing"; exit 77; }
done
exec timeout 240 node --test "$here/play.test.mjs"
