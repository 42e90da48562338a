#!/bin/sh
# finds_faults.sh CC NM: the lints must find each fault that is planted here.
set -eu

cc=$1
nm=$2
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir -p "$work/core/room" "$work/profiles" "$work/responder" "$work/tests"
n_missed=0

# expect TEXT: the lint's output names the fault
expect()
{
  if ! grep -qF -- "$1" "$work/said"; then
    echo "not found: $1"
    n_missed=$((n_missed + 1))
  fi
}

# refuses COMMAND...: it fails; what it says is kept
refuses()
{
  if "$@" >"$work/said" 2>&1; then
    echo "passed, but should not: $*"
    n_missed=$((n_missed + 1))
  fi
}

# accepts COMMAND...: it passes
accepts()
{
  if ! "$@" >"$work/said" 2>&1; then
    echo "failed, but should not: $*"
    cat "$work/said"
    n_missed=$((n_missed + 1))
  fi
}

# library NAME: an archive of the C source on standard input
library()
{
  cat >"$work/$1.c"
  "$cc" -O1 -fPIE $sanitize -c "$work/$1.c" -o "$work/$1.o"
  rm -f "$work/$1.a"
  ar rcs "$work/$1.a" "$work/$1.o"
}

# --- symbols.sh

printf 'rooms pure\nmemcpy * copies\n' >"$work/table"

# symbols_are_read OPTION...: compiled so
symbols_are_read()
{
sanitize=$*
library other <<'END'
int other(void) { return 1; }
END
library pure <<'END'
#include <string.h>
int other(void);
static const char* const names[] = {"a", "b"};
const char* name(int i) { return names[i]; }
void copy(char* to, const char* from, unsigned long n);
void copy(char* to, const char* from, unsigned long n)
{ memcpy(to, from, n + (unsigned long)other()); }
END
accepts sh "$here/symbols.sh" "$nm" "$work/table" \
  pure="$work/pure.a" other="$work/other.a"

library pure <<'END'
#include <stdlib.h>
#include <time.h>
static int count;
int shared = 3;
void* take(void);
const char* words[] = {"a", "b"}; // Pointers that can be written
void* take(void) { count += (int)time(0); return malloc((size_t)count); }
END
refuses sh "$here/symbols.sh" "$nm" "$work/table" pure="$work/pure.a"
expect "pure calls malloc"
expect "pure calls time"
expect "pure keeps count"
expect "pure keeps shared"
expect "pure keeps words"

: | library pure
refuses sh "$here/symbols.sh" "$nm" "$work/table" pure="$work/pure.a"
expect "pure: no symbols were read"
}
symbols_are_read
symbols_are_read -fsanitize=address,undefined

# --- text.sh

cat >"$work/core/room/good.h" <<'END'
/// @file core/room/good.h A header as it should be.

#ifndef CORE_ROOM_GOOD_H
#define CORE_ROOM_GOOD_H
#endif // CORE_ROOM_GOOD_H
END
cat >"$work/core/room/good.c" <<'END'
#include "core/room/good.h"

#include <sqlite3.h>

static const char said[] = "never call atoi() in a text";
END
accepts sh "$here/text.sh" "$work"

to_do=TO
cat >"$work/core/room/bad.h" <<'END'
/// @file core/elsewhere/bad.h Moved, but not told.
#ifndef BAD_H
#define BAD_H
#endif
END
printf 'int x;\n' >"$work/core/room/bare.h"
{
  printf '#include <sqlite3.h>\n#include "../room/bad.h"\n'
  printf '// %sDO: later\n#if 0\n#endif\n' "$to_do"
  printf 'int a; \n\tint b;\nint c;\r\nint d = atoi("1");\n'
} >"$work/core/room/bad.c"
refuses sh "$here/text.sh" "$work"
expect "core/room/bad.h:1: a header begins with /// @file core/room/bad.h"
expect "core/room/bad.h:2: the include guard of this file is CORE_ROOM_BAD_H"
expect "core/room/bare.h:1: no include guard"
expect "core/room/bad.c:1: a source includes its own header first"
expect "core/room/good.c:1: another file of core/room/ includes <sqlite3.h>"
expect "core/room/bad.c:2: an include is named from the top"
expect "core/room/bad.c:3: unfinished work"
expect "core/room/bad.c:4: code switched off"
expect "core/room/bad.c:6: blank at the end"
expect "core/room/bad.c:7: tab"
expect "core/room/bad.c:8: carriage return"
expect "core/room/bad.c:9: not used here: atoi"

[ "$n_missed" -eq 0 ]
