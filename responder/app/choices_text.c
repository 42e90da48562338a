#include "responder/app/choices_text.h"

#include "responder/ideas/notebook.h"

#include <inttypes.h>
#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef enum {
  FIELD_TEXT,
  FIELD_NUMBER,
  FIELD_COUNT,
  FIELD_FLAG,
  FIELD_LONG,
  FIELD_BYTE,
} FieldKind;

typedef struct {
  const char* name;
  FieldKind   kind;
  size_t      offset; ///< In a Choices
  double      least;  ///< Of numbers; of texts, `most` is the capacity
  double      most;
} Field;

#define CHOICE(field) offsetof(Choices, field)

static const Field fields[] = {
  {"chart", FIELD_TEXT, CHOICE(chart), 0, SETUP_NAME_CAPACITY},
  {"feel", FIELD_TEXT, CHOICE(feel), 0, SETUP_NAME_CAPACITY},
  {"key", FIELD_TEXT, CHOICE(key), 0, KEY_TEXT_CAPACITY},
  {"tempo", FIELD_NUMBER, CHOICE(tempo_bpm), 20, 400},
  {"bars", FIELD_COUNT, CHOICE(bars), 1, 4},
  {"choruses", FIELD_COUNT, CHOICE(choruses), 1, 99},
  {"partner-begins", FIELD_FLAG, CHOICE(partner_begins), 0, 1},
  {"thins-for-partner", FIELD_FLAG, CHOICE(band_thins_for_partner), 0, 1},
  {"makes-room", FIELD_FLAG, CHOICE(makes_room), 0, 1},
  {"notes", FIELD_BYTE, CHOICE(rung.level[DIMENSION_NOTES]), 1, N_NOTES_RUNGS},
  {"rhythm",
   FIELD_BYTE,
   CHOICE(rung.level[DIMENSION_RHYTHM]),
   1,
   N_RHYTHM_RUNGS},
  {"shape", FIELD_BYTE, CHOICE(rung.level[DIMENSION_SHAPE]), 1, N_SHAPE_RUNGS},
  {"ornament",
   FIELD_BYTE,
   CHOICE(rung.level[DIMENSION_ORNAMENT]),
   1,
   N_ORNAMENT_RUNGS},
  {"seed", FIELD_LONG, CHOICE(seed), 0, 0},
  {"split", FIELD_COUNT, CHOICE(split), 0, 127},
  {"lowest", FIELD_COUNT, CHOICE(lowest), 0, 127},
  {"highest", FIELD_COUNT, CHOICE(highest), 0, 127},
  {"hand-span", FIELD_COUNT, CHOICE(hand_span), 5, 24},
  {"lag-ms", FIELD_NUMBER, CHOICE(lag_ms), -200, 500},
  {"partner-program", FIELD_BYTE, CHOICE(sounds[PART_PARTNER].program), 0, 127},
  {"partner-level", FIELD_BYTE, CHOICE(sounds[PART_PARTNER].level), 0, 127},
  {"player-program", FIELD_BYTE, CHOICE(sounds[PART_PLAYER].program), 0, 127},
  {"player-level", FIELD_BYTE, CHOICE(sounds[PART_PLAYER].level), 0, 127},
  {"chords-program", FIELD_BYTE, CHOICE(sounds[PART_CHORDS].program), 0, 127},
  {"chords-level", FIELD_BYTE, CHOICE(sounds[PART_CHORDS].level), 0, 127},
  {"bass-program", FIELD_BYTE, CHOICE(sounds[PART_BASS].program), 0, 127},
  {"bass-level", FIELD_BYTE, CHOICE(sounds[PART_BASS].level), 0, 127},
  {"drums-program", FIELD_BYTE, CHOICE(sounds[PART_DRUMS].program), 0, 127},
  {"drums-level", FIELD_BYTE, CHOICE(sounds[PART_DRUMS].level), 0, 127},
  {"chart-sum", FIELD_LONG, offsetof(Choices, sums[0]), 0, 0},
  {"feel-sum", FIELD_LONG, offsetof(Choices, sums[1]), 0, 0},
  {"ladder-sum", FIELD_LONG, offsetof(Choices, sums[2]), 0, 0},
};

enum { N_FIELDS = sizeof(fields) / sizeof(*fields) };

#define RUNG_FIELDS(prefix, rungs, least)                                      \
  {prefix "-notes",                                                            \
   FIELD_BYTE,                                                                 \
   CHOICE(rungs.level[DIMENSION_NOTES]),                                       \
   least,                                                                      \
   N_NOTES_RUNGS},                                                             \
    {prefix "-rhythm",                                                         \
     FIELD_BYTE,                                                               \
     CHOICE(rungs.level[DIMENSION_RHYTHM]),                                    \
     least,                                                                    \
     N_RHYTHM_RUNGS},                                                          \
    {prefix "-shape",                                                          \
     FIELD_BYTE,                                                               \
     CHOICE(rungs.level[DIMENSION_SHAPE]),                                     \
     least,                                                                    \
     N_SHAPE_RUNGS},                                                           \
  {                                                                            \
    prefix "-ornament", FIELD_BYTE, CHOICE(rungs.level[DIMENSION_ORNAMENT]),   \
      least, N_ORNAMENT_RUNGS                                                  \
  }

// Stands at the top where the rungs move
static const char moves_line[] = "moves=1\n";

// How they move; these stand after the others
static const Field climb_fields[] = {
  {"success-step", FIELD_NUMBER, CHOICE(plan.success_step), 0, 25},
  {"target", FIELD_NUMBER, CHOICE(plan.target), 0.01, 0.99},
  {"budget", FIELD_NUMBER, CHOICE(budget), 0, 99},
  {"usual-spread", FIELD_NUMBER, CHOICE(usual_spread_ms), 0, 1000},
  RUNG_FIELDS("cap", plan.caps, 0),
  RUNG_FIELDS("pin", plan.pins, 0),
  {"skill-notes", FIELD_NUMBER, CHOICE(skill.level[DIMENSION_NOTES]), 0, 8},
  {"skill-rhythm", FIELD_NUMBER, CHOICE(skill.level[DIMENSION_RHYTHM]), 0, 8},
  {"skill-shape", FIELD_NUMBER, CHOICE(skill.level[DIMENSION_SHAPE]), 0, 8},
  {"skill-ornament",
   FIELD_NUMBER,
   CHOICE(skill.level[DIMENSION_ORNAMENT]),
   0,
   8},
};

enum { N_CLIMB_FIELDS = sizeof(climb_fields) / sizeof(*climb_fields) };

static int
write_field(const Field* const field,
            const void* const  place,
            char* const        line,
            const size_t       room)
{
  switch (field->kind) {
    case FIELD_TEXT:
      return snprintf(line, room, "%s=%s\n", field->name, (const char*)place);
    case FIELD_NUMBER:
      return snprintf(
        line, room, "%s=%.17g\n", field->name, *(const double*)place);
    case FIELD_COUNT:
      return snprintf(
        line, room, "%s=%u\n", field->name, *(const unsigned*)place);
    case FIELD_FLAG:
      return snprintf(line, room, "%s=%d\n", field->name, *(const bool*)place);
    case FIELD_LONG:
      return snprintf(
        line, room, "%s=%" PRIu64 "\n", field->name, *(const uint64_t*)place);
    case FIELD_BYTE:
      return snprintf(
        line, room, "%s=%u\n", field->name, *(const uint8_t*)place);
  }
  return 0;
}

// Writes a table of fields from `n` bytes on; returns where the text ends
static size_t
write_fields(const Choices* const choices,
             const Field* const   table,
             const unsigned       n_fields,
             char                 text[CHOICES_TEXT_CAPACITY],
             size_t               n)
{
  for (unsigned i = 0; i < n_fields && n < CHOICES_TEXT_CAPACITY; ++i) {
    const void* const place = (const char*)choices + table[i].offset;
    n += (size_t)write_field(
      &table[i], place, text + n, CHOICES_TEXT_CAPACITY - n);
  }
  return n;
}

void
choices_write(const Choices* const choices, char text[CHOICES_TEXT_CAPACITY])
{
  const bool moves = climb_has_plan(&choices->plan);
  size_t     n     = (size_t)snprintf(text,
                              CHOICES_TEXT_CAPACITY,
                              "%s%s",
                              CHOICES_HEADING,
                              moves ? moves_line : "");
  n                = write_fields(choices, fields, N_FIELDS, text, n);
  if (moves) {
    n = write_fields(choices, climb_fields, N_CLIMB_FIELDS, text, n);
  }
  if (choices->practised) {
    n += (size_t)snprintf(text + n,
                          CHOICES_TEXT_CAPACITY - n,
                          "practised=%u\n",
                          choices->practised);
  }
  if (choices->kept.n_notes) {
    char notes[NOTEBOOK_TEXT_CAPACITY];
    (void)snprintf(text + n,
                   CHOICES_TEXT_CAPACITY - n,
                   "kept=%s\n",
                   notebook_text(&choices->kept, notes));
  }
}

static bool
read_number(const Field* const field,
            const char* const  value,
            double* const      number)
{
  char* end = NULL;
  *number   = strtod(value, &end);
  return end != value && !*end && isfinite(*number) &&
         *number >= field->least && *number <= field->most;
}

// Whether the value was right; it is stored if so
static bool
read_field(const Field* const field, const char* const value, void* const place)
{
  double number = 0.0;
  if (field->kind == FIELD_TEXT) {
    const size_t length = strlen(value);
    if (length < (size_t)field->most) {
      memcpy(place, value, length + 1);
    }
    return length < (size_t)field->most;
  }
  if (field->kind == FIELD_LONG) {
    char* end         = NULL;
    *(uint64_t*)place = strtoull(value, &end, 10);
    return end != value && !*end;
  }
  if (!read_number(field, value, &number)) {
    return false;
  }
  if (field->kind == FIELD_NUMBER) {
    *(double*)place = number;
  } else if (field->kind == FIELD_COUNT) {
    *(unsigned*)place = (unsigned)number;
  } else if (field->kind == FIELD_FLAG) {
    *(bool*)place = number != 0.0;
  } else {
    *(uint8_t*)place = (uint8_t)number;
  }
  return true;
}

// Takes the line `name=value` off a text; NULL if another one stands there
static const char*
take_line(const char* const text,
          const char* const name,
          char              value[SETUP_NAME_CAPACITY])
{
  const size_t n_name = strlen(name);
  if (strncmp(text, name, n_name) != 0 || text[n_name] != '=') {
    return NULL;
  }
  const char* const begin  = text + n_name + 1;
  const size_t      length = strcspn(begin, "\n");
  if (!begin[length] || length >= SETUP_NAME_CAPACITY) {
    return NULL;
  }
  memcpy(value, begin, length);
  value[length] = '\0';
  return begin + length + 1;
}

static Status
read_fields(Choices* const     choices,
            const Field* const table,
            const unsigned     n_fields,
            const char** const text,
            Fault* const       fault)
{
  for (unsigned i = 0; i < n_fields; ++i) {
    const Field* const field = &table[i];
    char               value[SETUP_NAME_CAPACITY];
    *text = take_line(*text, field->name, value);
    if (!*text) {
      return fault_set(fault,
                       STATUS_SYNTAX,
                       NULL,
                       0,
                       "the session is damaged: its %s is not there",
                       field->name);
    }
    if (!read_field(field, value, (char*)choices + field->offset)) {
      return fault_set(fault,
                       STATUS_RANGE,
                       NULL,
                       0,
                       "the session cannot be made again: its %s is %.60s",
                       field->name,
                       value);
    }
  }
  return STATUS_OK;
}

// Takes which session it was, if that stands there; return what is left
static const char*
read_practised(Choices* const choices, const char* const text)
{
  static const Field field = {
    "practised", FIELD_COUNT, CHOICE(practised), 0, UINT16_MAX};
  char        value[SETUP_NAME_CAPACITY];
  const char* rest = take_line(text, field.name, value);
  return rest && read_field(&field, value, &choices->practised) ? rest : text;
}

static Status
read_kept(Choices* const choices, const char* const text, Fault* const fault)
{
  char        value[SETUP_NAME_CAPACITY];
  const char* rest = take_line(text, "kept", value);
  return rest && notebook_parse(&choices->kept, value)
           ? STATUS_OK
           : fault_set(fault,
                       STATUS_SYNTAX,
                       NULL,
                       0,
                       "the session is damaged: its kept idea is none");
}

// Whether a session can be made of them, beyond each value's own range
static bool
fit_together(const Choices* const choices)
{
  return choices->bars != 3 && choices->highest >= choices->lowest + 12 &&
         choices->seed <= INT64_MAX;
}

Status
choices_read(Choices* const choices, const char* const text, Fault* const fault)
{
  const size_t n_heading = strlen(CHOICES_HEADING);
  Choices      read      = {.chart = ""};
  char         again[CHOICES_TEXT_CAPACITY];
  if (strncmp(text, CHOICES_HEADING, n_heading) != 0) {
    return fault_set(
      fault, STATUS_SYNTAX, NULL, 0, "this is no session of barter's");
  }
  const char*  rest    = text + n_heading;
  const size_t n_moves = strlen(moves_line);
  const bool   moves   = strncmp(rest, moves_line, n_moves) == 0;
  rest += moves ? n_moves : 0;
  Status status = read_fields(&read, fields, N_FIELDS, &rest, fault);
  if (!status && moves) {
    status = read_fields(&read, climb_fields, N_CLIMB_FIELDS, &rest, fault);
  }
  if (!status) {
    rest = read_practised(&read, rest);
  }
  if (!status && *rest) {
    status = read_kept(&read, rest, fault);
  }
  if (status) {
    return status;
  }
  choices_write(&read, again);
  if (strcmp(again, text) != 0) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     NULL,
                     0,
                     "the session is damaged: it is not as it was written");
  }
  if (!fit_together(&read)) {
    return fault_set(
      fault,
      STATUS_RANGE,
      NULL,
      0,
      "the session cannot be made again: %u bars a turn, keys %u "
      "to %u, seed %" PRIu64,
      read.bars,
      read.lowest,
      read.highest,
      read.seed);
  }
  *choices = read;
  return STATUS_OK;
}
