#include "core/settings/row.h"
#include "core/settings/row_words.h"

#include "core/music/pitch.h"
#include "core/settings/gm.h"
#include "core/settings/value.h"

#include <ctype.h>
#include <inttypes.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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

unsigned
row_count_words(const Row* const row)
{
  return count_words(row->words);
}

unsigned
row_find_word(const Row* const row, const char* const text)
{
  return find_word(row->words, text);
}

const char*
row_list_words(const Row* const  row,
               const char* const last_joint,
               const char        blank,
               char              list[ROW_WORDS_CAPACITY])
{
  const unsigned n      = count_words(row->words);
  size_t         length = 0;
  list[0]               = '\0';
  for (unsigned i = 0; i < n && length < ROW_WORDS_CAPACITY; ++i) {
    const char* const joint = i == 0 ? "" : i + 1 < n ? ", " : last_joint;
    length +=
      (size_t)snprintf(list + length, ROW_WORDS_CAPACITY - length, "%s", joint);
    for (const char* c = row->words[i]; *c && length + 1 < ROW_WORDS_CAPACITY;
         ++c) {
      list[length++] = *c == ' ' ? blank : *c;
      list[length]   = '\0';
    }
  }
  return list;
}

// Storing what was read

void
row_store(const Row* const row, void* const base, const double number)
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
  row_store(row, base, number);
  return true;
}
