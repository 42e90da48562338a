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
refused 2 'too long by 2 of its 65 bytes' learner add eve --name "$(printf '%065d' 1)"
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

# A draft that is at fault holds nowhere, and waits to be mended
cp "$people/ada/learner.cfg" good.cfg
export EDITOR="sed -i s/96/9600/"
plain 2 learner edit ada
check "the fault is told" grep -q 'learner.cfg.draft:1: tempo 9600 is outside' "$err"
check "what becomes of it" grep -q 'the draft waits' "$err"
same "what holds is as it was" good.cfg "$people/ada/learner.cfg"
rights 600 "$people/ada/learner.cfg.draft"
export EDITOR=/nonexistent
run 3 learner edit ada
check "it waits on where no editor is found" grep -q '^tempo = 9600;' \
  "$people/ada/learner.cfg.draft"
check "which is said" grep -q 'the draft waits' "$err"
export EDITOR="sed -i s/9600/97/"
warned 'a draft that was left is opened.*remove .*learner.cfg.draft$' learner edit ada
check "mended from where it was left" grep -q '^tempo = 97;' "$people/ada/learner.cfg"
rights 600 "$people/ada/learner.cfg"
check "no draft is left" test ! -e "$people/ada/learner.cfg.draft"
# ... unless what holds was changed meanwhile: then that counts
export EDITOR="sed -i s/97/9700/"
plain 2 learner edit ada
quiet learner set ada 'goals=Leave room'
export EDITOR="sed -i s/97/98/"
warned 'changed after the draft was begun; .*aside in .*draft.aside$' learner edit ada
check "what was set stays" grep -q 'Leave room' "$people/ada/learner.cfg"
check "what is edited is what holds" grep -q '^tempo = 98;' "$people/ada/learner.cfg"
check "the old draft is not lost" grep -q '^tempo = 9700;' \
  "$people/ada/learner.cfg.draft.aside"
printf '#!/bin/sh\nsed -i s/98/97/ "$1"; "%s" learner set ada tempo=96 >/dev/null\n' \
  "$BARTER" >setting
chmod +x setting
export EDITOR="$work/setting"
plain 2 learner edit ada
check "nor what was set while the editor was open" grep -q '^tempo = 96;' \
  "$people/ada/learner.cfg"
check "nor the draft before that" grep -q '^tempo = 9700;' \
  "$people/ada/learner.cfg.draft.aside"
check "beside the one of now" grep -q '^tempo = 97;' \
  "$people/ada/learner.cfg.draft.aside-2"
rm "$people/ada/learner.cfg.draft.aside"*
quiet learner set ada tempo=97
printf '#!/bin/sh\nrm "$1"\n' >setting
plain 2 learner edit ada
check "no draft is said to wait that is gone" sh -c "! grep -q waits '$err'"
if command -v script >/dev/null; then
  export EDITOR="$work/editor"
  printf '#!/bin/sh\nif [ -e seen ]; then sed -i s/fast/96/ "$1"
    else : >seen; sed -i s/97/fast/ "$1"; fi\n' >editor
  chmod +x editor
  echo | SHELL=/bin/sh script -qec "'$BARTER' learner edit ada" typed >/dev/null 2>&1
  check "at a terminal it is opened again" grep -q '^tempo = 96;' \
    "$people/ada/learner.cfg"
fi
export EDITOR=false
plain 3 learner edit ada
check "no editor, no draft" test ! -e "$people/ada/learner.cfg.draft"

# In words, for scripts: all of it or nothing
quiet learner set ada tempo=90 target=75 'goals=leave more space; land well'
check "what is now so" grep -q '^ada: tempo is now 90$' "$out"
check "as people say it" grep -q '^ada: target is now 75 %$' "$out"
check "all of it" grep -q '^ada: goals are now leave more space; land well$' "$out"
quiet learner show ada
check "the tempo" grep -q 'tempo  *90$' "$out"
check "the aim" grep -q 'aim  *75 % of turns' "$out"
check "the goals" grep -q 'land well' "$out"
cp "$people/ada/learner.cfg" good.cfg
plain 2 learner set ada tempo=96 highest=H9
check "which is wrong" grep -q 'highest' "$err"
plain 2 learner set ada tmpo=96
check "which is none" grep -q 'no setting tmpo; did you mean tempo' "$err"
same "nothing has changed" good.cfg "$people/ada/learner.cfg"
refused_set() {
  plain 2 learner set ada "$2"
  check "$2: what is right" grep -q "$1" "$err"
}
refused_set 'target 7 is outside 50 to 95' target=7
refused_set 'tempo .*90bpm' tempo=90bpm
quiet learner set ada tempo=
check "no tempo" grep -q "^ada: tempo is now the chart's own\$" "$out"
quiet learner set ada tempo=96 caps.rhythm=
check "no cap" grep -q '^ada: caps.rhythm is now none$' "$out"
quiet learner set ada caps.rhythm=4 pins.notes=2
check "one cap is told" grep -q '^ada: caps.rhythm is now 4$' "$out"
quiet learner show ada
check "one cap" grep -q 'rhythm capped at 4' "$out"
check "one pin" grep -q 'notes pinned at 2' "$out"

# Where somebody begins is set before they do; later that is said
quiet learner set ada pins= caps=
quiet learner set ada rung=3
check "they stand elsewhere" grep -q 'ada stands on$' "$out"
check "what holds them" grep -q 'barter learner set ada pins=' "$out"
quiet learner show ada
check "and where they were to begin" \
  grep -q 'begins on  *notes 3, rhythm 3, shape 3, ornament 3' "$out"
quiet learner add una
quiet learner set una rung=5
check "nothing is to be said" test "$(wc -l <"$out")" -eq 1
quiet learner show una
check "the place that is set" \
  grep -q 'stands on  *notes 5, rhythm 5, shape [0-9], ornament [0-9]' "$out"
quiet learner set una rung=notes=2,rhythm=1
quiet learner show una
check "set in part, told in part" \
  grep -q 'stands on  *notes 2, rhythm 1, as set' "$out"
quiet learner remove una --for-good

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
check "all is new" grep -q '^ada is here now: 2 new sessions, 12 new turns, 1 new idea; its settings are taken$' "$out"
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

# What is set here later stays, and that is said; older, it is taken over
cp "$XDG_DATA_HOME/barter/learners/ada/learner.cfg" there.cfg
quiet learner set ada tempo=77
quiet learner import here.jsonl
check "what is older is told" grep -q '; its settings differ; those here stay$' "$out"
quiet learner show ada
check "it stays" grep -q 'tempo  *77$' "$out"
touch -d 2020-01-01 "$XDG_DATA_HOME/barter/learners/ada/learner.cfg"
quiet learner import here.jsonl
check "what is newer is taken" grep -q '; its settings are newer and are taken$' "$out"
same "as it was" there.cfg "$XDG_DATA_HOME/barter/learners/ada/learner.cfg"

# Another person of the same ID is not taken for this one
export XDG_DATA_HOME="$work/third"
quiet learner add ada
refused 2 'another learner ada here.*--as ada --merge' learner import here.jsonl
quiet learner import here.jsonl --as ada.b
check "under another ID" grep -q '^ada.b is here now: 4 new sessions' "$out"
quiet learner import here.jsonl
check "and known from then on" grep -q '^ada.b: 0 new sessions' "$out"

# ... and two are one only if that is asked for, prepared or practised
quiet learner add ben --name 'Ben Åström'
quiet learner set ben tempo=90 'goals=Land on the chord'
cp "$XDG_DATA_HOME/barter/learners/ben/learner.cfg" ben.cfg
refused 2 'ben is somebody else; --merge' learner import here.jsonl --as ben
same "nothing is changed" ben.cfg "$XDG_DATA_HOME/barter/learners/ben/learner.cfg"
quiet learner show ben
check "nothing at all" grep -q 'practice  *none yet' "$out"
quiet learner import here.jsonl --as ben --merge
check "asked for, all comes in" grep -q '^ben: 4 new sessions, 24 new turns.*; its settings differ; those here stay$' "$out"
quiet learner import here.jsonl --as ben
same "and what is set stays" ben.cfg "$XDG_DATA_HOME/barter/learners/ben/learner.cfg"
quiet learner remove ben --for-good
quiet answer take.mid --practice --seed 3
refused 2 'me is somebody else; --merge' \
  learner import here.jsonl --as me
quiet learner import here.jsonl --as me --merge
check "asked for" grep -q '^me: 4 new sessions' "$out"
quiet learner import here.jsonl --as me
export XDG_DATA_HOME=$here

# What is malformed changes nothing
head -n 8 here.jsonl >cut.jsonl
refused 2 '^barter: cut.jsonl:9: .*cut short' learner import cut.jsonl
sed '5s/^\[[0-9]*,/[-1,/' here.jsonl >bad.jsonl
refused 2 '^barter: bad.jsonl:5: number is to be' learner import bad.jsonl
refused 2 'is no line of a learner.s export, as barter' learner import take.mid
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
# column NAME: its values in lines of the player's
column() {
  tr -d '\r' <table.csv | sed 's/"[^"]*"//g' | awk -F, -v name="$1" '
    NR == 1 { for (i = 1; i <= NF; i++) at[$i] = i; next }
    $at["by_player"] == 1 { print $at[name] }'
}
check "bpm as people write them" test "$(column tempo_bpm | sort -u)" = 120
check "shares in a hundred" test -z "$(column space_percent | awk '$1 < 0 || $1 > 100')"
check "ratios" test -n "$(column swing_ratio | awk '$1 > 1 && $1 < 4')"
check "no finer than hundredths" sh -c "! grep -qE ',-?[0-9]+\.[0-9]{3}' table.csv"
check "a moment" grep -q ',20[0-9-]*T[0-9:]*Z,' table.csv
quiet learner export ada - --csv
same "to standard output" table.csv "$out"

# What the search for bad exports begins with is one that is read today
quiet learner import "$(dirname "$0")/../fuzz/seeds/fuzz_import/whole" --as seed
check "all of it" grep -q '^seed is here now: 1 new session, 6 new turns' "$out"
quiet learner remove seed --for-good

# Who needs a look: not practised for a week, or fell twice
quiet learner list
check "nobody does" sh -c "! grep -q 'not practised' '$out'"
quiet learner list --look
check "it says so" grep -q '^Nobody needs a look' "$out"
sqlite3 "$people/me/journal.db" 'UPDATE session SET day = day - 9'
sqlite3 "$people/ada/journal.db" "UPDATE played SET moved =
  'Back to notes 1 at once: three turns in a row did not come off.'
  WHERE rowid IN (SELECT rowid FROM played WHERE by_player LIMIT 2)" 2>/dev/null ||
  sqlite3 "$people/ada/journal.db" "UPDATE turn SET moved =
    'Back to notes 1 at once: three turns in a row did not come off.'
    WHERE by_player AND number < 4"
fell=$(sqlite3 "$people/ada/journal.db" \
  "UPDATE session SET day = (SELECT max(day) FROM session);
   SELECT DISTINCT date(day * 86400, 'unixepoch') FROM session")
quiet learner list --look
check "away" grep -q '^me .*not practised for 9 days$' "$out"
check "fell" grep -q "^ada .*fell [a-z0-9 ]* since $fell\$" "$out"
quiet learner add zoe --name '小春'
quiet learner list --sort last
check "who never did comes first" test "$(sed -n '2,4s/ .*//p' "$out" | tr '\n' ' ')" = \
  'zoe me ada '
quiet learner list --sort look
check "who needs one comes first" test "$(sed -n '4s/ .*//p' "$out")" = zoe
quiet learner add abe
touch -d '8 days ago' "$people/abe/learner.cfg"
sqlite3 "$people/ada/journal.db" 'UPDATE session SET day = day - 8'
quiet learner list --sort look
check "who needs it most before others, then who is away longest" test \
  "$(sed -n '2,5s/ .*//p' "$out" | tr '\n' ' ')" = 'ada abe me zoe '
sqlite3 "$people/ada/journal.db" 'UPDATE session SET day = day + 8'
quiet learner remove abe --for-good
quiet learner list
check "columns stand under each other" test "$(awk 'NR > 1 {
  print match($0, /(never|[0-9]{4}-)/) }' "$out" | sort -u | wc -l)" -le 2
quiet learner add long --name 'The one from next door who always sits at the left'
quiet learner list
check "and under those of a long name" test "$(awk '/^(ada|long|me) / {
  print match($0, /never|20[0-9][0-9]-/) }' "$out" | sort -u | wc -l)" -eq 1
check "which is cut" grep -q '^long  *The one from next do\.\.\. ' "$out"
quiet learner set long 'name=夜夜夜夜夜夜夜夜夜夜夜夜夜夜'
quiet learner list
check "between two letters" grep -q '^long  *夜夜夜夜夜夜夜夜夜夜\.\.\. ' "$out"
check "80 columns" test "$(grep -v '^long' "$out" | awk '!/look|fell|not pr/ && length > 80' | wc -l)" -eq 0
quiet learner remove long --for-good
refused 2 '\-\-sort age is not id, last or look' learner list --sort age
# Who never practised needs one, too, after a while
touch -d '10 days ago' "$people/zoe/learner.cfg"
quiet learner list --look
check "who never did" grep -q '^zoe .*never practised, set 10 days ago$' "$out"
quiet learner remove zoe --for-good

# Who is removed can be brought back for a month
quiet learner export ada before.jsonl
quiet learner remove ada
kept=$(sed -n 's/^  \(.*removed.*json\)$/\1/p' "$out")
check "it says what" grep -q '4 sessions on 1 day' "$out"
check "it is gone" test ! -e "$people/ada"
rights 600 "$kept"
refused 2 'no learner ada' learner remove ada
quiet learner import "$kept"
quiet learner export ada back.jsonl
same "back as before" before.jsonl back.jsonl
rm "$kept"
quiet learner remove ada
mv "$kept" "${kept%/*}/ada-2020-01-02.json"
quiet learner list
check "after a month that goes too" test ! -e "${kept%/*}"

# ... but not where nothing is to be kept
quiet learner import before.jsonl
quiet learner remove ada
quiet learner import "$kept" 2>/dev/null || quiet learner import before.jsonl
mkdir -p "$XDG_DATA_HOME/barter/sessions"
quiet answer take.mid --learner ada --practice --seed 12345 --out theirs.mid
cp theirs.mid "$XDG_DATA_HOME/barter/sessions/trade-$(date +%Y-%m-%d-%H%M%S).mid"
cp theirs.mid "$XDG_DATA_HOME/barter/sessions/trade-2020-01-01-101010.mid"
quiet learner remove ada --for-good
check "one recording of the two is theirs" grep -q '1 recording went too' "$out"
check "nothing is left" test ! -e "$people/ada" -a ! -e "${kept%/*}"
check "the other stays" test -e \
  "$XDG_DATA_HOME/barter/sessions/trade-2020-01-01-101010.mid"
refused 2 'no learner ada' learner remove ada --for-good
# ... whenever that is said: after a removal, and after its month, too
sessions=$XDG_DATA_HOME/barter/sessions
# play ID: a session of theirs, and its recording among our data
play() {
  quiet answer take.mid --learner "$1" --practice --seed "$2" --out theirs.mid
  theirs=$sessions/trade-$(date +%Y-%m-%d-%H%M%S).mid
  cp theirs.mid "$theirs"
}
quiet learner add tom
play tom 771
quiet learner remove tom
check "for now the recording stays" test -e "$theirs"
quiet learner remove tom --for-good
check "then it goes" grep -q '^Nothing is left of tom; 1 recording went too' "$out"
check "it is gone" test ! -e "$theirs"
check "and nothing tells of it" test ! -e "${kept%/*}"
# What was taken over under another name is that one's, too
quiet learner add zed
play zed 773
quiet learner export zed zed.jsonl
quiet learner import zed.jsonl --as zed2
quiet learner remove zed --for-good
check "the other's recording stays" test -e "$theirs"
check "which is said" sh -c "! grep -q 'recording went' '$out'"
quiet learner remove zed2
quiet learner import "$(sed -n 's/^  \(.*removed.*json\)$/\1/p' "$out")" --as zed
quiet learner remove zed2 --for-good
check "it stays after a removal, too" test -e "$theirs"
quiet learner remove zed --for-good
check "with the last it goes" test ! -e "$theirs"
# Where another's journal cannot be read, what it may name stays until it can
quiet learner add zed
play zed 774
quiet learner export zed zed.jsonl
quiet learner import zed.jsonl --as zed2
mv "$people/zed2/journal.db" zed2.db
echo "no journal at all, but long enough to be looked at" >"$people/zed2/journal.db"
quiet learner remove zed --for-good
check "a recording that may be another's stays" test -e "$theirs"
check "which is said, too" grep -q '^Nothing is left of zed but recordings' "$out"
quiet learner remove zed --for-good
run 2 learner list
check "however often one looks" test -e "$theirs" -a -e "${kept%/*}/zed.recordings"
mv zed2.db "$people/zed2/journal.db"
quiet learner list
check "it is the other's" test -e "$theirs" -a ! -e "${kept%/*}"
quiet learner remove zed2 --for-good
check "and goes with the other" test ! -e "$theirs"
quiet learner add tom
play tom 772
quiet learner remove tom
kept=$(sed -n 's/^  \(.*removed.*json\)$/\1/p' "$out")
mv "$kept" "${kept%/*}/tom-2020-01-02.json"
quiet learner list
check "its month is over" test ! -e "${kept%/*}/tom-2020-01-02.json"
check "the recording goes then, too" test ! -e "$theirs" -a ! -e "${kept%/*}"
# ... but not that of somebody who is here again
quiet learner add tom
play tom 773
quiet learner remove tom
kept=$(sed -n 's/^  \(.*removed.*json\)$/\1/p' "$out")
quiet learner import "$kept" --as tom
check "brought back" grep -q '^tom is here now: 1 new session' "$out"
mv "$kept" "${kept%/*}/tom-2020-01-02.json"
quiet learner list
check "what is theirs stays" test -e "$theirs"
# ... nor where another is the same person: --as brings back who was removed
quiet learner export tom tom.jsonl
quiet learner import tom.jsonl --as tom2
quiet learner remove tom
kept=$(sed -n 's/^  \(.*removed.*json\)$/\1/p' "$out")
quiet learner import "$kept" --as tom
check "not the other one" grep -q '^tom is here now' "$out"
quiet learner remove tom2 --for-good
quiet learner remove tom --for-good
refused 2 'no learner tom' learner remove tom --for-good

# Twice on a day: both are kept
quiet learner add pia
quiet answer take.mid --learner pia --practice
quiet learner export pia pia.jsonl
quiet learner remove pia
kept=$(sed -n 's/^  \(.*removed.*json\)$/\1/p' "$out")
same "the first" pia.jsonl "$kept"
quiet learner add pia
quiet learner remove pia
second=$(sed -n 's/^  \(.*removed.*json\)$/\1/p' "$out")
check "another name" test "$second" = "${kept%.json}-2.json"
same "the first is as it was" pia.jsonl "$kept"
rights 600 "$second"
quiet learner import "$kept"
check "it comes back" grep -q '^pia is here now: 1 new session' "$out"
mv "$second" "${kept%/*}/pia-2020-01-02-2.json"
quiet learner list
check "a second one's month ends, too" test ! -e "${kept%/*}/pia-2020-01-02-2.json"
check "and no other's" test -e "$kept"
quiet learner remove pia --for-good
check "for good is all of them" test ! -e "${kept%/*}"

printf 'x' >"$people/broken" # No person
mkdir -p "$people/bad" && echo 'tempo = fast;' >"$people/bad/learner.cfg"
plain 2 learner remove bad
check "what cannot be kept is not removed" grep -q 'bad is still here' "$err"
quiet learner remove bad --for-good
check "others stay" test -e "$people/me/journal.db"
check "$there is another machine" test -e "$there/ada"

# A journal that cannot be read: who keeps nothing plays on, and nobody loses it
mkdir -p "$XDG_DATA_HOME/barter/learners/me"
journal=$XDG_DATA_HOME/barter/learners/me/journal.db
rm -f "$journal"*
echo "no journal at all, but long enough to be looked at" >"$journal"
plain 0 answer take.mid
check "a damaged journal is told" grep -q 'going on without it' "$err"
refused 2 'journal.db: .*; move it away to begin a new one' \
  answer take.mid --practice
refused 2 'journal.db: .*; move it away to begin a new one' progress
plain 2 learner list --look
check "nobody is said to be well who was not read" \
  sh -c "! grep -q Nobody '$out'"
run 2 learner list
check "what is not known is no 0" grep -qE '^me .* \? +\? +\?  unknown$' "$out"
run 3 sheet --all --out all.pdf
check "its sheet is told of" grep -q 'going on without it' "$err"
check "a damaged journal is left as it is" grep -q "no journal" "$journal"
rm "$journal"
mkdir "$journal" # What cannot be opened
run 3 learner list
check "what to look for" grep -q 'disk full, or its folder read-only' "$err"
rmdir "$journal"

finish
