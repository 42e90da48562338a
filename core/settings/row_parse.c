// A value from words of the command line or a page.

#include "core/settings/row.h"
#include "core/settings/row_words.h"

#include "core/settings/gm.h"
#include "core/settings/value.h"

#include <ctype.h>
#include <errno.h>
#include <inttypes.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static Status
parse_word(const Row* const  row,
           void* const       base,
           const char* const as,
           const char* const text,
           Fault* const      fault)
{
  const unsigned n     = row_count_words(row);
  const unsigned which = row_find_word(row, text);
  char           list[ROW_WORDS_CAPACITY];
  if (which < n) {
    row_store(row, base, row->kind == ROW_COUNT ? strtod(text, NULL) : which);
    return STATUS_OK;
  }
  return fault_say(fault,
                   row->kind == ROW_COUNT ? STATUS_RANGE : STATUS_SYNTAX,
                   "%s %.60s is %s %s",
                   as,
                   text,
                   n == 2 ? "neither" : "not",
                   row_list_words(row, n == 2 ? " nor " : " or ", '-', list));
}

static Status
parse_number(const Row* const  row,
             void* const       base,
             const char* const as,
             const char* const text,
             Fault* const      fault)
{
  const bool   is_whole = row->kind != ROW_NUMBER;
  char*        end      = NULL;
  const double number   = strtod(text, &end);
  const bool   is_inside =
    end != text && !*end && number >= row->least && number <= row->most;
  if (!is_inside || (is_whole && number != floor(number))) {
    return fault_say(fault,
                     STATUS_RANGE,
                     "%s %.60s is not a %snumber from %.10g to %.10g",
                     as,
                     text,
                     is_inside ? "whole " : "",
                     row->least,
                     row->most);
  }
  row_store(row, base, number);
  return STATUS_OK;
}

// A report holds whole numbers of 63 bits
static Status
parse_long(const Row* const  row,
           void* const       base,
           const char* const as,
           const char* const text,
           Fault* const      fault)
{
  char* end              = NULL;
  errno                  = 0;
  const uint64_t integer = strtoull(text, &end, 10);
  if (!isdigit((unsigned char)text[0]) || *end || errno ||
      integer > INT64_MAX) {
    return fault_say(fault,
                     STATUS_RANGE,
                     "%s %.60s is not a whole number from 0 to %" PRId64,
                     as,
                     text,
                     INT64_MAX);
  }
  *(uint64_t*)row_field(row, base) = integer;
  return STATUS_OK;
}

static Status
parse_sound(const Row* const  row,
            void* const       base,
            const char* const as,
            const char* const text,
            Fault* const      fault)
{
  uint8_t    key    = 0;
  const bool is_key = row->kind == ROW_PITCH;
  const bool is_there =
    is_key ? value_find_pitch(text, &key) : gm_find_program(text, &key);
  if (!is_there) {
    return fault_say(
      fault,
      STATUS_RANGE,
      is_key ? "%s %.60s is no pitch; write a note with its octave, C4 for "
               "middle C"
             : "%s %.60s is no sound of General MIDI; write its name or its "
               "number, 1 to 128",
      as,
      text);
  }
  row_store(row, base, key);
  return STATUS_OK;
}

// A text goes into a recording, on a line of its own
static Status
parse_text(const Row* const  row,
           void* const       base,
           const char* const as,
           const char* const text,
           Fault* const      fault)
{
  const size_t length = strlen(text);
  if (length >= (size_t)row->most) {
    return fault_say(fault,
                     STATUS_RANGE,
                     "%s is too long; it may have %.0f bytes",
                     as,
                     row->most - 1);
  }
  if (strpbrk(text, "\n\r")) {
    return fault_say(fault,
                     STATUS_SYNTAX,
                     "%s has a line break in it; it must be one line",
                     as);
  }
  memcpy(row_field(row, base), text, length + 1);
  return STATUS_OK;
}

static Status
parse_own(const Row* const  row,
          void* const       base,
          const char* const as,
          const char* const text,
          Fault* const      fault)
{
  return row->parse(row_field(row, base), text)
           ? STATUS_OK
           : fault_say(fault,
                       STATUS_RANGE,
                       "%s %.60s is not understood; write %s",
                       as,
                       text,
                       row->right);
}

Status
row_parse(const Row* const  row,
          void* const       base,
          const char* const as,
          const char* const text,
          Fault* const      fault)
{
  switch (row->kind) {
    case ROW_FLAG:
      *(bool*)row_field(row, base) = true;
      return STATUS_OK;
    case ROW_EITHER:
    case ROW_WORD:
      return parse_word(row, base, as, text, fault);
    case ROW_COUNT:
      return row->words ? parse_word(row, base, as, text, fault)
                        : parse_number(row, base, as, text, fault);
    case ROW_BYTE:
    case ROW_NUMBER:
      return parse_number(row, base, as, text, fault);
    case ROW_LONG:
      return parse_long(row, base, as, text, fault);
    case ROW_PITCH:
    case ROW_PROGRAM:
      return parse_sound(row, base, as, text, fault);
    case ROW_TEXT:
      return parse_text(row, base, as, text, fault);
    case ROW_LINK:
      *(const char**)row_field(row, base) = text;
      return STATUS_OK;
    case ROW_OWN:
      return parse_own(row, base, as, text, fault);
  }
  return STATUS_OK;
}
