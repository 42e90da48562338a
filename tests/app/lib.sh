# What the end-to-end tests share. ctest sets where the programs are:
#   BARTER MAKE_TAKE READ_JSON BOUNDED LOUDNESS   and BARTER_CONFIG, the shipped folder
#
# A test sources this, calls what is below, and ends with `finish`.

set -u
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d "$PWD/test-XXXXXX") || exit 1
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM

# Nobody's own settings, and a sanitizer's fault told from any exit status
export HOME="$work/home" XDG_CONFIG_HOME="$work/home/.config"
export XDG_DATA_HOME="$work/home/.local/share"
export ASAN_OPTIONS="exitcode=99:quarantine_size_mb=16:${ASAN_OPTIONS:-}"
export UBSAN_OPTIONS="exitcode=99:${UBSAN_OPTIONS:-}"
mkdir -p "$XDG_CONFIG_HOME" "$XDG_DATA_HOME"

# The small sound font, read in no time, if it is installed
export XDG_DATA_DIRS="$work/share"
mkdir -p "$XDG_DATA_DIRS/soundfonts"
ln -s /usr/share/sounds/sf2/TimGM6mb.sf2 "$XDG_DATA_DIRS/soundfonts"

# Fontconfig, under Cairo, keeps what it read of its files to the end
echo 'leak:libfontconfig' >"$work/leaks"
export LSAN_OPTIONS="suppressions=$work/leaks:print_suppressions=0"

seconds=60 # What one run may take,
mebibytes=400 # and hold
n_failed=0
n_checked=0
out=$work/out
err=$work/err

fail() {
  n_failed=$((n_failed + 1))
  echo "FAILED: $*"
}

skip() {
  echo "skipped: $*"
  exit 77
}

# check WORDS COMMAND...: the command must do well
check() {
  words=$1
  shift
  n_checked=$((n_checked + 1))
  "$@" || fail "$words"
}

# run STATUS WORDS...: barter must end so; what it said is in $out and $err
run() {
  want=$1
  shift
  n_checked=$((n_checked + 1))
  "$BOUNDED" "$seconds" "$mebibytes" "$BARTER" "$@" >"$out" 2>"$err" </dev/null
  got=$?
  if [ $got -ne "$want" ]; then
    fail "barter $* ended with $got, not $want: $(head -n 3 "$err")"
    return 1
  fi
}

# plain STATUS WORDS...: and on standard error stand lines of its own only
plain() {
  run "$@" || return 1
  if grep -qv '^barter: ' "$err"; then
    fail "barter $* said: $(grep -v '^barter: ' "$err" | head -n 3)"
    return 1
  fi
}

# quiet WORDS...: done, with nothing on standard error
quiet() {
  plain 0 "$@" || return 1
  [ ! -s "$err" ] || fail "barter $* said: $(head -n 3 "$err")"
}

# refused STATUS PATTERN WORDS...: refused by one line that matches
refused() {
  status=$1
  pattern=$2
  shift 2
  plain "$status" "$@" || return 1
  if [ "$(wc -l <"$err")" -ne 1 ]; then
    fail "barter $* said $(wc -l <"$err") lines: $(head -n 3 "$err")"
  elif ! grep -q -- "$pattern" "$err"; then
    fail "barter $* did not say '$pattern' but: $(cat "$err")"
  fi
}

# warned PATTERN WORDS...: done, and one line that matches
warned() {
  pattern=$1
  shift
  plain 0 "$@" || return 1
  [ "$(grep -c -- "$pattern" "$err")" -eq 1 ] ||
    fail "barter $* did not say '$pattern' once but: $(cat "$err")"
}

# take FILE: make a take of the lines on standard input
take() {
  "$MAKE_TAKE" "$1" || exit 1
}

# phrases N BARS: N turns of the player's, one every 2 * BARS bars of 4/4, each
# a line of swung eighths with a pick-up and two notes of a left hand
phrases() {
  awk -v n="$1" -v bars="$2" 'BEGIN {
    print "track"; print "tempo 0 500000"; print "track player"
    split("67 64 67 69 67 64 63 60", pitch, " ")
    for (turn = 0; turn < n; ++turn) {
      at = turn * 2 * bars * 3840
      if (turn) print "note", at - 300, 280, 66 + turn % 3, 70, 0
      for (i = 0; i < 8 && i < 6 * bars; ++i)
        print "note", at + int(i / 2) * 960 + (i % 2) * 560 + 15 + 7 * (i % 4),
              300 + 40 * (i % 3), pitch[i + 1] + turn % 4, 60 + 5 * i, 0
      print "note", at + 960, 400, 48, 55, 0
      print "note", at + 960, 400, 52, 55, 0
    }
  }'
}

# is_json FILE: whole, and nothing behind it
is_json() {
  [ -r "$1" ] && "$READ_JSON" format <"$1" >/dev/null
}

# same WORDS A B: two files have the same bytes
same() {
  n_checked=$((n_checked + 1))
  cmp -s "$2" "$3" || fail "$1: $(cmp "$2" "$3" 2>&1)"
}

# differ WORDS A B
differ() {
  n_checked=$((n_checked + 1))
  ! cmp -s "$2" "$3" || fail "$1: the same bytes"
}

finish() {
  echo "$n_checked checks, $n_failed failed"
  [ $n_checked -gt 0 ] && [ $n_failed -eq 0 ]
  exit
}
