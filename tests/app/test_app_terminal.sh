#!/bin/sh
# The keys of a terminal while something is played. script, of bsdutils, is the
# terminal: what is typed comes through a pipe, what is shown is looked at.

. "$(dirname "$0")/lib.sh"
command -v script >/dev/null || skip "script is not installed"
cd "$work" || exit 1
export SHELL=/bin/sh TERM=xterm

# shown PATTERN: wait until the screen has had it, at most half a minute
shown() {
  n_looks=0
  while ! tr '\r' '\n' <screen | grep -q -- "$1"; do
    n_looks=$((n_looks + 1))
    [ $n_looks -lt 300 ] || return 1
    sleep 0.1
  done
}

# terminal COLUMNS WORDS...: barter there; it ends with a line `ended STATUS`
terminal() {
  columns=$1
  shift
  rm -f keys screen
  mkfifo keys
  : >screen
  script -qefc "tty >tty; stty cols $columns; '$BARTER' $*; echo ended \$?
    stty -a | grep -q ' icanon' && echo as it was" screen <keys >/dev/null 2>&1 &
  terminal=$!
  exec 3>keys
}

leave() {
  check "it ends" shown 'ended 0'
  check "the terminal is as it was" shown 'as it was'
  exec 3>&-
  wait $terminal
}

live="--in none --out none --record none"

terminal 50 trade $live --chart one-chord --tempo 300 --choruses 9 --rung 3
check "it waits" shown '^Space begins\.'
check "the keys are named" shown 'q or Ctrl-C'
printf '+' >&3
check "faster" shown 'The tempo is 318'
printf '<' >&3
check "easier" shown 'notes 2, rhythm 2, shape 2, ornament 2'
printf ' ' >&3
check "it counts in" shown '^count-in 1 '
check "it plays" shown '^YOU  *2 '
printf '%s' '-' >&3
check "slower, as it goes on" shown 'The tempo is 300'
printf ',' >&3
check "easier too" shown 'notes 1, rhythm 1, shape 1, ornament 1'
printf ' ' >&3
check "it pauses" shown 'Paused\. Space goes on\.'
bar=$(tr '\r' '\n' <screen | grep -a '^\(YOU\|partner\)' | tail -n 1 | cut -c 9-12)
# A window that becomes narrower has the line anew, also while nothing moves
stty -F "$(cat tty)" cols 80
check "a wider line" shown "> C7: C E G Bb"
stty -F "$(cat tty)" cols 41
check "the old line is taken away" shown "$(printf '\033')\\[1A"
escape=$(printf '\033')
check "and written as it fits" shown \
  "^$escape\[J[^$escape]\{11,40\}$escape\[K\$"
stty -F "$(cat tty)" cols 50
printf ' ' >&3
check "and goes on" shown 'On we go'
check "with the next bar" shown "^[YOUpartner]*  *$((bar + 1)) "
printf 'q' >&3
leave
check "in its width" test "$(tr '\r' '\n' <screen |
  sed 's/.\[K//g; /^Script/d; / > C7: /d' | awk 'length > 50 { n++ } END { print n + 0 }')" -eq 0
check "counted from one" test "$(tr '\r' '\n' <screen | grep -a '^count-in' |
  head -n 1 | cut -c 1-10)" = "count-in 1"

# In an echo the space bar is a key in the player's turns
terminal 60 trade $live --way echo --chart one-chord --tempo 240 --bars 1
check "it waits" shown '^Space begins\.'
printf ' ' >&3
check "it is said" shown 'the space bar is a key'
check "it is the player's turn" shown '^YOU  *2 |#\.'
printf ' ' >&3
check "a tap was heard" shown ' 2 you  *1 note to C4'
check "and nothing paused" sh -c "! grep -q 'Paused' screen"
printf 'q' >&3
leave

# An exercise is begun, paused, and gone on with
terminal 80 warmup --live $live --minutes 3 --tempo 300
check "a warm-up waits" shown '^Space begins\.'
check "its keys are named" shown 'r again, n next'
printf ' ' >&3
check "it plays" shown '^partner  *1 '
printf '>' >&3
check "what is written is" shown 'is written already'
printf ' ' >&3
check "it pauses" shown 'Paused\. Space goes on\.'
printf 'n' >&3
check "the next one" shown '^ 2\. '
printf 'r' >&3
check "it again" sh -c "for i in 1 2 3 4 5 6 7 8 9 10; do
  [ \$(tr '\r' '\n' <screen | grep -c '^ 2\. ') -gt 1 ] && exit; sleep 0.5; done; exit 1"
check "and no other yet" sh -c "! tr '\r' '\n' <screen | grep -q '^ 3\. '"
printf 'q' >&3
leave

# Who has no keyboard is told of what needs none, and who waits, for what
terminal 80 trade --out none --record none --chart one-chord
check "it is on its way" shown '^One moment: ports and sounds'
check "it waits" shown '^Space begins\.'
if grep -qE 'no keyboard is connected|without a keyboard' screen; then
  check "another way to play" shown 'barter open has a page'
fi
printf 'q' >&3
leave
rm -f keys screen
mkfifo keys
: >screen
script -qefc "echo \$\$ >pid; exec '$BARTER' open --no-browser --in none \
  --out none --record none" screen <keys >/dev/null 2>&1 &
terminal=$!
exec 3>keys
check "how it ends" shown 'stays open until Ctrl-C'
kill -INT "$(cat pid)"
exec 3>&-
check "and so it does" wait $terminal

# What is shown may go elsewhere: the keys are the terminal's all the same, and
# named there
rm -f keys screen
mkfifo keys
: >screen
script -qefc "'$BARTER' trade $live --chart one-chord --tempo 300 >piped; echo ended \$?
  stty -a | grep -q ' icanon' && echo as it was" screen <keys >/dev/null 2>&1 &
terminal=$!
exec 3>keys
check "the keys are named" shown 'q or Ctrl-C'
check "it waits" shown '^Space begins\.'
printf 'q' >&3
leave
check "and not in the pipe" sh -c "! grep -q 'Space' piped"

# Why the partner begins, where it otherwise does not
phrases 3 4 | take take.mid
quiet answer take.mid --practice
terminal 80 trade $live --practice --tempo 300
check "it waits" shown '^Space begins\.'
printf ' ' >&3
check "why is told" shown '^Your best phrase of last time opens'
printf 'q' >&3
leave

# What is told of a take is as narrow as the screen
phrases 3 4 | take take.mid
terminal 40 answer take.mid
check "it tells" shown '^Afterwards'
leave
check "in its width, too" test "$(tr '\r' '\n' <screen |
  sed '/^Script/d' | awk 'length > 40 { n++ } END { print n + 0 }')" -eq 0

terminal 80 answer take.mid --out written.mid
check "a file is told of" shown '^Written: written\.mid'
leave
terminal 40 charts
check "all charts and feels" shown '^Scales'
leave
check "in its width, as words" test "$(tr '\r' '\n' <screen |
  sed '/^Script/d' | awk 'length > 40 { n++ } END { print n + 0 }')" -eq 0

# A pipe has no line of beats, and no keys
seconds=20
run 0 trade $live --chart one-chord --tempo 320 --choruses 1 --bars 1
check "no line of beats" sh -c "! grep -q '|##' '$out'"
check "Ctrl-C is named" grep -q '^Ctrl-C leaves\.' "$out"

# Where recordings cannot be kept one can play all the same; but not where the
# folder was asked for
echo file >no-folder
live="--in none --out none"
(
  export XDG_DATA_HOME="$PWD/no-folder"
  warned 'no-folder: is no folder; nothing is recorded' \
    trade $live --chart one-chord --tempo 320 --choruses 1 --bars 1
  check "it played" grep -q '^Afterwards' "$out"
  refused 3 'no-folder: is no folder' trade $live --record no-folder/sub
  exit $n_failed
)
n_failed=$((n_failed + $?))

finish
