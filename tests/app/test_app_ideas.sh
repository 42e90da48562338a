#!/bin/sh
# Other ways on from a phrase, the notebook of ideas, and phrases drawn in text.
# midicsv reads the files beside us.

. "$(dirname "$0")/lib.sh"
phrases 3 4 | take "$work/take.mid"
cd "$work" || exit 1
people=$XDG_DATA_HOME/barter/learners

# count WANT PATTERN: so many lines of what was said match
count() {
  check "$1 times $2" test "$(grep -c -- "$2" "$out")" -eq "$1"
}

# The first phrase of a take, from near to far
quiet ideas take.mid --rung 5
cp "$out" six.txt
count 6 '^ [1-6]\. .* (likeness [0-9]* %)$'
count 6 '    To practise: '
count 1 '^Your phrase, bars 1-2$'
check "likeness falls" sh -c \
  "sed -n 's/.*likeness \([0-9]*\) %.*/\1/p' six.txt >got &&
   sort -rn got | cmp -s - got"
check "no two alike" test "$(awk '/^ *[0-9]+\. / { n++ }
  /^    bar/ || /^              / { notes[n] = notes[n] $0 }
  END { for (i in notes) print notes[i] }' six.txt | sort | uniq -d |
  wc -l)" -eq 0
check "nothing was made" test ! -e "$XDG_DATA_HOME/barter"
quiet ideas take.mid --rung 5
same "the same again" six.txt "$out"
quiet ideas take.mid --rung 5 --seed 2
differ "another seed" six.txt "$out"

# Where it is asked for; fewer than asked for are told of
quiet ideas take.mid --bars 9-10 --rung 5 --count 3
count 1 '^Your phrase, bars 9-10$'
count 3 '    To practise: '
count 0 '^    bar   [1-7]: '
quiet ideas take.mid --bars 9 --rung 5 --count 1
count 1 '^Your phrase, bar 9$'
quiet ideas take.mid --rung 1 --count 24
count 1 '^There are no more that differ'

# Without a take the ladder suggests one
quiet ideas --rung 3 --count 2
count 1 '^A phrase to begin with, bars 1-'
quiet ideas --chart waltz --key G --bars 3-4 --count 1
count 1 '^A phrase to begin with, bars 3-4$'
count 1 '^.*, in G major, 3/4'

# Files: each, and all with gaps to answer in
quiet ideas take.mid --rung 5 --count 3 --out folder --wav all.wav \
  --report report.json
check "three and one" test "$(ls folder | wc -l)" -eq 4
check "all of them" test -s folder/ideas.mid
check "numbered and named" test "$(ls folder | grep -c '^idea-0[123]-[a-z-]*\.mid$')" -eq 3
check "sound" test -s all.wav
check "the report is whole" is_json report.json
for field in likeness practise why move; do
  n_checked=$((n_checked + 1))
  "$READ_JSON" turns 1 $field <report.json >/dev/null || fail "no $field"
done
if command -v midicsv >/dev/null; then
  midicsv folder/ideas.mid >ideas.csv || fail "midicsv reads it"
  # Gaps as long as what they answer: markers stand two bars of 4/4 apart
  n_checked=$((n_checked + 2))
  awk -F', *' '$3 == "Marker_t" { if (n++ && $2 - last != 7680) bad = 1; last = $2 }
    END { exit bad || n != 8 }' ideas.csv || fail "gaps of equal length"
  # Nobody but the band plays in the gaps
  awk -F', *' '$3 == "Title_t" { track[$1] = $4 }
    $3 == "Marker_t" { at[++n] = $2; gap[n] = $4 ~ /your turn/ }
    $3 == "Note_on_c" && $6 > 0 && track[$1] ~ /partner|player/ {
      ++played
      for (i = n; i > 0 && at[i] > $2; --i);
      if (i && gap[i]) bad = 1
    }
    END { exit bad || played < 12 }' ideas.csv || fail "the gaps are free"
fi
run 0 ideas take.mid --count 2 --report - --rung 4
check "the report alone on standard output" is_json "$out"

# The notebook
quiet ideas --kept
count 1 'notebook of me is empty'
check "asking makes nobody" test ! -e "$people"
quiet ideas take.mid --rung 5 --keep 2
count 1 '^Kept idea 2 as number 1 in the notebook of me\.$'
quiet ideas take.mid --rung 5 --keep 2
count 1 '^Idea 2 is number 1 in the notebook of me already\.$'
quiet ideas take.mid --rung 5 --keep 3 --key Eb
quiet ideas --kept
count 1 '^ 1\. '
count 1 '^ 2\. .* in Eb major, 4/4$'
quiet ideas rename 2 'The one that I found on a walk before breakfast, in the rain'
quiet ideas --kept
check "a name stays in the page" test "$(awk '/^ *[0-9]+\. / && length > 80 { n++ }
  END { print n + 0 }' "$out")" -eq 0
check "and is there" grep -q 'a walk before breakfast' "$out"
quiet ideas rename 2 ''
quiet ideas --kept 2 --count 2 --rung 5 --key A
count 1 '^Idea 2 of the notebook'
quiet ideas --kept 1 --count 2 --rung 5 --draw
count 1 '^Roll: '

# Each over its own chart, in its key, where it stood
quiet learner add eve
quiet ideas take.mid --bars 9-10 --chart two-five-one --key D --rung 5 --keep 1 --learner eve
quiet ideas --kept --learner eve
count 1 '^ 1\. .*, over '
check "in its key and meter" sh -c "tr -s ' \n' ' ' <'$out' | grep -q 'in D major, 4/4 '"
count 1 '^    bar   9: '
quiet ideas --kept 1 --count 1 --learner eve
count 1 '^.*, in D major, 4/4'
quiet ideas --kept 1 --count 1 --learner eve --key F
count 1 '^.*, in F major, 4/4'
quiet ideas --kept 1 --count 1 --learner eve --chart blues
count 1 '^.*, in C major, 4/4'

# Names, and out again
quiet ideas rename 1 'A question — rising' --learner eve
count 1 'Idea 1 of eve is now called A question — rising\.$'
quiet ideas --kept --learner eve
count 1 '^ 1\. A question — rising: '
quiet ideas --kept 1 --count 1 --learner eve
count 1 '^Idea 1 of the notebook, A question — rising'
quiet ideas rename 1 '' --learner eve
quiet ideas --kept --learner eve
count 0 'question'
refused 2 'write barter ideas rename N NAME' ideas rename 1
refused 2 'write barter ideas remove N' ideas remove
refused 2 'there is no idea 2' ideas remove 2 --learner eve
refused 2 'at most 63 bytes' ideas rename 1 --learner eve \
  'a name of more bytes than anybody would ever want to read in a list of ideas'
quiet ideas remove 1 --learner eve
quiet ideas --kept --learner eve
count 1 'notebook of eve is empty'

# It goes along, whole, and comes together in any order
quiet learner export me me.jsonl
check "the export has them" test "$(grep -c '^{"idea":' me.jsonl)" -eq 2
quiet learner import me.jsonl --as ann
count 1 '2 new ideas'
quiet learner import me.jsonl --as ann
check "nothing is doubled" test "$(grep -c 'new idea' "$out")" -eq 0
quiet ideas take.mid --rung 5 --keep 4 --learner ann
quiet learner export ann ann.jsonl
quiet learner import ann.jsonl --as me
count 1 '1 new idea'
quiet learner export me me-too.jsonl
sed 's/"learner":"[a-z]*"//; s/"settings":.*"session_columns"//; s/"persons":[^]]*]//' me-too.jsonl >a
sed 's/"learner":"[a-z]*"//; s/"settings":.*"session_columns"//; s/"persons":[^]]*]//' ann.jsonl >b
same "both hold the same" a b

# An idea of the notebook comes back in some sessions, and they replay; who says
# something else in each turn is not answered by the answer before
awk 'BEGIN {
  print "track"; print "tempo 0 500000"; print "track player"
  split("60 64 67 70 67 64 72 69 65 64 62 60 67 63 62 60 58 60", pitch, " ")
  for (turn = 0; turn < 9; ++turn)
    for (i = 0; i < 6; ++i) {
      kind = turn % 3
      print "note", turn * 30720 + i * (480 + 240 * kind) + 960 * (i > 2 + kind),
            400, pitch[6 * kind + i + 1] + (turn > 2) + (turn > 5), 80, 0
    }
}' | take others.mid
n_kept=0
n_back=0
for seed in 1 2 3 4 5 6 7 8 9; do
  quiet answer others.mid --practice --seed $seed --rung notes=6,rhythm=5,shape=5 \
    --out session-$seed.mid --bars 4
  grep -q 'your notebook' "$out" && n_back=$((n_back + 1))
  grep -qa '^kept=' session-$seed.mid && n_kept=$((n_kept + 1))
  quiet answer --replay session-$seed.mid --out again.mid
  same "session $seed replays" session-$seed.mid again.mid
done
check "in some: $n_kept of 9" test $n_kept -ge 1 -a $n_kept -le 6
check "it was returned to: $n_back" test $n_back -ge 1
quiet answer take.mid --seed 1 --rung 6 --out plain.mid --bars 4
check "not where nobody practises" sh -c '! grep -qa "^kept=" plain.mid'

# Without a take it goes on from the last session, of the learner's own
sessions=$XDG_DATA_HOME/barter/sessions
mkdir -p "$sessions"
cp session-1.mid "$sessions/trade-2026-01-01-101010.mid"
cp plain.mid "$sessions/trade-2025-12-31-235959.mid"
quiet ideas --rung 5 --count 2
count 1 '^The last turn that you played, of trade-2026-01-01-101010.mid, bars 65-68$'
count 2 '    To practise: '
quiet ideas --rung 5 --count 1 --chart waltz
count 1 '^A phrase to begin with'
quiet answer take.mid --seed 77 --out other.mid --bars 4
cp other.mid "$sessions/trade-2026-02-01-101010.mid" # Nobody's practice
quiet ideas --rung 5 --count 1
count 1 'of trade-2026-01-01-101010.mid'
echo damaged >"$sessions/trade-2026-03-01-101010.mid"
quiet ideas --rung 5 --count 1
count 1 'of trade-2026-01-01-101010.mid'

# What cannot be done is said in a line
refused 2 'cannot be read\|no such file' ideas missing.mid
refused 2 'write it as 5-6' ideas take.mid --bars 9-8
refused 2 'a phrase may have 4 bars' ideas take.mid --bars 1-9
refused 2 'no note of a melody in bars 3-4' ideas take.mid --bars 3-4
refused 2 'not a whole number\|not a number' ideas take.mid --keep 99
refused 2 'there are 6 ideas' ideas take.mid --keep 7 --rung 5
refused 2 'not a number from 1 to 24' ideas take.mid --count 0
refused 2 'there is no' ideas take.mid --learner nobody
refused 2 'holds 3 ideas' ideas --kept 4
refused 2 'holds 3 ideas' ideas --kept two
refused 2 'is in 4/4, the chart waltz in 3/4' ideas --kept 1 --chart waltz
refused 2 'takes one file' ideas take.mid take.mid
cp take.mid folder/ideas.mid
refused 2 'take the place of what was played' ideas folder/ideas.mid --out folder
track='track
tempo 0 500000
track player'
echo "$track" | take silent.mid
run 2 ideas silent.mid
check "no phrase is said" grep -q 'no phrase in the take' "$err"

# Live an idea's sentence is said as it is played, and not before
run 0 ideas --live --in none --out none --record none --chart one-chord \
  --bars 1-1 --rung 4 --count 2 --tempo 320
check "it is played" grep -q '^ *1 partner ' "$out"
check "and told of then" sh -c "grep -B 1 'To practise' '$out' | head -n 1 |
  grep -q '^              '"

# Drawn
quiet hear take.mid --bars 4 --draw
count 1 '^Roll: '
check "80 columns" test "$(awk '/\|/ && length > 80 { n++ } END { print n + 0 }' \
  "$out")" -eq 0
check "heads stand in it" grep -q '^    [A-G][b#]*[0-9] .*|.*O' "$out"
quiet answer take.mid --bars 4 --draw --rung 5
count 1 '^Roll: '

finish
