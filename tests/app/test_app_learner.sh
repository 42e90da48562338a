#!/bin/sh
# People and their journals: kept, shown, taken along, brought together, removed.
# sqlite3 (the program) reads the journal beside us.

. "$(dirname "$0")/lib.sh"
phrases 3 4 | take "$work/take.mid"
cd "$work" || exit 1
people=$XDG_DATA_HOME/barter/learners

# rights WANT PATH: the rights of a file or folder
rights() {
  check "$2 is for its owner alone" test "$(stat -c %a "$2")" = "$1"
}

# sql WANT STATEMENT: what sqlite3 says of the journal of `me`
sql() {
  if command -v sqlite3 >/dev/null; then
    n_checked=$((n_checked + 1))
    got=$(sqlite3 "$people/me/journal.db" "$2")
    [ "$got" = "$1" ] || fail "$2 is '$got', not '$1'"
  fi
}

# Nobody is made before there is something to keep
quiet learner list
check "nobody yet" grep -q '^There is nobody yet' "$out"
quiet progress
check "no practice yet" grep -q 'No practice yet' "$out"
quiet answer take.mid
quiet hear take.mid
check "nothing was made" test ! -e "$XDG_DATA_HOME/barter"

# Practice is kept turn by turn, for `me` if nobody is named
quiet answer take.mid --practice
cp "$out" told.txt
rights 700 "$people"
rights 700 "$people/me"
rights 600 "$people/me/learner.cfg"
rights 600 "$people/me/journal.db"
quiet check "$people/me/learner.cfg"
sql ok 'PRAGMA integrity_check'
sql 6 'PRAGMA user_version'
sql "$(grep -c '^Turn ' told.txt)" 'SELECT count(*) FROM turn'
sql "$(grep -c '^Turn .*, you' told.txt)" \
  'SELECT count(*) FROM turn WHERE by_player'
sql 1 'SELECT count(*) FROM session'
sql "$(date +%Y-%m-%d)" "SELECT date(day * 86400, 'unixepoch') FROM session"
sql 'answer|Twelve-bar blues|C major|4/4|swing|120000|4' \
  'SELECT kind, chart, key, meter, feel, tempo, bars_per_turn FROM session'
# What is kept is what was said, word by word
if command -v sqlite3 >/dev/null; then
  sqlite3 "$people/me/journal.db" \
    'SELECT text FROM turn JOIN line ON line.number = turn.says
     WHERE by_player' >says.txt
  while read -r line; do
    n_checked=$((n_checked + 1))
    tr -s ' \n' ' ' <told.txt | grep -qF "$line" || fail "not told: $line"
  done <says.txt
fi

# Adding
quiet learner add ada --name 'Ada "the fifth"'
refused 2 'a learner ada already' learner add ada
refused 2 'no learner.s ID' learner add ../ada
refused 2 'no learner.s ID' learner add Ada
refused 2 'name is to be one line' learner add eve --name ''
check "none is made by mistake" test ! -e "$people/eve"
refused 2 'did you mean ada' learner show adda
refused 2 'did you mean ada' answer take.mid --learner adda
refused 2 'did you mean show' learner shwo ada
refused 2 'write barter learner remove ID' learner remove
refused 2 'write barter learner list' learner list --csv
quiet learner list
check "both are listed" test "$(grep -cE '^(ada|me) ' "$out")" -eq 2
check "by the name to show" grep -q '^ada .*Ada "the fifth"' "$out"
quiet learner show ada
check "where the settings are" grep -q "$people/ada/learner.cfg" "$out"

# Editing, by whatever program the person likes
export EDITOR="sed -i -e s/^highest.*/highest=\"C5\";/ -e s/^pins.*/pins={notes=2;};/"
quiet learner edit ada
check "it is good" grep -q 'learner.cfg: good' "$out"
quiet learner show ada
check "the range" grep -q 'answers from C4 to C5' "$out"
check "the pin" grep -q 'notes pinned at 2' "$out"

quiet learner edit me

# What is set for a person holds where the command line says nothing
run 0 answer take.mid --learner ada --report - --seed 3
cp "$out" report.json
n=$("$READ_JSON" turns <report.json)
i=0
while [ $i -lt "$n" ]; do
  if [ "$("$READ_JSON" turns $i by <report.json)" = partner ]; then
    notes=$("$READ_JSON" turns $i notes <report.json)
    j=0
    while [ $j -lt "$notes" ]; do
      pitch=$("$READ_JSON" turns $i notes $j pitch <report.json)
      check "turn $i stays in the range: $pitch" test "$pitch" -le 72
      j=$((j + 1))
    done
  fi
  i=$((i + 1))
done

# ... and the demo is nobody's
quiet demo
cp "$out" demo.txt
mv "$people/me" "$people/away"
quiet demo
same "the demo" demo.txt "$out"
mv "$people/away" "$people/me"

# A broken file is told of by line, and hides nothing else
quiet answer take.mid --learner ada --practice
printf 'tempo = fast;\n' >"$people/ada/learner.cfg"
refused 2 'learner.cfg:1: ' answer take.mid --learner ada --practice
plain 2 progress --learner ada
check "progress is there still" grep -q '1 of the last 7' "$out"
plain 0 learner export ada ada.jsonl
check "settings are left out" grep -q 'left out of the export' "$err"
export EDITOR="sed -i s/fast/96/"
quiet learner edit ada
quiet answer take.mid --learner ada --practice

# Taking along and bringing together, on another machine and back
quiet learner export ada ada.jsonl
check "it says so" grep -q '^All there is of ada is in ada.jsonl' "$out"
rights 600 ada.jsonl
check "each line is JSON" test "$(wc -l <ada.jsonl)" -eq "$(
  while read -r line; do
    printf '%s' "$line" | "$READ_JSON" >/dev/null 2>&1 && echo
  done <ada.jsonl | wc -l
)"
here=$XDG_DATA_HOME
export XDG_DATA_HOME="$work/there"
there=$XDG_DATA_HOME/barter/learners
quiet learner import ada.jsonl
check "all is new" grep -q '^ada: 2 new sessions, 12 new turns, 1 new idea; its settings' "$out"
quiet learner import ada.jsonl
check "twice is once" grep -q '^ada: 0 new sessions, 0 new turns$' "$out"
quiet learner export ada again.jsonl
same "there and back" ada.jsonl again.jsonl
quiet answer take.mid --learner ada --practice
quiet learner export ada there.jsonl
export XDG_DATA_HOME=$here
quiet answer take.mid --learner ada --practice
quiet learner import there.jsonl
check "what was practised there" grep -q '^ada: 1 new session, 6 new turns$' "$out"
quiet learner export ada here.jsonl
export XDG_DATA_HOME="$work/there"
quiet learner import here.jsonl
quiet learner export ada there.jsonl
same "both are the same" here.jsonl there.jsonl

# Another person of the same ID is not taken for this one
export XDG_DATA_HOME="$work/third"
quiet learner add ada
refused 2 'another learner ada here' learner import here.jsonl
quiet learner import here.jsonl --as ada.b
check "under another ID" grep -q '^ada.b: 4 new sessions' "$out"
quiet learner import here.jsonl
check "and known from then on" grep -q '^ada.b: 0 new sessions' "$out"
quiet learner import here.jsonl --as ada
check "or as this one, who says so" grep -q '^ada: 4 new sessions' "$out"
export XDG_DATA_HOME=$here

# What is malformed changes nothing
head -n 8 here.jsonl >cut.jsonl
refused 2 '^barter: cut.jsonl:9: .*cut short' learner import cut.jsonl
sed '5s/^\[[0-9]*,/[-1,/' here.jsonl >bad.jsonl
refused 2 '^barter: bad.jsonl:5: number is to be' learner import bad.jsonl
refused 2 'is no line of a learner.s export' learner import take.mid
refused 2 'nowhere.jsonl: cannot be read' learner import nowhere.jsonl
quiet learner export ada after.jsonl
same "nothing has changed" here.jsonl after.jsonl
export XDG_DATA_HOME="$work/fourth"
refused 2 'cut short' learner import cut.jsonl
check "and nobody is made" \
  test -z "$(ls "$XDG_DATA_HOME/barter/learners" 2>/dev/null)"
export XDG_DATA_HOME=$here

# A table: one line a turn, under its heading
quiet learner export ada table.csv --csv
check "one line a turn" test "$(wc -l <table.csv)" -eq 25
check "words for choices" grep -q 'swung eighth' table.csv
quiet learner export ada - --csv
same "to standard output" table.csv "$out"

# Removing is complete
quiet learner remove ada
check "it says what" grep -q '4 sessions on 1 day' "$out"
check "it is gone" test ! -e "$people/ada"
refused 2 'no learner ada' learner remove ada
check "others stay" test -e "$people/me/journal.db"
check "$there is another machine" test -e "$there/ada"

# A journal that cannot be read: who keeps nothing plays on, and nobody loses it
mkdir -p "$XDG_DATA_HOME/barter/learners/me"
journal=$XDG_DATA_HOME/barter/learners/me/journal.db
rm -f "$journal"*
echo "no journal at all, but long enough to be looked at" >"$journal"
plain 0 answer take.mid
check "a damaged journal is told" grep -q 'going on without it' "$err"
refused 2 'journal.db: ' answer take.mid --practice
check "a damaged journal is left as it is" grep -q "no journal" "$journal"

finish
