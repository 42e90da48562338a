#!/bin/sh
# text.sh DIR: reads the sources under DIR for what compilers let pass.
#
# Prints FILE:LINE: what is wrong, and fails if there is any. Long files and
# functions are only noted.
set -eu
export LC_ALL=C
cd "$1"

# Libraries that stay behind one file in each room; JSON is but a way to write
third_party='cairo.h fluidsynth.h libconfig.h rsvg.h rtmidi_c.h sqlite3.h'

faults=$(mktemp)
trap 'rm -f "$faults"' EXIT

sources()
{
  find core profiles responder tests -name '*.[ch]' | sort
}

sources | while read -r file; do
  awk -v file="$file" '
    function fault(text) { print file ":" FNR ": " text }
    function guard_of(path) {
      path = toupper(path)
      gsub(/[^A-Z0-9]/, "_", path)
      return path
    }
    BEGIN {
      is_test = file ~ /^tests/ # Their helpers are named as the test likes
      is_header = file ~ /\.h$/ && !is_test
    }

    is_header && FNR == 1 && index($0, "/// @file " file " ") != 1 {
      fault("a header begins with /// @file " file " and what it is")
    }
    is_header && /^#ifndef/ && !n_guards++ && $2 != guard_of(file) {
      fault("the include guard of this file is " guard_of(file))
    }
    !is_header && !is_test && /^#include/ && !n_includes++ {
      own = file
      sub(/c$/, "h", own)
      if ((getline line < own) > 0 && $2 != "\"" own "\"")
        fault("a source includes its own header first")
    }
    !is_test && /^#include "\.\./ { fault("an include is named from the top") }
    /TO[D]O|FIX[M]E/ { fault("unfinished work is not kept in comments") }
    /^ *# *if +0/ { fault("code switched off is taken out") }
    /[ \t]$/ { fault("blank at the end of the line") }
    /\t/ { fault("tab") }
    /\r/ { fault("carriage return") }
    {
      code = $0
      sub(/\/\/.*/, "", code)
      gsub(/"([^"\\]|\\.)*"/, "", code)
      if (!is_test && match(code, unsafe))
        fault("not used here: " substr(code, RSTART + 1, RLENGTH - 2))
    }
    BEGIN {
      unsafe = "[^A-Za-z0-9_](atoi|atol|atof|sprintf|vsprintf|strcpy|strcat" \
               "|strtok|gets|rand|srand|alloca|setjmp|longjmp)\\("
    }
    END { if (is_header && !n_guards) fault("no include guard") }
  ' "$file"
done >"$faults"

# FILE HEADER of each include of them, then what stands twice in one folder
for header in $third_party; do
  grep -rlE "^#include <(.*/)?$header>" --include='*.[ch]' \
    core profiles responder | sort | sed "s/\$/ $header/" || true
done | awk '
  {
    room = $1
    sub(/[^\/]*$/, "", room)
    if (n_users[room $2]++)
      print $1 ":1: another file of " room " includes <" $2 "> too"
  }' >>"$faults"

sources | while read -r file; do
  awk -v file="$file" '
    /^{/ { start = FNR }
    /^}/ && start && FNR - start > 60 {
      print "note: " file ":" start ": a function of " FNR - start - 1 " lines"
    }
    /^}/ { start = 0 }
    END { if (FNR > 500) print "note: " file ": " FNR " lines" }' "$file"
done

cat "$faults"
[ "$(sources | grep -c .)" -gt 0 ] && [ ! -s "$faults" ]
