#include "core/settings/row.h"

#include "core/music/pitch.h"
#include "core/settings/gm.h"
#include "core/settings/value.h"

#include <ctype.h>
#include <errno.h>
#include <inttypes.h>
#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WORDS_TEXT_CAPACITY = 128, NAMES_MOST = 64 };

void*
row_field(const Row* const row, void* const base)
{
  return (char*)base + row->offset;
}

static size_t
field_size(const Row* const row)
{
  switch (row->kind) {
    case ROW_FLAG:
    case ROW_EITHER:
      return sizeof(bool);
    case ROW_WORD:
    case ROW_COUNT:
      return sizeof(unsigned);
    case ROW_BYTE:
    case ROW_PITCH:
    case ROW_PROGRAM:
      return sizeof(uint8_t);
    case ROW_LONG:
      return sizeof(uint64_t);
    case ROW_NUMBER:
      return sizeof(double);
    case ROW_TEXT:
    case ROW_OWN:
      return (size_t)row->most;
    case ROW_LINK:
      return sizeof(const char*);
  }
  return 0;
}

void
row_copy(const Row* const row, void* const to, const void* const from)
{
  memcpy(
    (char*)to + row->offset, (const char*)from + row->offset, field_size(row));
}

// Words

static unsigned
count_words(const char* const* const words)
{
  unsigned n = 0;
  while (words && words[n]) {
    ++n;
  }
  return n;
}

// Which word a text is; as many as there are if it is none
// Whether two words are alike, be they joined by blanks or hyphens
static bool
is_word(const char* word, const char* text)
{
  while (*word && *text &&
         (tolower((unsigned char)*word) == tolower((unsigned char)*text) ||
          (*word == ' ' && *text == '-'))) {
    ++word;
    ++text;
  }
  return *word == *text;
}

static unsigned
find_word(const char* const* const words, const char* const text)
{
  unsigned i = 0;
  while (words[i] && !is_word(words[i], text)) {
    ++i;
  }
  return i;
}

// `player or partner`, `1, 2 or 4`
static const char*
list_words(const char* const* const words,
           const char* const        last_joint,
           char                     list[WORDS_TEXT_CAPACITY])
{
  const unsigned n      = count_words(words);
  size_t         length = 0;
  list[0]               = '\0';
  for (unsigned i = 0; i < n && length < WORDS_TEXT_CAPACITY; ++i) {
    const char* const joint = i == 0 ? "" : i + 1 < n ? ", " : last_joint;
    length += (size_t)snprintf(
      list + length, WORDS_TEXT_CAPACITY - length, "%s%s", joint, words[i]);
  }
  return list;
}

// Storing what was read

static void
store_number(const Row* const row, void* const base, const double number)
{
  void* const field = row_field(row, base);
  switch (row->kind) {
    case ROW_FLAG:
    case ROW_EITHER:
      *(bool*)field = number != 0.0;
      break;
    case ROW_WORD:
    case ROW_COUNT:
      *(unsigned*)field = (unsigned)number;
      break;
    case ROW_BYTE:
    case ROW_PITCH:
    case ROW_PROGRAM:
      *(uint8_t*)field = (uint8_t)number;
      break;
    case ROW_NUMBER:
      *(double*)field = number;
      break;
    case ROW_LONG:
    case ROW_TEXT:
    case ROW_LINK:
    case ROW_OWN:
      break;
  }
}

// From words

static Status
parse_word(const Row* const  row,
           void* const       base,
           const char* const as,
           const char* const text,
           Fault* const      fault)
{
  const unsigned n     = count_words(row->words);
  const unsigned which = find_word(row->words, text);
  char           list[WORDS_TEXT_CAPACITY];
  if (which < n) {
    store_number(
      row, base, row->kind == ROW_COUNT ? strtod(text, NULL) : which);
    return STATUS_OK;
  }
  return fault_set(fault,
                   row->kind == ROW_COUNT ? STATUS_RANGE : STATUS_SYNTAX,
                   NULL,
                   0,
                   "%s %.60s is %s %s",
                   as,
                   text,
                   n == 2 ? "neither" : "not",
                   list_words(row->words, n == 2 ? " nor " : " or ", list));
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
    return fault_set(fault,
                     STATUS_RANGE,
                     NULL,
                     0,
                     "%s %.60s is not a %snumber from %.10g to %.10g",
                     as,
                     text,
                     is_inside ? "whole " : "",
                     row->least,
                     row->most);
  }
  store_number(row, base, number);
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
    return fault_set(fault,
                     STATUS_RANGE,
                     NULL,
                     0,
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
    return fault_set(
      fault,
      STATUS_RANGE,
      NULL,
      0,
      is_key ? "%s %.60s is no pitch; write a note with its octave, C4 for "
               "middle C"
             : "%s %.60s is no sound of General MIDI; write its name or its "
               "number, 1 to 128",
      as,
      text);
  }
  store_number(row, base, key);
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
    return fault_set(fault,
                     STATUS_RANGE,
                     NULL,
                     0,
                     "%s is too long; it may have %.0f bytes",
                     as,
                     row->most - 1);
  }
  if (strpbrk(text, "\n\r")) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     NULL,
                     0,
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
           : fault_set(fault,
                       STATUS_RANGE,
                       NULL,
                       0,
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

// From settings

static void
read_count(const Row* const row, void* const base, const Setting setting)
{
  unsigned* const field = row_field(row, base);
  const unsigned  count =
    (unsigned)value_int(setting, (int)row->least, (int)row->most, (int)*field);
  char text[16];
  char list[WORDS_TEXT_CAPACITY];
  (void)snprintf(text, sizeof(text), "%u", count);
  if (!row->words || row->words[find_word(row->words, text)]) {
    *field = count;
  } else {
    setting_fault(setting,
                  "%s %u will not do; write %s",
                  setting_name(setting),
                  count,
                  list_words(row->words, " or ", list));
  }
}

static void
read_own(const Row* const row, void* const base, const Setting setting)
{
  const char* const text = value_text(setting, ROW_TEXT_CAPACITY - 1);
  if (text && text[0] && !row->parse(row_field(row, base), text)) {
    setting_fault(setting,
                  "%s \"%.60s\" is not understood; write %s",
                  setting_name(setting),
                  text,
                  row->right);
  }
}

void
row_read(const Row* const row, void* const base, const Setting setting)
{
  void* const    field = row_field(row, base);
  const unsigned n     = count_words(row->words);
  if (setting_kind(setting) == SETTING_ABSENT) {
    return;
  }
  switch (row->kind) {
    case ROW_FLAG:
      *(bool*)field = value_bool(setting, *(bool*)field);
      break;
    case ROW_EITHER:
      *(bool*)field = value_choice(setting, row->words, n, *(bool*)field);
      break;
    case ROW_WORD:
      *(unsigned*)field =
        value_choice(setting, row->words, n, *(unsigned*)field);
      break;
    case ROW_COUNT:
      read_count(row, base, setting);
      break;
    case ROW_BYTE:
      *(uint8_t*)field = (uint8_t)value_int(
        setting, (int)row->least, (int)row->most, *(uint8_t*)field);
      break;
    case ROW_LONG: // libconfig's whole numbers
      *(uint64_t*)field = (uint64_t)value_int(setting, 0, INT_MAX, 0);
      break;
    case ROW_NUMBER:
      *(double*)field =
        value_number(setting, row->least, row->most, *(double*)field);
      break;
    case ROW_PITCH:
      *(uint8_t*)field = value_pitch(setting, *(uint8_t*)field);
      break;
    case ROW_PROGRAM:
      *(uint8_t*)field = gm_program(setting, *(uint8_t*)field);
      break;
    case ROW_TEXT:
      value_copy(setting, field, (size_t)row->most);
      break;
    case ROW_OWN:
      read_own(row, base, setting);
      break;
    case ROW_LINK: // Nothing of a file stays
      break;
  }
}

// Tables

Setting
row_find(const Row* const row, const Setting top)
{
  Setting     at   = top;
  const char* name = row->name;
  for (;;) {
    char         part[64];
    const size_t length = strcspn(name, ".");
    (void)snprintf(part, sizeof(part), "%.*s", (int)length, name);
    at = setting_find(at, part);
    if (!name[length]) {
      return at;
    }
    name += length + 1;
  }
}

// Note what a group says that no row below a prefix has, and what is no group
static void
allow_below(const Row* const* const  rows,
            const unsigned           n,
            const char* const* const others,
            const unsigned           n_others,
            const char* const        prefix,
            const Setting            group)
{
  const size_t n_prefix = strlen(prefix);
  char         parts[NAMES_MOST][64];
  const char*  names[2 * NAMES_MOST];
  unsigned     n_names = 0;
  for (unsigned i = 0; i < n && n_names < NAMES_MOST; ++i) {
    const char* const rest = rows[i]->name + n_prefix;
    if (strncmp(rows[i]->name, prefix, n_prefix) != 0) {
      continue;
    }
    const size_t length = strcspn(rest, ".");
    (void)snprintf(parts[n_names], sizeof(*parts), "%.*s", (int)length, rest);
    if (n_names && strcmp(parts[n_names], parts[n_names - 1]) == 0) {
      continue; // The rows of a group stand together
    }
    names[n_names] = parts[n_names];
    if (rest[length]) {
      char below[128];
      (void)snprintf(below, sizeof(below), "%s%s.", prefix, names[n_names]);
      allow_below(rows,
                  n,
                  NULL,
                  0,
                  below,
                  value_group(setting_find(group, names[n_names])));
    }
    ++n_names;
  }
  for (unsigned i = 0; i < n_others && i < NAMES_MOST; ++i) {
    names[n_names++] = others[i];
  }
  value_allow(group, names, n_names);
}

void
rows_allow(const Row* const* const  rows,
           const unsigned           n,
           const char* const* const others,
           const unsigned           n_others,
           const Setting            top)
{
  allow_below(rows, n, others, n_others, "", top);
}

void
rows_read(const Row* const* const rows,
          const unsigned          n,
          void* const             base,
          const Setting           top)
{
  for (unsigned i = 0; i < n; ++i) {
    row_read(rows[i], base, row_find(rows[i], top));
  }
}

// As text

double
row_number(const Row* const row, const void* const base)
{
  const void* const field = (const char*)base + row->offset;
  switch (row->kind) {
    case ROW_FLAG:
    case ROW_EITHER:
      return *(const bool*)field;
    case ROW_WORD:
    case ROW_COUNT:
      return *(const unsigned*)field;
    case ROW_BYTE:
    case ROW_PITCH:
    case ROW_PROGRAM:
      return *(const uint8_t*)field;
    case ROW_NUMBER:
      return *(const double*)field;
    case ROW_LONG:
    case ROW_TEXT:
    case ROW_LINK:
    case ROW_OWN:
      break;
  }
  return 0.0;
}

const char*
row_text(const Row* const  row,
         const void* const base,
         char              text[ROW_TEXT_CAPACITY])
{
  const void* const field  = (const char*)base + row->offset;
  const double      number = row_number(row, base);
  char              pitch[PITCH_TEXT_CAPACITY];
  switch (row->kind) {
    case ROW_FLAG:
      (void)snprintf(
        text, ROW_TEXT_CAPACITY, "%s", number > 0.0 ? "yes" : "no");
      break;
    case ROW_EITHER:
    case ROW_WORD:
      (void)snprintf(
        text, ROW_TEXT_CAPACITY, "%s", row->words[(unsigned)number]);
      break;
    case ROW_COUNT:
    case ROW_BYTE:
    case ROW_NUMBER:
      (void)snprintf(text, ROW_TEXT_CAPACITY, "%.10g", number);
      break;
    case ROW_PITCH:
      (void)snprintf(text,
                     ROW_TEXT_CAPACITY,
                     "%s",
                     value_pitch_text(*(const uint8_t*)field, pitch));
      break;
    case ROW_PROGRAM:
      (void)snprintf(
        text, ROW_TEXT_CAPACITY, "%s", gm_program_name((unsigned)number));
      break;
    case ROW_LINK:
      (void)snprintf(text, ROW_TEXT_CAPACITY, "%s", *(const char* const*)field);
      break;
    case ROW_OWN:
      return row->print(field, text);
    case ROW_LONG:
    case ROW_TEXT:
      return row_record(row, base, text);
  }
  return text;
}

const char*
row_record(const Row* const  row,
           const void* const base,
           char              text[ROW_TEXT_CAPACITY])
{
  const void* const field = (const char*)base + row->offset;
  if (row->kind == ROW_TEXT) {
    (void)snprintf(text, ROW_TEXT_CAPACITY, "%s", (const char*)field);
  } else if (row->kind == ROW_LONG) {
    (void)snprintf(
      text, ROW_TEXT_CAPACITY, "%" PRIu64, *(const uint64_t*)field);
  } else {
    (void)snprintf(text, ROW_TEXT_CAPACITY, "%.17g", row_number(row, base));
  }
  return text;
}

bool
row_recall(const Row* const  row,
           void* const       base,
           const double      least,
           const double      most,
           const char* const text)
{
  char* end = NULL;
  if (row->kind == ROW_TEXT) {
    const size_t length = strlen(text);
    if (length < (size_t)row->most) {
      memcpy(row_field(row, base), text, length + 1);
    }
    return length < (size_t)row->most;
  }
  if (row->kind == ROW_LONG) {
    *(uint64_t*)row_field(row, base) = strtoull(text, &end, 10);
    return end != text && !*end;
  }
  const bool   is_bool  = row->kind == ROW_FLAG || row->kind == ROW_EITHER;
  const bool   is_one   = row->kind == ROW_WORD;
  const double smallest = is_bool || is_one ? 0.0 : least;
  const double largest  = is_bool  ? 1.0
                          : is_one ? count_words(row->words) - 1.0
                                   : most;
  const double number   = strtod(text, &end);
  if (end == text || *end || !(number >= smallest && number <= largest) ||
      (row->kind != ROW_NUMBER && number != floor(number))) {
    return false;
  }
  store_number(row, base, number);
  return true;
}
