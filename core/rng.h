/// @file core/rng.h A small seeded source of chance, passed in by value.
///
/// PCG32 (O'Neill 2014, "PCG: A Family of Simple Fast Space-Efficient
/// Statistically Good Algorithms for Random Number Generation"): the same seed
/// gives the same numbers on every machine.

#ifndef CORE_RNG_H
#define CORE_RNG_H

#include <stdint.h>

/// A source of chance, made by rng_seed(). Copy it to branch off.
typedef struct {
  uint64_t state;
  uint64_t stream; ///< Odd
} Rng;

/// Make a source; sources of different streams are independent of each other.
Rng
rng_seed(uint64_t seed, uint64_t stream);

/// Return the next 32 random bits.
uint32_t
rng_next(Rng* rng);

/// Return a whole number, 0..bound - 1, all equally likely; `bound` is not 0.
uint32_t
rng_below(Rng* rng, uint32_t bound);

/// Return a number, 0 <= x < 1.
double
rng_unit(Rng* rng);

/**
   Return an index, 0..n - 1, likely in proportion to its weight.

   @param weights `n` weights, none negative, not all zero.
*/
unsigned
rng_pick(Rng* rng, const float* weights, unsigned n);

#endif // CORE_RNG_H
