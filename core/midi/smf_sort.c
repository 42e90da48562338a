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

static void
copy(unsigned char* const to, const unsigned char* const from)
{
  memcpy(to, from, SMF_RECORD_SIZE);
}

// Merge two sorted neighbours: `n` records from `begin` on, and as many or one
// more behind them. The first ones step aside into `room`. Then the result is
// written from both ends at once, towards the middle: two chains of decisions
// that do not wait for each other. Neither can run out of records: in `n`
// steps, each takes fewer than `n` of either side before its last one.
static void
merge(unsigned char* const begin,
      const size_t         n,
      unsigned char* const end,
      unsigned char* const room)
{
  memcpy(room, begin, n * SMF_RECORD_SIZE);

  const unsigned char* low       = room;
  const unsigned char* high      = begin + n * SMF_RECORD_SIZE;
  const unsigned char* last_low  = room + (n - 1) * SMF_RECORD_SIZE;
  const unsigned char* last_high = end - SMF_RECORD_SIZE;
  unsigned char*       out       = begin;
  unsigned char*       last_out  = end - SMF_RECORD_SIZE;
  for (size_t i = 0; i < n; ++i) {
    const bool takes_high = tick_of(high) < tick_of(low);
    copy(out, takes_high ? high : low);
    high += takes_high ? SMF_RECORD_SIZE : 0;
    low += takes_high ? 0 : SMF_RECORD_SIZE;
    out += SMF_RECORD_SIZE;

    const bool leaves_high = tick_of(last_high) < tick_of(last_low);
    copy(last_out, leaves_high ? last_low : last_high);
    last_high -= leaves_high ? 0 : SMF_RECORD_SIZE;
    last_low -= leaves_high ? SMF_RECORD_SIZE : 0;
    last_out -= SMF_RECORD_SIZE;
  }
  if (out == last_out) { // An odd one is left, on one side or the other
    copy(out, low <= last_low ? low : high);
  }
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
  merge(begin, n / 2, begin + n * SMF_RECORD_SIZE, room);
}
