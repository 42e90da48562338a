#include "core/midi/smf_bytes.h"

#include <stdlib.h>
#include <string.h>

static void
write_32(uint8_t* const at, const uint32_t number)
{
  at[0] = (uint8_t)(number >> 24U);
  at[1] = (uint8_t)(number >> 16U);
  at[2] = (uint8_t)(number >> 8U);
  at[3] = (uint8_t)number;
}

static bool
reserve(SmfBytes* const bytes, const size_t size)
{
  if (bytes->failed) {
    return false;
  }
  if (size <= bytes->capacity - bytes->size) {
    return true;
  }

  const size_t   more   = (bytes->size + size) * 2 + 64;
  uint8_t* const memory = realloc(bytes->bytes, more);
  if (!memory) {
    bytes->failed = true;
    return false;
  }
  bytes->bytes    = memory;
  bytes->capacity = more;
  return true;
}

void
smf_bytes_add(SmfBytes* const bytes, const void* const added, const size_t size)
{
  if (size && reserve(bytes, size)) {
    memcpy(bytes->bytes + bytes->size, added, size);
    bytes->size += size;
  }
}

void
smf_bytes_add_16(SmfBytes* const bytes, const unsigned number)
{
  const uint8_t both[] = {(uint8_t)(number >> 8U), (uint8_t)number};
  smf_bytes_add(bytes, both, sizeof(both));
}

void
smf_bytes_add_32(SmfBytes* const bytes, const uint32_t number)
{
  uint8_t all[4];
  write_32(all, number);
  smf_bytes_add(bytes, all, sizeof(all));
}

void
smf_bytes_set_32(SmfBytes* const bytes, const size_t at, const uint32_t number)
{
  if (!bytes->failed) {
    write_32(bytes->bytes + at, number);
  }
}

void
smf_bytes_free(SmfBytes* const bytes)
{
  free(bytes->bytes);
  *bytes = (SmfBytes){0};
}
