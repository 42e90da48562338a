#include "core/rng.h"

#include <criterion/criterion.h>

// The first values of the reference program of the PCG paper's minimal C
// library, pcg32-demo with seed 42 and stream 54 (from memory).
Test(rng, gives_the_published_numbers)
{
  static const uint32_t published[] = {
    0xa15c02b7,
    0x7b47f409,
    0xba1d3330,
    0x83d2f293,
    0xbfa4784b,
    0xcbed606e,
  };
  Rng rng = rng_seed(42, 54);
  for (size_t i = 0; i < sizeof(published) / sizeof(*published); ++i) {
    cr_assert_eq(rng_next(&rng), published[i], "number %zu", i);
  }
}

Test(rng, picks_in_proportion)
{
  const float weights[] = {1.0F, 0.0F, 3.0F};
  unsigned    counts[3] = {0};
  Rng         rng       = rng_seed(1, 1);
  for (unsigned i = 0; i < 40000; ++i) {
    ++counts[rng_pick(&rng, weights, 3)];
  }
  cr_assert_eq(counts[1], 0);
  // 10,000 expected, standard deviation 87: five of them
  cr_assert_lt(counts[0], 10435);
  cr_assert_gt(counts[0], 9565);
}

Test(rng, stays_below_its_bound)
{
  unsigned counts[7] = {0};
  Rng      rng       = rng_seed(3, 9);
  for (unsigned i = 0; i < 7000; ++i) {
    const uint32_t drawn = rng_below(&rng, 7);
    cr_assert_lt(drawn, 7);
    ++counts[drawn];
  }
  for (unsigned i = 0; i < 7; ++i) {
    cr_assert_gt(counts[i], 850); // 1,000 expected, deviation 29
  }
}
