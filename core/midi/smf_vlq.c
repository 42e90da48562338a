#include "core/midi/smf_vlq.h"

unsigned
smf_vlq_read(const uint8_t* const bytes,
             const size_t         size,
             uint32_t* const      value)
{
  uint32_t sum = 0;
  for (unsigned i = 0; i < SMF_VLQ_CAPACITY && i < size; ++i) {
    sum = sum << 7U | (bytes[i] & 0x7FU);
    if (!(bytes[i] & 0x80U)) {
      *value = sum;
      return i + 1U;
    }
  }
  return 0;
}

unsigned
smf_vlq_write(uint8_t bytes[SMF_VLQ_CAPACITY], const uint32_t value)
{
  if (value > SMF_VLQ_MAX) {
    return 0;
  }

  unsigned n = 1;
  while (n < SMF_VLQ_CAPACITY && value >> (7U * n)) {
    ++n;
  }
  for (unsigned i = 0; i < n; ++i) {
    const unsigned rest = n - 1U - i;
    bytes[i] = (uint8_t)((value >> (7U * rest) & 0x7FU) | (rest ? 0x80U : 0U));
  }
  return n;
}
