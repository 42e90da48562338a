#include "core/ports/message.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdlib.h>
#include <string.h>

// What must come out, by MIDI 1.0: messages of three bytes, then of two
typedef struct {
  char     name[40];
  unsigned size;
  uint8_t  bytes[16];
  unsigned n_messages;
  uint8_t  first[3];
  uint8_t  last[3];
} Row;

ParameterizedTestParameters(message, next)
{
  static Row rows[] = {
    {"a key", 3, {0x90, 60, 90}, 1, {0x90, 60, 90}, {0x90, 60, 90}},
    {"velocity 0 is a release",
     3,
     {0x93, 60, 0},
     1,
     {0x83, 60, 0},
     {0x83, 60, 0}},
    {"two in a packet",
     6,
     {0x90, 60, 90, 0x80, 60, 5},
     2,
     {0x90, 60, 90},
     {0x80, 60, 5}},
    {"cut short", 2, {0x90, 60}, 0, {0}, {0}},
    {"data without a status", 2, {60, 90}, 0, {0}, {0}},
    {"a status for data",
     5,
     {0x90, 60, 0x90, 61, 9},
     1,
     {0x90, 61, 9},
     {0x90, 61, 9}},
    {"active sensing", 1, {0xFE}, 0, {0}, {0}},
    {"clock, then a key", 4, {0xF8, 0x90, 1, 2}, 1, {0x90, 1, 2}, {0x90, 1, 2}},
    {"a sysex, then a key",
     8,
     {0xF0, 1, 2, 3, 0xF7, 0x90, 1, 2},
     1,
     {0x90, 1, 2},
     {0x90, 1, 2}},
    {"a program", 2, {0xC5, 7}, 1, {0xC5, 7, 0}, {0xC5, 7, 0}},
    {"pressure and a wheel",
     5,
     {0xD0, 1, 0xE0, 2, 3},
     2,
     {0xD0, 1, 0},
     {0xE0, 2, 3}},
    {"nothing", 0, {0}, 0, {0}, {0}},
  };
  return cr_make_param_array(Row, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const Row* row, message, next)
{
  MidiMessage message = {.size = 0};
  MidiMessage first   = {.size = 0};
  unsigned    n       = 0;
  for (size_t at = 0; message_next(row->bytes, row->size, &at, &message); ++n) {
    first = n ? first : message;
  }
  cr_assert_eq(n, row->n_messages, "%s: %u", row->name, n);
  if (n) {
    cr_assert_eq(memcmp(first.bytes, row->first, 3), 0, "%s", row->name);
    cr_assert_eq(memcmp(message.bytes, row->last, 3), 0, "%s", row->name);
  }
}

// Whatever the bytes: what comes out is whole, and reading ends
Test(message, junk)
{
  uint32_t state = 1;
  for (unsigned round = 0; round < 20000; ++round) {
    const size_t   size  = round % 17;
    uint8_t* const bytes = malloc(size + !size); // The sanitizer sees its end
    for (size_t i = 0; i < size; ++i) {
      state    = state * 1664525U + 1013904223U;
      bytes[i] = (uint8_t)(state >> 24);
    }
    MidiMessage message;
    size_t      before = 0;
    for (size_t at = 0; message_next(bytes, size, &at, &message);) {
      cr_assert(at > before && at <= size);
      before              = at;
      const unsigned kind = message.bytes[0] & 0xF0U; // MIDI 1.0, table II
      cr_assert_eq(message.size, kind == 0xC0 || kind == 0xD0 ? 2 : 3);
      cr_assert(message.bytes[1] < 0x80 && message.bytes[2] < 0x80);
      cr_assert(message.bytes[0] >= 0x80 && message.bytes[0] < 0xF0);
    }
    free(bytes);
  }
}
