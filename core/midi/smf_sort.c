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

// Merge two sorted neighbours: those below `middle` step aside into `room`, and
// what is written never overtakes what is still to be read above. Which one is
// taken is as good as random, so it is computed, not branched on.
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
