#include "core/sum.h"

#include <criterion/criterion.h>

#include <string.h>

// The FNV Non-Cryptographic Hash Algorithm (draft-eastlake-fnv), test vectors
// of FNV-1a, 64 bits; from memory
Test(sum, is_as_published)
{
  static const struct {
    const char* text;
    uint64_t    sum;
  } rows[] = {
    {"", UINT64_C(0xcbf29ce484222325)},
    {"a", UINT64_C(0xaf63dc4c8601ec8c)},
    {"foobar", UINT64_C(0x85944171f73967e8)},
  };
  for (size_t i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    const char* const text = rows[i].text;
    cr_assert_eq(sum_add(SUM_BEGIN, text, strlen(text)), rows[i].sum);
  }
}

Test(sum, goes_on)
{
  const uint64_t half = sum_add(SUM_BEGIN, "foo", 3);
  cr_assert_eq(sum_add(half, "bar", 3), sum_add(SUM_BEGIN, "foobar", 6));
}
