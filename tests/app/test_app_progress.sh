#!/bin/sh
# The way come, in words, as JSON and as a picture; and a program killed while
# it keeps a session.

. "$(dirname "$0")/lib.sh"
phrases 3 4 | take "$work/take.mid"
cd "$work" || exit 1
journal=$XDG_DATA_HOME/barter/learners/me/journal.db

# What cannot be kept is not begun
refused 3 'nowhere/x.mid: cannot be written' answer take.mid --practice --out nowhere/x.mid
check "nothing was practised for it" test ! -e "$journal"

# ... and what was not kept was no practice, in whatever way it failed
mkdir folder.mid
refused 3 'folder.mid: ' answer take.mid --practice --out folder.mid
quiet progress
check "nothing was practised" grep -q 'No practice yet' "$out"

quiet answer take.mid --practice
quiet answer take.mid --practice
quiet progress
check "days" grep -q '^  days  *1 of the last 7, 1 of the last 28; 1 in all' "$out"
check "in a row" grep -q '^  in a row  *1 day;' "$out"
check "80 columns" test "$(awk '{ if (length > 80) n++ } END { print n + 0 }' "$out")" -eq 0
today=$(date +%Y-%m-%d)
check "a row for today" grep -q "^  $today  *1 " "$out"
# Why turns did not come off is counted, one by one
if command -v sqlite3 >/dev/null; then
  cp "$journal" kept.db
  sqlite3 "$journal" "INSERT OR IGNORE INTO line (text) VALUES
      ('It did not land, left no space.'), ('It left no space, was not heard.');
    UPDATE turn SET success = 1 WHERE by_player;
    UPDATE turn SET success = 0,
      why = (SELECT number FROM line WHERE text = 'It did not land, left no space.')
      WHERE by_player AND number = 1;
    UPDATE turn SET success = 0,
      why = (SELECT number FROM line WHERE text = 'It left no space, was not heard.')
      WHERE by_player AND number = 3;"
  sqlite3 "$journal" "UPDATE turn SET moved = 'Back to ornament 3: 10 of 14'
    || ' turns came off, where 80 in a hundred are meant to.'
    WHERE by_player AND number = 1"
  quiet progress
  check "moves in 80 columns, too" test "$(awk 'length > 80' "$out" | wc -l)" -eq 0
  check "whole" grep -q '^  20[0-9-]* *Back to ornament 3: 10 of 14' "$out"
  check "counted" sh -c "tr -s ' \n' ' ' <'$out' | grep -qF \
    'Of 6 turns in 28 days 4 did not come off: 2 did not land, 4 left no space.'"
  run 0 progress --report -
  cp "$out" counted.json
  check "by name" test "$("$READ_JSON" missing not_landed <counted.json)$(
    "$READ_JSON" missing left_no_space <counted.json)" = 24
  sqlite3 "$journal" 'UPDATE session SET day = day - 28'
  quiet progress
  check "only what was lately" sh -c "! grep -q 'did not come off' '$out'"
  cp kept.db "$journal"
fi

run 0 progress --report -
cp "$out" report.json
for pair in barter-progress:format 1:version 2:sessions 6:turns me:learner \
  "$today:today" 1:by_day 1:by_week 1:by_month; do
  n_checked=$((n_checked + 1))
  got=$("$READ_JSON" "${pair##*:}" <report.json)
  [ "$got" = "${pair%:*}" ] || fail "${pair##*:} is '$got', not '${pair%:*}'"
done
check "minutes: 12 turns of 4 bars at 120, 8 s each" \
  test "$("$READ_JSON" minutes all <report.json)" = 1.6
check "it still talks" grep -q '^  days' "$err"

# Pictures: by their first bytes, and labelled
for kind in svg png pdf; do
  quiet progress --picture "p.$kind"
  check "p.$kind is there" test -s "p.$kind"
  check "p.$kind is told of" grep -q "^The picture is in p.$kind\.\$" "$out"
done
check "PNG" test "$(head -c 8 p.png | od -An -tx1 | tr -d ' \n')" = \
  89504e470d0a1a0a
check "PDF" test "$(head -c 5 p.pdf)" = %PDF-
check "SVG" grep -q '</svg>' p.svg
# The share that is aimed at, 80 % or the teacher's, stands beside what came off
if command -v pdftotext >/dev/null; then
  pdftotext p.pdf p.txt
  check "what is aimed at" grep -q 'aim: 80 %' p.txt
  quiet learner set me target=65
  quiet progress --picture p.pdf
  pdftotext p.pdf p.txt
  check "what a teacher aims at" grep -q 'aim: 65 %' p.txt
fi
# Over two years: what came earlier, and what was left out
if command -v sqlite3 >/dev/null; then
  cp "$journal" kept.db
  sqlite3 "$journal" "UPDATE session SET day = 20000 - 700 * (number = 1)"
  quiet progress
  check "months have no day" grep -qE '^  20[0-9]{2}-[0-9]{2}  ' "$out"
  check "what was left out" grep -q '^  (22 months without)$' "$out" # 2022-12 to 2024-09
  if command -v pdftotext >/dev/null; then
    quiet progress --picture p.pdf
    pdftotext p.pdf p.txt
    check "from when on" grep -q '^Practice from 2022-11-04 to ' p.txt
  fi
  for n in 1 2 3 4 5 6 7 8 9 10 11 12; do
    quiet answer take.mid --practice
  done
  sqlite3 "$journal" "UPDATE session SET day = 20000 + 31 * number"
  quiet progress
  check "how many more there were" grep -q '^  (2 more before)$' "$out" # 14, a month each
  cp kept.db "$journal"
fi
refused 2 'p.jpg: the end of the name' progress --picture p.jpg
refused 3 'nowhere/p.svg: cannot be written' progress --picture nowhere/p.svg
check "before anything is told" test ! -s "$out"
refused 2 'it is to hold a picture' progress --picture p.wav
check "before anything is told, too" test ! -s "$out"
refused 2 'takes no file' progress take.mid
refused 2 'no learner nobody' progress --learner nobody

# Killed at any moment: every turn that was told of is there, and all is whole.
# stdbuf (GNU) has each line told at once, as on a screen.
start_writer() {
  ASAN_OPTIONS="verify_asan_link_order=0:$ASAN_OPTIONS" \
    stdbuf -oL "$BARTER" answer long.mid --practice --bars 1 >told.txt 2>killed.txt &
  writer=$!
}

now_ms() {
  echo $(($(date +%s%N) / 1000000))
}

if command -v sqlite3 >/dev/null && command -v stdbuf >/dev/null; then
  phrases 60 1 | take "$work/long.mid"
  begin=$(now_ms)
  start_writer
  wait $writer
  whole=$(($(now_ms) - begin)) # What it takes, not killed
  n_killed=0
  i=0
  while [ $i -lt 30 ]; do
    rm -rf "$XDG_DATA_HOME/barter"
    start_writer
    ms=$((whole * (20 + i * 77 % 70) / 100))
    sleep "$(printf '%d.%03d' $((ms / 1000)) $((ms % 1000)))"
    kill -9 $writer 2>/dev/null
    wait $writer 2>/dev/null
    i=$((i + 1))
    [ -e "$journal" ] || continue
    told=$(grep -c '^Turn ' told.txt)
    kept=$(sqlite3 "$journal" 'SELECT count(*) FROM turn' 2>/dev/null)
    check "whole" test "$(sqlite3 "$journal" 'PRAGMA integrity_check')" = ok
    check "killed: $told told, ${kept:-0} kept" test "${kept:-0}" -ge "$told"
    quiet progress
    [ "$told" -eq 0 ] || n_killed=$((n_killed + 1))
  done
  check "some were killed while they told" test $n_killed -gt 0
  echo "$n_killed of 30 were killed while they told"
fi

finish
