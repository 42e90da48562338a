#!/bin/sh
# symbols.sh NM TABLE ROOM=ARCHIVE...
#
# Fails if a pure room calls what TABLE does not allow it, or if any room keeps
# data at file scope that can be written.
set -eu
export LC_ALL=C

nm=$1
table=$2
shift 2

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

for pair in "$@"; do
  [ -r "${pair#*=}" ] || { echo "${pair#*=}: not built"; exit 2; }
done

for pair in "$@"; do
  "$nm" -P --defined-only "${pair#*=}" | awk 'NF > 1 { print $1 }'
done | sort -u >"$work/ours"

# Each line: room member symbol class section, without what the sanitizers add
added='^(___?(asan|ubsan|odr_asan)[_.]|_sub_[DI]_|__unnamed_|asan[.])'
for pair in "$@"; do
  "$nm" -A -f sysv "${pair#*=}" |
    awk -F'|' -v room="${pair%%=*}" -v added="$added" 'NF > 6 {
      gsub(/ /, "")
      n = split($1, name, ":")
      sub(/\.o$/, "", name[n - 1])
      if (name[n] !~ added)
        print room, name[n - 1], name[n], $3, $7
    }'
done >"$work/symbols"

awk -v ours="$work/ours" -v table="$table" '
  BEGIN {
    while ((getline < ours) > 0) is_ours[$1] = 1
    while ((getline < table) > 0) {
      if ($1 == "rooms") for (i = 2; i <= NF; ++i) is_pure[$i] = 1
      else if (NF && $1 !~ /^#/) allowed[$1] = "," $2 ","
    }
  }
  function may(room, symbol) {
    return allowed[symbol] == ",*," || index(allowed[symbol], "," room ",")
  }
  { ++n[$1] }
  $4 == "U" && is_pure[$1] && !($3 in is_ours) && !may($1, $3) {
    print $1 ": " $2 " calls " $3 ", which a pure room may not"
    ++n_faults
  }
  # Pointers that the loader fills in before it closes them are constant
  $4 ~ /^[BbDdCcGgSs]$/ && $5 !~ /^\.data\.rel\.ro/ {
    print $1 ": " $2 " keeps " $3 " at file scope; state is passed in"
    ++n_faults
  }
  END {
    for (room in is_pure)
      if (!n[room]) {
        print room ": no symbols were read"
        ++n_faults
      }
    exit n_faults > 0
  }' "$work/symbols"
