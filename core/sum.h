/// @file core/sum.h A sum of bytes that tells most others apart: FNV-1a, 64
/// bits (Fowler, Noll & Vo). No secret is safe with it.

#ifndef CORE_SUM_H
#define CORE_SUM_H

#include <stddef.h>
#include <stdint.h>

/// The sum of nothing.
#define SUM_BEGIN UINT64_C(14695981039346656037)

/// Go on with some bytes.
static inline uint64_t
sum_add(uint64_t sum, const void* const bytes, const size_t size)
{
  const unsigned char* const each = bytes;
  for (size_t i = 0; i < size; ++i) {
    sum = (sum ^ each[i]) * UINT64_C(1099511628211);
  }
  return sum;
}

#endif // CORE_SUM_H
