#include "bytes.h"
#include "core/midi/smf_vlq.h"

#include <criterion/criterion.h>

// RP-001, the table of numbers of variable length.
static const struct {
  uint32_t    value;
  const char* hex;
} published[] = {
  {0x00000000, "00"},
  {0x00000040, "40"},
  {0x0000007F, "7F"},
  {0x00000080, "81 00"},
  {0x00002000, "C0 00"},
  {0x00003FFF, "FF 7F"},
  {0x00004000, "81 80 00"},
  {0x00100000, "C0 80 00"},
  {0x001FFFFF, "FF FF 7F"},
  {0x00200000, "81 80 80 00"},
  {0x08000000, "C0 80 80 00"},
  {0x0FFFFFFF, "FF FF FF 7F"},
};

Test(smf_vlq, reads_and_writes_the_published_table)
{
  for (size_t i = 0; i < sizeof(published) / sizeof(*published); ++i) {
    const Bytes bytes = bytes_of(published[i].hex);
    uint32_t    value = 0;
    cr_assert_eq(smf_vlq_read(bytes.bytes, bytes.size, &value), bytes.size);
    cr_assert_eq(value, published[i].value, "%s", published[i].hex);

    uint8_t written[SMF_VLQ_CAPACITY];
    cr_assert_eq(smf_vlq_write(written, published[i].value), bytes.size);
    cr_assert_arr_eq(written, bytes.bytes, bytes.size);
  }
}

Test(smf_vlq, refuses_what_rp_001_does)
{
  uint8_t written[SMF_VLQ_CAPACITY];
  cr_assert_eq(smf_vlq_write(written, 0x10000000), 0);

  static const char* const illegal[] = {"FF FF FF FF 7F", "81", "FF FF FF"};
  for (size_t i = 0; i < sizeof(illegal) / sizeof(*illegal); ++i) {
    const Bytes bytes = bytes_of(illegal[i]);
    uint32_t    value = 77;
    cr_assert_eq(smf_vlq_read(bytes.bytes, bytes.size, &value), 0);
    cr_assert_eq(value, 77, "%s wrote a value", illegal[i]);
  }
  uint32_t value = 77;
  cr_assert_eq(smf_vlq_read(written, 0, &value), 0);
}

// Not forbidden in words by RP-001 (common practice).
Test(smf_vlq, accepts_longer_forms_than_needed)
{
  const Bytes bytes = bytes_of("80 80 00");
  uint32_t    value = 77;
  cr_assert_eq(smf_vlq_read(bytes.bytes, bytes.size, &value), 3);
  cr_assert_eq(value, 0);
}

Test(smf_vlq, reads_back_every_length_and_edge)
{
  for (uint64_t value = 0; value <= SMF_VLQ_MAX; value += value / 3 + 1) {
    uint8_t        bytes[SMF_VLQ_CAPACITY];
    uint32_t       read_back = 0;
    const unsigned n         = smf_vlq_write(bytes, (uint32_t)value);
    cr_assert_eq(smf_vlq_read(bytes, n, &read_back), n);
    cr_assert_eq(read_back, value);
    cr_assert(n == 1 || value >> (7 * (n - 1)), "more bytes than needed");
  }
}
