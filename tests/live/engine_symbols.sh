#!/bin/sh
# engine_symbols.sh NM OBJECT: what the engine's thread may call, by the
# undefined symbols of its object. Setting up may begin a thread.
set -eu
"$1" -u "$2" | awk '{ print $2 }' | grep -vE \
  '^(ring_|session_|beat_clock_|tempo_clock_|change_is_any$|pace_|monotonic_ns$|tapping_|conversation_channel$|meter_|memcpy$|memset$|thread_hurry$|thread_begin$|pthread_join$|_GLOBAL_OFFSET_TABLE_$)' &&
  { echo "the engine calls these; they may wait or allocate"; exit 1; }
"$1" -u "$2" | grep -q session_advance # It was read at all
