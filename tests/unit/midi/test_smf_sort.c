#include "core/midi/smf.h"
#include "core/midi/smf_sort.h"
#include "core/rng.h"

#include <criterion/criterion.h>
#include <string.h>

enum { N_MOST = 70 };

// Stable by its nature, and slow.
static void
insertion_sort(SmfTempo* const records, const size_t n)
{
  for (size_t i = 1; i < n; ++i) {
    for (size_t j = i; j && records[j].tick < records[j - 1].tick; --j) {
      const SmfTempo record = records[j];
      records[j]            = records[j - 1];
      records[j - 1]        = record;
    }
  }
}

static void
check(const SmfTempo* const records, const size_t n)
{
  SmfTempo expected[N_MOST];
  SmfTempo sorted[N_MOST];
  SmfTempo room[N_MOST / 2 + 1];
  memset(expected, 0, sizeof(expected));
  memset(room, 0xAA, sizeof(room));
  memcpy(expected, records, n * sizeof(*records));
  memcpy(sorted, records, n * sizeof(*records));
  insertion_sort(expected, n);
  smf_sort(sorted, n, room);

  for (size_t i = 0; i < n; ++i) {
    cr_assert_eq(sorted[i].tick, expected[i].tick, "%zu of %zu", i, n);
    cr_assert_eq(sorted[i].us_per_quarter, expected[i].us_per_quarter);
  }
  const unsigned char* const beyond = (const void*)&room[n / 2];
  for (size_t i = 0; i < sizeof(*room); ++i) {
    cr_assert_eq(beyond[i], 0xAA, "wrote beyond half of %zu", n);
  }
}

Test(smf_sort, agrees_with_a_slow_stable_sort)
{
  Rng rng = rng_seed(11, 1);
  for (size_t n = 0; n <= N_MOST - 2; ++n) {
    for (unsigned spread = 1; spread < 200; spread *= 3) {
      SmfTempo records[N_MOST];
      for (size_t i = 0; i < n; ++i) {
        records[i] = (SmfTempo){(Tick)rng_below(&rng, spread) - 3, (uint32_t)i};
      }
      check(records, n);
    }
  }
}

Test(smf_sort, merges_runs_of_any_length)
{
  Rng rng = rng_seed(12, 1);
  for (unsigned round = 0; round < 2000; ++round) {
    SmfTempo     records[N_MOST];
    const size_t n    = rng_below(&rng, N_MOST - 1);
    Tick         tick = 0;
    for (size_t i = 0; i < n; ++i) {
      tick       = rng_below(&rng, 12) ? tick + rng_below(&rng, 4) : 0;
      records[i] = (SmfTempo){tick, (uint32_t)i};
    }
    check(records, n);
  }
}
