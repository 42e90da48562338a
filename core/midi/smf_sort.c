#include "core/midi/smf_sort.h"

#include "core/tick.h"

#include <stdbool.h>
#include <string.h>

static Tick
tick_of(const unsigned char* const record)
{
  Tick tick;
  memcpy(&tick, record, sizeof(tick));
  return tick;
}

static bool
is_sorted(const unsigned char* record, const size_t n)
{
  for (size_t i = 1; i < n; ++i, record += SMF_RECORD_SIZE) {
    if (tick_of(record + SMF_RECORD_SIZE) < tick_of(record)) {
      return false;
    }
  }
  return true;
}

// Merges two sorted halves: the first steps aside into `room`, and what is
// written never overtakes what is still to be read. Calls itself at most
// log2(n) deep.
void
smf_sort(void* const records, const size_t n, void* const room)
{
  unsigned char* const       out   = records;
  const unsigned char* const aside = room;
  const size_t               half  = n / 2 * SMF_RECORD_SIZE;
  const size_t               whole = n * SMF_RECORD_SIZE;
  if (is_sorted(records, n)) {
    return;
  }

  smf_sort(out, n / 2, room);
  smf_sort(out + half, n - n / 2, room);
  memcpy(room, out, half);
  size_t low  = 0;
  size_t high = half;
  for (size_t at = 0; low < half; at += SMF_RECORD_SIZE) {
    const bool is_high =
      high < whole && tick_of(out + high) < tick_of(aside + low);
    memcpy(out + at, is_high ? out + high : aside + low, SMF_RECORD_SIZE);
    *(is_high ? &high : &low) += SMF_RECORD_SIZE;
  }
}
