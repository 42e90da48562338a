#include "core/midi/smf_sort.h"

#include "core/tick.h"

#include <string.h>

static Tick
tick_of(const unsigned char* const record)
{
  Tick tick;
  memcpy(&tick, record, sizeof(tick));
  return tick;
}

// Write the next `n` records of a merge, where neither side runs out. Which
// side comes next is as good as random: a branch on it would be mistaken half
// the time, so what is taken is computed, and the ticks after it are read
// ahead.
static void
merge_some(unsigned char**       out,
           const unsigned char** low,
           const unsigned char** high,
           const size_t          n)
{
  Tick low_tick  = tick_of(*low);
  Tick high_tick = tick_of(*high);
  for (size_t i = 0; i < n; ++i) {
    const Tick     next_low  = tick_of(*low + SMF_RECORD_SIZE);
    const Tick     next_high = tick_of(*high + SMF_RECORD_SIZE);
    const uint64_t is_high   = -(uint64_t)(high_tick < low_tick);
    uint64_t       taken[2];
    uint64_t       other[2];
    memcpy(taken, *low, SMF_RECORD_SIZE);
    memcpy(other, *high, SMF_RECORD_SIZE);
    taken[0] ^= (taken[0] ^ other[0]) & is_high;
    taken[1] ^= (taken[1] ^ other[1]) & is_high;
    memcpy(*out, taken, SMF_RECORD_SIZE);
    *out += SMF_RECORD_SIZE;
    *high += SMF_RECORD_SIZE & is_high;
    *low += SMF_RECORD_SIZE & ~is_high;
    high_tick ^= (high_tick ^ next_high) & (Tick)is_high;
    low_tick ^= (low_tick ^ next_low) & (Tick)~is_high;
  }
}

// Merge two sorted neighbours: those below `middle` step aside into `room`, and
// what is written never overtakes what is still to be read above.
static void
merge(unsigned char*             out,
      const unsigned char* const middle,
      const unsigned char* const end,
      unsigned char* const       room)
{
  const size_t n_aside = (size_t)(middle - out);
  memcpy(room, out, n_aside);

  const unsigned char*       low     = room;
  const unsigned char* const low_end = room + n_aside;
  const unsigned char*       high    = middle;
  for (size_t n = 2; n > 1;) {
    const size_t n_low  = (size_t)(low_end - low) / SMF_RECORD_SIZE;
    const size_t n_high = (size_t)(end - high) / SMF_RECORD_SIZE;
    n                   = n_low < n_high ? n_low : n_high;
    merge_some(&out, &low, &high, n > 1 ? n - 1 : 0);
  }
  while (low < low_end && high < end) {
    const bool takes_high = tick_of(high) < tick_of(low);
    memcpy(out, takes_high ? high : low, SMF_RECORD_SIZE);
    high += takes_high ? SMF_RECORD_SIZE : 0;
    low += takes_high ? 0 : SMF_RECORD_SIZE;
    out += SMF_RECORD_SIZE;
  }
  memcpy(out, low, (size_t)(low_end - low));
}

bool
smf_is_sorted(const void* const records, const size_t n)
{
  const unsigned char* record = records;
  for (size_t i = 1; i < n; ++i, record += SMF_RECORD_SIZE) {
    if (tick_of(record + SMF_RECORD_SIZE) < tick_of(record)) {
      return false;
    }
  }
  return true;
}

// Calls itself at most log2(n) deep.
void
smf_sort(void* const records, const size_t n, void* const room)
{
  unsigned char* const begin = records;
  if (smf_is_sorted(records, n)) {
    return;
  }

  unsigned char* const middle = begin + n / 2 * SMF_RECORD_SIZE;
  smf_sort(begin, n / 2, room);
  smf_sort(middle, n - n / 2, room);
  merge(begin, middle, begin + n * SMF_RECORD_SIZE, room);
}
