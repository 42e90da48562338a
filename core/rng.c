#include "core/rng.h"

#include <assert.h>

Rng
rng_seed(const uint64_t seed, const uint64_t stream)
{
  Rng rng = {0, stream << 1U | 1U};
  (void)rng_next(&rng);
  rng.state += seed;
  (void)rng_next(&rng);
  return rng;
}

uint32_t
rng_next(Rng* const rng)
{
  const uint64_t old = rng->state;
  rng->state         = old * UINT64_C(6364136223846793005) + rng->stream;

  const uint32_t mixed = (uint32_t)(((old >> 18U) ^ old) >> 27U);
  const uint32_t turn  = (uint32_t)(old >> 59U);
  return mixed >> turn | mixed << (-turn & 31U);
}

uint32_t
rng_below(Rng* const rng, const uint32_t bound)
{
  const uint32_t first_fair =
    -bound % bound; // Below it, low values are doubled
  uint32_t bits = rng_next(rng);
  while (bits < first_fair) {
    bits = rng_next(rng);
  }
  return bits % bound;
}

double
rng_unit(Rng* const rng)
{
  return rng_next(rng) * 0x1p-32;
}

unsigned
rng_pick(Rng* const rng, const float* const weights, const unsigned n)
{
  double total = 0.0;
  for (unsigned i = 0; i < n; ++i) {
    total += (double)weights[i];
  }

  double   left = rng_unit(rng) * total;
  unsigned last =
    n; // The last index that can be drawn, should rounding overrun
  for (unsigned i = 0; i < n; ++i) {
    if (weights[i] > 0.0F) {
      last = i;
      left -= (double)weights[i];
      if (left < 0.0) {
        break;
      }
    }
  }
  assert(last < n);
  return last;
}
