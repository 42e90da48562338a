#!/bin/sh
# Each way of playing together by the built program: whose turns there are, what
# is said of its goal, and how it is judged (what a way is: common practice, no
# source). The player of an echo and of a chorus handed over plays what the
# report of a first run says that the partner played.

. "$(dirname "$0")/lib.sh"
cd "$work" || exit 1

json() {
  "$READ_JSON" "$@" <r.json
}

# turns: who has them, P the partner, p the player
turns() {
  n=$(json turns)
  i=0
  while [ "$i" -lt "$n" ]; do
    case $(json turns "$i" by) in
    player) printf p ;;
    *) printf P ;;
    esac
    i=$((i + 1))
  done
  echo
}

# way NAME TAKE WORDS...: answered in this way, told and made again alike
way() {
  name=$1
  take=$2
  shift 2
  quiet answer "$take" --way "$name" "$@" --out one.mid --report r.json || return
  cp "$out" told
  quiet answer --replay one.mid --out two.mid || return
  same "replay of $name" one.mid two.mid
  same "what was told of $name" told "$out"
}

# order WAY WANT
order() {
  check "$1: $(turns) is not $2" [ "$(turns)" = "$2" ]
}

# outcome TURN WORDS: how a turn was judged
outcome() {
  check "turn $(($1 + 1)): $(json turns "$1" outcome)" \
    [ "$(json turns "$1" outcome)" = "$2" ]
}

# said WORDS...: one of these stands in what was told
said() {
  for words; do
    tr '\n' ' ' <told | tr -s ' ' | grep -qF -- "$words" && return
  done
  fail "nothing was said of: $1"
}

# line TICK PITCH...: crotchets from a tick on
line() {
  at=$1
  shift
  for pitch; do
    echo "note $at 800 $pitch 80 0"
    at=$((at + 960))
  done
}

new() {
  printf '%s\n' track 'tempo 0 500000' 'track player'
}

# A note in the last bar, so that a take lasts as long as its choruses
closing=$((12 * 3840 - 1920))

# question: the partner asks, the player closes, the partner closes; then the
# other way round. G over C7 is open, C is home.
{
  new
  line 15360 67 64 62 60
  line 46080 67 64 62 67
  line 76800 67 64 62 55
} | take take.mid
way question take.mid --choruses 2
order question PpPpPp
said 'I ask, and you bring it home' 'A question stays open' 'Let us ask' 'My phrases want'
json turns 1 outcome >/dev/null
outcome 3 'It asked.'
outcome 5 'It came home.'

# echo: what a first run plays is given back in a second
echo_back() { # TURN...: the notes of the partner's turns, one turn later
  new
  for turn; do
    n=$(json turns "$turn" notes)
    later=$(($(json turns "$turn" end_tick) - $(json turns "$turn" start_tick)))
    i=0
    while [ "$i" -lt "$n" ]; do
      set -- $(json turns "$turn" notes "$i" tick) $(json turns "$turn" notes "$i" pitch)
      echo "note $(($1 + later)) 300 ${2} 80 0"
      i=$((i + 1))
    done
  done
}
{ new; line 92000 60; } | take silent.mid
way echo silent.mid --choruses 2
order echo PpPpPpPpPpPp
first=$(json turns 0 notes)
echo_back 0 | take take.mid
way echo take.mid --choruses 2
said "It came back." 'All of it, note for note.' 'You have it whole' \
  'That was it, from the first' 'Nothing missing'
outcome 1 'All of it came back.'
check "the cell grew: $(json turns 2 notes) after $first" [ "$(json turns 2 notes)" -gt "$first" ]

# few notes: one over each chord in the first chorus, two in the second
{
  new
  line 0 60 60 60 60
  line 30720 67 67 67 67
  line 61440 65 69 72 63
} | take take.mid
way few-notes take.mid
order few-notes pPpPpPpPp
outcome 0 'It kept to its few notes.'
outcome 2 'It kept to its few notes.'
outcome 4 'It used more notes than were allowed.'
said 'One note over each chord' 'This chorus has one note' 'One note only' 'Stay on the root'
said 'Two notes over each chord' 'One more note may join' 'Two notes, the root' 'Now two notes'

# story: in the second chorus the line is the player's, and the partner says it
{
  new
  line 46080 60 64 67 60
  line 76800 70 67 70 72 67 60
} | take take.mid
way story take.mid --choruses 2
order story PpppPp
outcome 3 'The line landed.'
outcome 5 'It left the line, and landed.'
check "the line came back" [ "$(json turns 4 notes)" = 4 ]
said 'I say your line again' 'The second line is mine' 'Listen to your own' 'Once more the same'

# handing over: the partner plays the second chorus too, and not the third
way handing-over silent.mid
order 'handing over' PPPpppppp
n=$(json turns 0 notes)
{
  echo_back 0
} >/dev/null
new >lines
i=0
while [ "$i" -lt "$n" ]; do
  at=$(json turns 0 notes "$i" tick)
  pitch=$(json turns 0 notes "$i" pitch)
  echo "note $((at + 46080)) 300 $pitch 80 0" >>lines
  echo "note $((at + 92160)) 300 $pitch 80 0" >>lines
  i=$((i + 1))
done
take take.mid <lines
way 'handing over' take.mid
outcome 3 'It went along in rhythm.'
outcome 6 'It took over the rhythm.'

# sing first: a turn begins with a bar of silence
{
  new
  line 3840 67 64 62 60
  line 30720 67 67 67 67
  line 34560 67 64 62 67
} | take take.mid
way sing-first take.mid --choruses 1
order 'sing first' pPp
outcome 0 'The bar was left to sing in, and it landed.'
outcome 2 'It came before the bar to sing in was over.'
check "the second bar is the first" [ "$(json turns 0 start_tick)" = 3840 ]

# As usual: a goal at the start, looked back on after each chorus; a line for
# each turn, none twice running, and why what did not come off did not
phrases 9 2 | take take.mid
quiet answer take.mid --bars 2 --choruses 3 --report r.json
cp "$out" told
said 'One goal now' 'The goal now' 'One thing to aim at' 'Now '
n=$(json turns)
i=0
last=
while [ "$i" -lt "$n" ]; do
  if [ "$(json turns "$i" by)" = player ]; then
    says=$(json turns "$i" says)
    check "turn $((i + 1)) says something else than the one before" \
      [ -n "$says" -a "$says" != "$last" ]
    case $(json turns "$i" success) in
    false) check "why, after '$says'" [ "${says#*. }" != "$says" ] ;;
    esac
    last=$says
  fi
  i=$((i + 1))
done
check "each chorus is looked back on" [ -n "$(json turns 5 asks)" ]
check "and the last" [ -n "$(json turns 17 asks)" ]

# A part of a way is one all the same, and it is said
warned 'handing over goes through 3 choruses, each with its own task; of 1 the rest' \
  answer take.mid --way handing-over --choruses 1
quiet answer take.mid --way handing-over --choruses 3

# What is refused, and where a way is kept
refused 2 'make-room' answer take.mid --way echo --make-room
refused 2 'answer, question, echo, few-notes' answer take.mid --way duet
quiet learner add ada
quiet answer take.mid --way story --practice --learner ada --out two.mid
if command -v sqlite3 >/dev/null; then
  check "the journal knows the way" \
    [ "$(sqlite3 "$(find home -name journal.db)" 'SELECT way FROM session')" = story ]
fi
quiet answer take.mid --out plain.mid
check "the usual way is not named" sh -c '! grep -qa "^way=" plain.mid'
check "another is" grep -qa '^way=4$' two.mid
finish
