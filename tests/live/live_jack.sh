#!/bin/sh
# The built program over a JACK server of the test's own, with another process
# as the player and the listener. 77: skipped, with a message.
#
#   live_jack.sh BARTER PEER [PART...]
#
# The parts have nothing to do with each other and mostly wait: without PART
# they run side by side, over a server each. JACK allows for eight on a machine,
# and keeps the place of one that was killed for the next of its name: so each
# part's server has its own, the same every time, and is asked to end.
set -u
barter=$1
peer=$2
shift 2
command -v jackd >/dev/null || { echo "skipped: jackd is not installed"; exit 77; }
[ -x "$peer" ] || { echo "skipped: built without JACK"; exit 77; }

work=$(mktemp -d)

# in_time COMMAND...: wait for something to become true, at most half a minute
in_time()
{
  n_waits=0
  while ! "$@"; do
    n_waits=$((n_waits + 1))
    [ "$n_waits" -lt 300 ] || return 1
    sleep 0.1
  done
}

if [ $# -eq 0 ]; then
  running=
  trap 'kill $running 2>/dev/null; rm -rf "$work"' EXIT
  trap 'exit 1' HUP INT TERM
  for parts in 'session signals' practice warmup ideas 'stalls crashes'; do
    sh "$0" "$barter" "$peer" $parts >"$work/$parts" 2>&1 &
    running="$running $!"
    in_time grep -q 'server is there' "$work/$parts" # One after the other
  done
  n_failed=0
  for one in $running; do
    wait "$one" || n_failed=$((n_failed + 1))
  done
  running=
  tail -n 100 "$work"/*
  exit "$n_failed"
fi

JACK_DEFAULT_SERVER=barter-test-$1
export JACK_DEFAULT_SERVER JACK_NO_START_SERVER=1 JACK_NO_AUDIO_RESERVATION=1
export HOME="$work" XDG_CONFIG_HOME="$work/config" XDG_DATA_HOME="$work/data"
export XDG_DATA_DIRS="$work/share" # With the small sound font alone
mkdir -p "$work/share/soundfonts"
ln -sf /usr/share/sounds/sf2/TimGM6mb.sf2 "$work/share/soundfonts"
export ASAN_OPTIONS="exitcode=99:detect_leaks=0:handle_segv=0:${ASAN_OPTIONS:-}"
server= player= session=
trap 'for p in $session $player; do kill -9 "$p" 2>/dev/null; done; end_server; rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
n_failed=0

fail()
{
  n_failed=$((n_failed + 1))
  echo "FAILED: $*"
}

# check WORDS COMMAND...
check()
{
  words=$1
  shift
  "$@" || fail "$words"
}

server_is_gone()
{
  ! kill -0 "$server" 2>/dev/null
}

# answers: whether the server lets a client in; true if it has ended, too
answers()
{
  server_is_gone || "$peer" probe 0 listen >/dev/null 2>&1
}

# Real-time if it is allowed: an overrun loses messages
start_server()
{
  for mode in '-R -P 80' -r; do
    jackd -n "$JACK_DEFAULT_SERVER" $mode -d dummy -r 48000 -p 256 \
      >"$work/jackd.log" 2>&1 &
    server=$!
    in_time answers && kill -0 "$server" 2>/dev/null && return
  done
  cat "$work/jackd.log"
  exit 1
}

end_server()
{
  [ -n "$server" ] || return 0
  kill -CONT "$server" 2>/dev/null
  kill "$server" 2>/dev/null
  in_time server_is_gone || kill -9 "$server" 2>/dev/null
  wait "$server" 2>/dev/null
  server=
}

# trade WORDS...: begin a session over ports of our own
trade()
{
  rm -rf "$work/kept"
  case "$*" in
    *--out*) own= ;;
    *) own=--virtual ;;
  esac
  "$barter" trade --midi jack $own --record "$work/kept" --seed 5 \
    --chart blues --feel swing --tempo 200 --choruses 1 "$@" \
    >"$work/out" 2>"$work/err" </dev/null &
  session=$!
}

# ended STATUS WORDS: the session ended so
ended()
{
  wait "$session"
  got=$?
  session=
  [ "$got" -eq "$1" ] || { fail "$2: ended with $got: $(head -n 3 "$work/err")"; }
}

# hanging FILE: how many notes began and did not end
hanging()
{
  awk '{ kind = substr($2, 1, 1); key = substr($2, 2, 1) " " $3 }
    kind == "9" { on[key] = 1 }
    kind == "8" { delete on[key] }
    kind == "b" && $3 == 123 { # all notes of a channel off
      for (k in on) if (substr(k, 1, 1) == substr($2, 2, 1)) delete on[k] }
    END { n = 0; for (k in on) n++; print n }' "$1"
}

# heard N: the peer has heard more than N notes begin
heard()
{
  [ "$(grep -c ' 9' "$work/heard")" -gt "$1" ]
}

# listen HOW: the peer plays or listens until deaf
listen()
{
  "$peer" human 90 "$1" >"$work/heard" 2>/dev/null &
  player=$!
}

deaf()
{
  sleep 0.3
  kill "$player" 2>/dev/null
  wait "$player" 2>/dev/null
  player=
}

hushed()
{
  [ "$(hanging "$work/heard")" -eq 0 ]
}

# Blues of 12 bars and one to close, 4/4: 24 clocks a quarter, 1248 between
# start and stop (MIDI 1.0)
clocks_are_right()
{
  clocks=$(awk '$2 == "fa" { on = 1 } $2 == "fc" { on = 0 }
    $2 == "f8" && on { n++ } END { print n + 0 }' "$work/heard")
  echo "clocks in 52 quarters: $clocks"
  [ "$clocks" -ge 1245 ] && [ "$clocks" -le 1249 ]
}

# Where the first note of each of the three answers sounded, and what follows a
# pick-up, against where it stands in the recording (ticks, 312.5 us each at
# 200): within a period, 5333 us.
# Time zero is the middle of what the clocks say of it, 12500 us apart from the
# start on.
answers_are_on_their_beats()
{
  command -v midicsv >/dev/null || return 0
  zero=$(awk '$2 == "fa" { on = 1 }
    on && $2 == "f8" { if (!first) first = $1
      printf "%.0f\n", $1 - int(($1 - first) / 12500 + 0.5) * 12500 }' \
    "$work/heard" | sort -n |
    awk '{ z[NR] = $1 } END { print z[int((NR + 1) / 2)] }')
  midicsv "$kept" >"$work/kept.csv"
  awk -F'[ ,]+' -v zero="$zero" -v turn=$((2 * 4 * 960)) '
    NR == FNR && $3 == "Marker_t" && $5 == "1" { one = $2 }
    NR == FNR && $3 == "Note_on_c" && $4 == 1 && $6 > 0 {
      tick = $2 - one
      if (n && int(tick / turn) == int(at[n] / turn)) next
      at[++n] = tick
      key[n] = $5
    }
    NR != FNR && $2 == "91" && $4 > 0 { t[++m] = $1; k[m] = $3 }
    END {
      for (i = 1; i <= n; i++) for (j = 1; j <= m; j++) if (k[j] == key[i]) {
        late = t[j] - zero - at[i] * 312.5
        if (late > -30000 && late < 30000) { print late; break }
      }
    }' "$work/kept.csv" "$work/heard" | sort -n >"$work/late"
  echo "first notes of answers against the clock, us:" $(cat "$work/late")
  awk '$1 > -5400 && $1 < 5400 { n++ } END { exit !(NR >= 3 && n >= NR - 1) }' \
    "$work/late"
}

ports()
{
  "$barter" ports --midi jack >"$work/ports" 2>"$work/err"
}

# A whole session: ports, turns, clock, the recording and its replay
part_session()
{
  check "ports are listed" in_time ports
  # A machine that stalls moves JACK's own time: the clock has three tries
  n_tries=0
  in_step=false
  while ! $in_step && [ "$n_tries" -lt 3 ]; do
    n_tries=$((n_tries + 1))
    trade --sync --bars 2
    listen play
    ended 0 "a session"
    deaf
    kept=$(ls "$work"/kept/*.mid 2>/dev/null | head -n 1)
    check "a recording" test -s "$kept"
    check "the order of turns" test \
      "$(grep -oE '^ +[0-9]+ (you|partner)' "$work/out" | tr -s ' \n' ' ')" = \
      " 1 you 2 partner 3 you 4 partner 5 you 6 partner "
    check "no note hangs" hushed
    "$barter" answer --replay "$kept" --out "$work/again.mid" >/dev/null 2>&1 ||
      fail "the replay runs"
    check "the replay is the same, byte for byte" cmp -s "$kept" "$work/again.mid"
    if clocks_are_right && answers_are_on_their_beats; then
      in_step=true
    fi
  done
  check "in step with the clock" $in_step
}

# Practice: the ladder moves live, and the recording makes all of it again
part_practice()
{
  trade --practice --bars 1 --choruses 2
  listen play
  ended 0 "practice"
  deaf
  kept=$(ls "$work"/kept/*.mid 2>/dev/null | head -n 1)
  check "a recording of practice" test -s "$kept"
  "$barter" answer --replay "$kept" --out "$work/again.mid" >/dev/null 2>&1 ||
    fail "practice is replayed"
  check "practice again, byte for byte" cmp -s "$kept" "$work/again.mid"
  if command -v sqlite3 >/dev/null; then
    journal=$XDG_DATA_HOME/barter/learners/me/journal.db
    check "the budget moved" test "$(sqlite3 "$journal" \
      "SELECT count(DISTINCT budget) > 1 FROM turn WHERE by_player = 1")" = 1
    check "the ladder moved, and why is kept" test "$(sqlite3 "$journal" \
      "SELECT count(*) > 0 FROM turn WHERE moved LIKE '% to %: %'
       OR moved LIKE '%at once%' OR moved LIKE 'Finding your place: %'")" = 1
  fi
}

# A warm-up, steered through its plan by two taps at a time
part_warmup()
{
  listen steer
  "$barter" warmup --live --midi jack --virtual --control cc64 --record none \
    --chart blues --tempo 320 --minutes 3 >"$work/out" 2>"$work/err" </dev/null &
  session=$!
  ended 0 "a warm-up"
  deaf
  check "every item in order" test \
    "$(grep -oE '^ [1-9]\. ' "$work/out" | tr -d ' .\n')" = 12345678
  check "the last is for who does it well" grep -q '^ 8\..*To end with' "$work/out"
  check "no note hangs after a warm-up" hushed
  check "drills are played before" grep -qE '^ +1 partner +C 1' "$work/out"
  if command -v sqlite3 >/dev/null; then
    journal=$XDG_DATA_HOME/barter/learners/me/journal.db
    check "nobody played, so it was no practice" test \
      "$(sqlite3 "$journal" "SELECT count(*) FROM session WHERE kind = 'warmup'")" = 0
  fi
  listen listen
  "$barter" warmup --live --midi jack --virtual --record none \
    >"$work/out" 2>"$work/err" </dev/null &
  session=$!
  check "heard in a warm-up" in_time heard 5
  kill -INT "$session"
  ended 0 "SIGINT in a drill"
  deaf
  check "no note hangs after a drill" hushed
}

# Ideas one by one, to a player who plays whenever there is something to hear
part_ideas()
{
  listen play
  rm -rf "$work/tried"
  "$barter" ideas --live --midi jack --virtual --record "$work/tried" \
    --chart one-chord --bars 1-2 --rung 4 --count 2 --tempo 320 >"$work/out" 2>"$work/err" \
    </dev/null &
  session=$!
  ended 0 "ideas"
  deaf
  check "both were played" test \
    "$(grep -oE '^ [1-9]\. ' "$work/out" | tr -d ' .\n')" = 12
  check "no note hangs after ideas" hushed
  check "somebody played" sh -c "! grep -q 'Nothing was played' '$work/out'"
  check "what was tried is kept" test \
    "$(find "$work/tried" -name 'idea-*.mid' | wc -l)" -eq 2
  listen listen
  rm -rf "$work/tried"
  "$barter" ideas --live --midi jack --virtual --record "$work/tried" \
    --chart one-chord --bars 1-1 --rung 4 --count 2 --tempo 320 >"$work/out" 2>"$work/err" \
    </dev/null &
  session=$!
  ended 0 "ideas to nobody"
  deaf
  check "it waits with the first" test \
    "$(grep -oE '^ [1-9]\. ' "$work/out" | tr -d ' .\n')" = 1
  check "and leaves it at that" grep -q 'Nothing was played' "$work/out"
  check "with nothing to keep" test -z "$(ls "$work/tried")"
}

# The peer vanishes and comes back; the band goes on
part_signals()
{
  trade --chart one-chord --choruses 9
  "$peer" human 2 play >"$work/heard" 2>/dev/null
  listen play
  check "heard again" in_time heard 5
  kill -INT "$session"
  ended 0 "a session after its player came back"
  deaf
  check "no note hangs after SIGINT" hushed

  # Signals

  for signal in TERM HUP; do
    listen listen
    trade
    check "heard before SIG$signal" in_time heard 5
    kill -$signal "$session"
    ended 0 "SIG$signal"
    deaf
    check "no note hangs after SIG$signal" hushed
  done

  # A flood

  listen flood
  trade
  check "heard in a flood" in_time heard 5
  kill -INT "$session"
  ended 0 "a flood"
  deaf
  check "no note hangs after a flood" hushed
}

# The process stopped for a second and a half: no burst of old notes
part_stalls()
{
  listen listen
  trade
  check "heard before time was lost" in_time heard 5
  kill -STOP "$session"
  sleep 1.5
  kill -CONT "$session"
  sleep 2
  kill -INT "$session"
  ended 0 "time lost"
  deaf
  check "time lost is told" grep -q "held its breath" "$work/out"
  burst=$(awk '$2 ~ /^9/ { t[++n] = $1 }
    END { for (i = 1; i <= n; i++) { for (j = i; j <= n && t[j] - t[i] < 10000; j++) ;
            if (j - i > most) most = j - i } print most + 0 }' "$work/heard")
  check "no burst of old notes, not $burst in 10 ms" test "$burst" -le 12

  # The server dies, and another comes

  trade --chart one-chord --choruses 99
  check "a session over a server" in_time grep -qE '^ +1 you' "$work/out"
  kill -9 "$server"
  wait "$server" 2>/dev/null
  check "the server's end is told" in_time grep -q "has ended" "$work/out"
  start_server
  check "its return is told" in_time grep -q "is back" "$work/out"
  listen listen
  check "heard over the new server" in_time heard 3
  kill -INT "$session"
  ended 0 "the server died"
  deaf

  # The sound device stands still for a while

  trade --in none --out synth --chart one-chord --choruses 99
  check "sound over the server" in_time grep -q "jack" "$work/out"
  kill -STOP "$server"
  sleep 4
  kill -CONT "$server"
  check "the sound's end is told" in_time grep -q "sound system has ended" \
    "$work/out"
  check "the sound's return is told" in_time grep -q "sound is back" "$work/out"
  kill -INT "$session"
  ended 0 "the sound stood still"
}

# A crash: what was finished is on disk, and plays
part_crashes()
{
  trade --bars 1
  check "a turn before the crash" in_time grep -q '^ *2 partner' "$work/out"
  sleep 0.5
  kill -9 "$session"
  wait "$session" 2>/dev/null
  session=
  kept=$(ls "$work"/kept/*.mid 2>/dev/null | head -n 1)
  check "kept in spite of a crash" test -s "$kept"
  "$barter" answer --replay "$kept" --out "$work/again.mid" >/dev/null 2>&1 ||
    fail "a crashed session can be replayed"

  # A crash while another program's port was played: nothing hangs there

  listen listen
  check "ears to play to" in_time sh -c "$barter ports --midi jack | grep -q human:ears"
  trade --in none --out human:ears
  check "heard before the crash" in_time heard 5
  kill -9 "$session"
  wait "$session" 2>/dev/null
  session=
  check "no note hangs after a crash" in_time hushed
  deaf
}

start_server
echo "the server is there"
for part in "$@"; do
  "part_$part"
done
[ "$n_failed" -eq 0 ] && echo "all as it should be"
[ "$n_failed" -eq 0 ]
