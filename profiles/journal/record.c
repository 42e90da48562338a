#include "profiles/journal/record.h"

#include "core/sum.h"

#include <string.h>

enum {
  THOUSAND = 1000,
  HOUR_MS  = 3600 * 1000,
  HOUR_US  = INT32_MAX, ///< Of a deviation: 35 minutes, never reached
};

#define NUMBER(type, name, least, most)                                        \
  {                                                                            \
#name, JOURNAL_INT, offsetof(type, name), least, most, false, NULL, false  \
  }
#define MAYBE(type, name, least, most)                                         \
  {                                                                            \
#name, JOURNAL_INT, offsetof(type, name), least, most, true, NULL, false   \
  }
#define CHOICE(type, name, most, words)                                        \
  {                                                                            \
#name, JOURNAL_INT, offsetof(type, name), 0, most, true, words, false      \
  }
#define LARGE(type, name, least, most)                                         \
  {                                                                            \
#name, JOURNAL_LONG, offsetof(type, name), least, most, false, NULL, false \
  }
#define TEXT(type, name) WORDS(type, name, false)
#define LINE(type, name) WORDS(type, name, true)
#define WORDS(type, name, is_line)                                             \
  {                                                                            \
#name, JOURNAL_TEXT, offsetof(type, name), 0,                              \
      sizeof(((const type*)0)->name), false, NULL, is_line                     \
  }

static const JournalField session_fields[] = {
  LARGE(JournalSession, started_ms, 0, INT64_C(253402300799999)), // Year 9999
  NUMBER(JournalSession, day, 0, 2932896),
  TEXT(JournalSession, kind),
  TEXT(JournalSession, way),
  TEXT(JournalSession, chart),
  TEXT(JournalSession, key),
  TEXT(JournalSession, meter),
  TEXT(JournalSession, feel),
  NUMBER(JournalSession, tempo, 0, 1000 * THOUSAND),
  NUMBER(JournalSession, bars_per_turn, 0, 64),
  NUMBER(JournalSession, choruses, 0, 9999),
  NUMBER(JournalSession, partner_begins, 0, 1),
  LARGE(JournalSession, seed, INT64_MIN, INT64_MAX),
  TEXT(JournalSession, version),
};

static const JournalField turn_fields[] = {
  NUMBER(JournalTurn, number, 1, 10000000),
  NUMBER(JournalTurn, by_player, 0, 1),
  NUMBER(JournalTurn, first_bar, 0, 10000000),
  NUMBER(JournalTurn, length_ms, 0, HOUR_MS),
  NUMBER(JournalTurn, notes, 0, 10000),
  NUMBER(JournalTurn, comping, 0, 100000),
  NUMBER(JournalTurn, ornaments, 0, 10000),
  CHOICE(JournalTurn,
         grid,
         N_JOURNAL_GRIDS - 1,
         "beat|eighth|swung eighth|triplet|sixteenth"),
  MAYBE(JournalTurn, swing, 0, 100 * THOUSAND),
  MAYBE(JournalTurn, offset_us, -HOUR_US, HOUR_US),
  MAYBE(JournalTurn, spread_us, 0, HOUR_US),
  NUMBER(JournalTurn, syncopation, -1000 * THOUSAND, 1000 * THOUSAND),
  NUMBER(JournalTurn, evenness, 0, 1000 * THOUSAND),
  NUMBER(JournalTurn, onsets, 0, 1000 * THOUSAND),
  NUMBER(JournalTurn, space, 0, THOUSAND),
  NUMBER(JournalTurn, range, 0, 127),
  NUMBER(JournalTurn, chord_share, 0, THOUSAND),
  NUMBER(JournalTurn, scale_share, 0, THOUSAND),
  NUMBER(JournalTurn, outside_share, 0, THOUSAND),
  NUMBER(JournalTurn, left_share, 0, THOUSAND),
  CHOICE(JournalTurn,
         target,
         N_JOURNAL_TARGETS - 1,
         "root|chord tone|scale tone|outside"),
  NUMBER(JournalTurn, complexity, 0, 100 * THOUSAND),
  NUMBER(JournalTurn, heard_notes, 0, N_NOTES_RUNGS),
  NUMBER(JournalTurn, heard_rhythm, 0, N_RHYTHM_RUNGS),
  NUMBER(JournalTurn, heard_shape, 0, N_SHAPE_RUNGS),
  NUMBER(JournalTurn, heard_ornament, 0, N_ORNAMENT_RUNGS),
  NUMBER(JournalTurn, stands_notes, 0, N_NOTES_RUNGS),
  NUMBER(JournalTurn, stands_rhythm, 0, N_RHYTHM_RUNGS),
  NUMBER(JournalTurn, stands_shape, 0, N_SHAPE_RUNGS),
  NUMBER(JournalTurn, stands_ornament, 0, N_ORNAMENT_RUNGS),
  NUMBER(JournalTurn, next_notes, 0, N_NOTES_RUNGS),
  NUMBER(JournalTurn, next_rhythm, 0, N_RHYTHM_RUNGS),
  NUMBER(JournalTurn, next_shape, 0, N_SHAPE_RUNGS),
  NUMBER(JournalTurn, next_ornament, 0, N_ORNAMENT_RUNGS),
  MAYBE(JournalTurn, budget, 0, 100 * THOUSAND),
  MAYBE(JournalTurn, success, 0, 1),
  MAYBE(JournalTurn, idea, 0, 100000),
  MAYBE(JournalTurn, likeness, 0, THOUSAND),
  MAYBE(JournalTurn, move, 0, N_MOVES - 1),
  LINE(JournalTurn, says),
  LINE(JournalTurn, why),
  TEXT(JournalTurn, moved),
};

static const JournalField idea_fields[] = {
  LARGE(JournalIdea, changed_ms, 0, INT64_C(253402300799999)), // Year 9999
  NUMBER(JournalIdea, is_removed, 0, 1),
  LARGE(JournalIdea, kept_ms, 0, INT64_C(253402300799999)),
  TEXT(JournalIdea, name),
  TEXT(JournalIdea, chart),
  TEXT(JournalIdea, chart_file),
  NUMBER(JournalIdea, first_bar, 0, 1000),
  TEXT(JournalIdea, key),
  TEXT(JournalIdea, meter),
  TEXT(JournalIdea, origin),
  TEXT(JournalIdea, notes),
};

JournalFields
journal_session_fields(void)
{
  return (JournalFields){session_fields,
                         sizeof(session_fields) / sizeof(*session_fields)};
}

JournalFields
journal_turn_fields(void)
{
  return (JournalFields){turn_fields,
                         sizeof(turn_fields) / sizeof(*turn_fields)};
}

JournalFields
journal_idea_fields(void)
{
  return (JournalFields){idea_fields,
                         sizeof(idea_fields) / sizeof(*idea_fields)};
}

// The NUL too, which keeps two texts apart
static uint64_t
add_text(const uint64_t sum, const char* const text)
{
  return sum_add(sum, text, strlen(text) + 1);
}

JournalId
journal_idea_id(const JournalIdea* const idea)
{
  JournalId id;
  uint64_t  sum = SUM_BEGIN;
  for (unsigned half = 0; half < 2;
       ++half) { // The second goes on from the first
    sum = add_text(sum, idea->key);
    sum = add_text(sum, idea->meter);
    sum = add_text(sum, idea->notes);
    for (unsigned i = 0; i < 8; ++i) {
      id.bytes[8 * half + i] = (uint8_t)(sum >> 8 * i);
    }
  }
  return id;
}

// Fields

int64_t
journal_field_number(const JournalField* const field, const void* const record)
{
  const void* const place = (const char*)record + field->offset;
  return field->kind == JOURNAL_LONG ? *(const int64_t*)place
                                     : *(const int32_t*)place;
}

const char*
journal_field_text(const JournalField* const field, const void* const record)
{
  return (const char*)record + field->offset;
}

bool
journal_field_allows(const JournalField* const field, const int64_t number)
{
  return (field->may_be_none && number == JOURNAL_NONE) ||
         (number >= field->least && number <= field->most);
}

void
journal_field_set(const JournalField* const field,
                  void* const               record,
                  const int64_t             number)
{
  void* const place = (char*)record + field->offset;
  if (field->kind == JOURNAL_LONG) {
    *(int64_t*)place = number;
  } else {
    *(int32_t*)place = (int32_t)number;
  }
}

bool
journal_field_copy(const JournalField* const field,
                   void* const               record,
                   const char* const         text)
{
  const size_t length = strlen(text);
  if ((int64_t)length >= field->most) {
    return false;
  }
  memcpy((char*)record + field->offset, text, length + 1);
  return true;
}

const char*
journal_field_word(const JournalField* const field,
                   const int64_t             number,
                   char                      buffer[JOURNAL_KIND_CAPACITY])
{
  const char* word = field->words;
  for (int64_t i = 0; i < number; ++i) {
    const char* const bar = strchr(word, '|');
    word                  = bar ? bar + 1 : "";
  }
  const size_t length = strcspn(word, "|");
  memcpy(buffer, word, length);
  buffer[length] = '\0';
  return buffer;
}

static int
compare_field(const JournalField* const field,
              const void* const         a,
              const void* const         b)
{
  if (field->kind == JOURNAL_TEXT) {
    return strcmp(journal_field_text(field, a), journal_field_text(field, b));
  }
  const int64_t x = journal_field_number(field, a);
  const int64_t y = journal_field_number(field, b);
  return (x > y) - (x < y);
}

int
journal_compare(const JournalFields fields,
                const void* const   a,
                const void* const   b)
{
  int order = 0;
  for (unsigned i = 0; i < fields.n_fields && !order; ++i) {
    order = compare_field(&fields.fields[i], a, b);
  }
  return order;
}

bool
journal_is_right(const JournalFields fields, const void* const record)
{
  bool is_right = true;
  for (unsigned i = 0; i < fields.n_fields; ++i) {
    const JournalField* const field = &fields.fields[i];
    is_right =
      is_right &&
      (field->kind == JOURNAL_TEXT ||
       journal_field_allows(field, journal_field_number(field, record)));
  }
  return is_right;
}

// IDs

const char*
journal_id_text(const JournalId id, char text[JOURNAL_ID_TEXT])
{
  static const char digits[] = "0123456789abcdef";
  for (unsigned i = 0; i < JOURNAL_ID_BYTES; ++i) {
    text[2 * i]     = digits[id.bytes[i] >> 4];
    text[2 * i + 1] = digits[id.bytes[i] & 15U];
  }
  text[2 * JOURNAL_ID_BYTES] = '\0';
  return text;
}

static int
digit_value(const char digit)
{
  return digit >= '0' && digit <= '9'   ? digit - '0'
         : digit >= 'a' && digit <= 'f' ? digit - 'a' + 10
                                        : -1;
}

bool
journal_id_parse(JournalId* const id, const char* const text)
{
  JournalId read = {{0}};
  if (strlen(text) != 2 * JOURNAL_ID_BYTES) {
    return false;
  }
  for (unsigned i = 0; i < JOURNAL_ID_BYTES; ++i) {
    const int high = digit_value(text[2 * i]);
    const int low  = digit_value(text[2 * i + 1]);
    if (high < 0 || low < 0) {
      return false;
    }
    read.bytes[i] = (uint8_t)(high * 16 + low);
  }
  *id = read;
  return true;
}

bool
journal_id_equals(const JournalId a, const JournalId b)
{
  return memcmp(a.bytes, b.bytes, sizeof(a.bytes)) == 0;
}
