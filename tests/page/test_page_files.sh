#!/bin/sh
# The page's own files: their arithmetic under node, their types by TypeScript's
# checker (of the npm registry), their weight.
#
#   sh test_page_files.sh FILES-OF-THE-PAGE; what is fetched stays in the folder
#   that it runs in. 77: skipped.

here=$(cd "$(dirname "$0")" && pwd)
files=$(cd "$1" && pwd)
work=$PWD/page-files
typescript=5.9.3
failed=0

command -v node >/dev/null || { echo "skipped: node is missing"; exit 77; }
rm -rf "$work"
mkdir -p "$work/files" && cp "$files"/* "$work/files" || exit 1
echo '{"type": "module"}' >"$work/package.json"

PAGE=$work/files node --test "$here/arithmetic.test.mjs" >"$work/log" 2>&1 ||
  { grep -B2 -A12 '^not ok\|failureType' "$work/log" | head -n 60; failed=1; }

weight=$(cat "$files"/* | wc -c)
[ "$weight" -lt 200000 ] ||
  { echo "the page weighs $weight bytes, 200000 at most"; failed=1; }

for file in "$files"/*.js; do
  lines=$(wc -l <"$file")
  [ "$lines" -le 200 ] || { echo "$file: $lines lines"; failed=1; }
done
if grep -n 'innerHTML\|insertAdjacentHTML\|document\.write\|eval(' "$files"/*.js
then
  echo "text is put in as text"
  failed=1
fi
if grep -n 'https\?://' "$files"/* | grep -v 'www.w3.org/2000/svg'; then
  echo "nothing is fetched from elsewhere"
  failed=1
fi

checker=$PWD/typescript-$typescript
if [ ! -e "$checker/package/bin/tsc" ] && command -v npm >/dev/null; then
  (mkdir -p "$checker" && cd "$checker" &&
    timeout 120 npm pack --silent typescript@$typescript &&
    tar xzf typescript-$typescript.tgz) >/dev/null 2>&1
fi
if [ -e "$checker/package/bin/tsc" ]; then
  cat >"$work/tsconfig.json" <<END
{"compilerOptions": {"noEmit": true, "allowJs": true, "checkJs": true,
  "strict": true, "target": "es2023", "module": "es2022", "types": [],
  "lib": ["es2023", "dom", "dom.iterable"]}, "include": ["files/*.js"]}
END
  node "$checker/package/bin/tsc" -p "$work" || failed=1
else
  echo "types are not checked: the registry does not give typescript"
fi
exit $failed
