#!/bin/sh
# clang.sh BUILD: clang's warnings, as errors, over every source of the tests.
# They are compiled by gcc alone; clang reads them with the same options.
set -eu
build=$1
passed=$build/clang-read-all
command -v clang >/dev/null || { echo "skipped: there is no clang"; exit 77; }

here=$(cd "$(dirname "$0")/../.." && pwd)
cd "$here"
if [ -e "$passed" ] &&
  [ -z "$(find core profiles responder tests -newer "$passed" \
    \( -name '*.[ch]' -o -name CMakeLists.txt \) -print)" ]; then
  echo "nothing changed since it passed"
  exit 0
fi

# One command a line: the compiler and the file to write are ours to choose
sed -n 's/^ *"command": "\(.*\)",*$/\1/p' "$build/compile_commands.json" |
  grep -E " -c $here/tests/" |
  sed 's/\\"/"/g
    s/\\\\/\\/g
    s/^[^ ]*ccache //
    s/^[^ ]* /clang -fsyntax-only /
    s/ -fsanitize=[^ ]*//g
    s/ -fno-sanitize[^ ]*//g
    s/ -o [^ ]* -c / /' |
  sort -u >"$build/clang-commands"
[ -s "$build/clang-commands" ]

cd "$build"
touch now
tr '\n' '\0' <clang-commands | xargs -0 -n 1 -P "$(nproc)" sh -c
mv now "$passed"
