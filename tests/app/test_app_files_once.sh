#!/bin/sh
# No run opens a settings file twice, whatever it is for: strace tells what was
# opened. Nor is a folder asked for room when notes are engraved. Where nobody
# may be traced the test is skipped.

. "$(dirname "$0")/lib.sh"
command -v strace >/dev/null || skip "strace is not installed"
strace -o "$work/trace" -e trace=openat true 2>/dev/null ||
  skip "the system lets no process be traced"
export ASAN_OPTIONS="detect_leaks=0:$ASAN_OPTIONS" # It traces, too

phrases 3 2 | take "$work/take.mid"
cd "$work" || exit 1
own=$XDG_CONFIG_HOME/barter
mkdir -p "$own/charts"
cp "$BARTER_CONFIG/barter.cfg" "$own"
echo 'lag_ms = 3.0;' >"$own/equipment.cfg"
cat >"$own/charts/short.cfg" <<'END'
title = "Short";
meter = "4/4";
key   = "C major";
scale = "major";
bars  = [ "I", "V7" ];
END
run 0 learner add ana

# opens FILES WORDS...: barter does well, opens all of these (a list of names)
# and no settings file more than once
opens() {
  files=$1
  shift
  n_checked=$((n_checked + 1))
  strace -f -o trace -e trace=open,openat "$BARTER" "$@" \
    >"$out" 2>"$err" </dev/null || fail "barter $*: $(head -n 3 "$err")"
  grep -v ENOENT trace | grep -o '"[^"]*\.cfg"' | tr -d '"' | sort >opened
  for file in $files; do
    grep -q "/$file\$" opened || fail "barter $* opened no $file"
  done
  uniq -d opened >twice
  [ ! -s twice ] || fail "barter $* opened twice: $(tr '\n' ' ' <twice)"
}

both='barter.cfg equipment.cfg'
all="$both learner.cfg ladder.cfg sentences.cfg blues.cfg swing.cfg"
opens "$all" answer take.mid --practice --learner ana --out first.mid
opens "$all" answer take.mid --learner ana
opens 'ladder.cfg sentences.cfg blues.cfg swing.cfg' \
  answer --replay first.mid --out again.mid
opens "$all" hear take.mid --learner ana
opens "$all" ideas take.mid --learner ana --keep 1
opens "$all" ideas --kept --learner ana
opens "$all" ideas 1 --kept --learner ana
opens "$all" warmup --learner ana
opens "$all" sheet --learner ana --out sheet.svg
opens "$all" settings --learner ana
opens "$both learner.cfg" progress --learner ana
opens "$both learner.cfg" learner show ana
opens "$both" learner add bo
opens 'blues.cfg short.cfg' charts
opens 'ladder.cfg sentences.cfg blues.cfg swing.cfg' demo --out demo.mid
opens "$both learner.cfg ladder.cfg sentences.cfg short.cfg swing.cfg" \
  trade --learner ana --chart short --tempo 320 --bars 1 --choruses 1 \
  --in none --out none --record none

if command -v abcm2ps >/dev/null; then
  opens "$both" answer take.mid --learner ana --score notes.pdf
  check "it is engraved" test -s notes.pdf
  check "engraving needs no room in /tmp" \
    sh -c "! grep -qE '\"(/tmp\"|/tmp/tmpf)' trace"
fi
finish
