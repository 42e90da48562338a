#include "responder/setup/choices_text.h"

#include "core/settings/value.h"
#include "responder/ideas/notebook.h"

#include <inttypes.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

enum { LISTENS_BEHIND_MOST = TICKS_PER_QUARTER };

#define FIELD(field) .offset = offsetof(Choices, field)
#define NUMBER(words, field, from, to)                                         \
  {                                                                            \
    .name = words, .kind = ROW_NUMBER, FIELD(field), .least = from, .most = to \
  }
#define BYTE(words, field, to)                                                 \
  {                                                                            \
    .name = words, .kind = ROW_BYTE, FIELD(field), .most = to                  \
  }
#define SUM(words, which)                                                      \
  {                                                                            \
    .name = words, .kind = ROW_LONG, FIELD(sums[which])                        \
  }
#define RUNGS(prefix, rungs)                                                   \
  BYTE(prefix "-notes", rungs.level[DIMENSION_NOTES], N_NOTES_RUNGS),          \
    BYTE(prefix "-rhythm", rungs.level[DIMENSION_RHYTHM], N_RHYTHM_RUNGS),     \
    BYTE(prefix "-shape", rungs.level[DIMENSION_SHAPE], N_SHAPE_RUNGS),        \
    BYTE(                                                                      \
      prefix "-ornament", rungs.level[DIMENSION_ORNAMENT], N_ORNAMENT_RUNGS)
#define SKILL(dimension) skill.level[dimension]

// After the choices
static const Row sum_rows[] = {
  SUM("chart-sum", 0),
  SUM("feel-sum", 1),
  SUM("ladder-sum", 2),
};

// Stands at the top where the rungs move
static const char moves_line[] = "moves=1\n";

// How they move; these stand after the others
static const Row climb_rows[] = {
  NUMBER("success-step", plan.success_step, 0, 25),
  NUMBER("target", plan.target, 0.01, 0.99),
  NUMBER("budget", budget, 0, 99),
  NUMBER("usual-spread", usual_spread_ms, 0, 1000),
  BYTE("find-step", plan.finding.step, FINDING_STEP),
  BYTE("find-turns", plan.finding.turns, FINDING_TURNS),
  RUNGS("cap", plan.caps),
  RUNGS("pin", plan.pins),
  NUMBER("skill-notes", SKILL(DIMENSION_NOTES), 0, 8),
  NUMBER("skill-rhythm", SKILL(DIMENSION_RHYTHM), 0, 8),
  NUMBER("skill-shape", SKILL(DIMENSION_SHAPE), 0, 8),
  NUMBER("skill-ornament", SKILL(DIMENSION_ORNAMENT), 0, 8),
};

// Last, only where it is not 0
static const Row practised_row = {.name = "practised",
                                  .kind = ROW_COUNT,
                                  FIELD(practised),
                                  .most = UINT16_MAX};

static const Row plays_back_row = {.name = "plays-back",
                                   .kind = ROW_FLAG,
                                   FIELD(plays_back)};

// At the top, where keys are waited for
static const Row behind_row = {.name = "listens-behind",
                               .kind = ROW_COUNT,
                               FIELD(listens_behind),
                               .most = LISTENS_BEHIND_MOST};

enum {
  N_SUMS  = sizeof(sum_rows) / sizeof(*sum_rows),
  N_CLIMB = sizeof(climb_rows) / sizeof(*climb_rows),
};

// Writing

static void
put_row(Text* const          draft,
        const Choices* const choices,
        const char* const    name,
        const Row* const     row)
{
  char value[ROW_TEXT_CAPACITY];
  value_add(draft, "%s=%s\n", name, row_record(row, choices, value));
}

static void
put_rows(Text* const          draft,
         const Choices* const choices,
         const Row* const     rows,
         const unsigned       n)
{
  for (unsigned i = 0; i < n; ++i) {
    put_row(draft, choices, rows[i].name, &rows[i]);
  }
}

void
choices_write(const Choices* const choices, char text[CHOICES_TEXT_CAPACITY])
{
  const bool moves = climb_has_plan(&choices->plan);
  Text       draft = text_begin(text, CHOICES_TEXT_CAPACITY);
  value_add(&draft, "%s%s", CHOICES_HEADING, moves ? moves_line : "");
  if (choices->listens_behind) {
    put_row(&draft, choices, behind_row.name, &behind_row);
  }
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    const ChoiceRow* const choice = choice_row((Choice)i);
    if (choice->recorded &&
        !(choice->is_rare && row_number(&choice->row, choices) == 0.0)) {
      put_row(&draft, choices, choice->recorded, &choice->row);
    }
  }
  put_rows(&draft, choices, sum_rows, N_SUMS);
  if (moves) {
    put_rows(&draft, choices, climb_rows, N_CLIMB);
  }
  if (choices->practised) {
    put_row(&draft, choices, practised_row.name, &practised_row);
  }
  if (choices->plays_back) {
    put_row(&draft, choices, plays_back_row.name, &plays_back_row);
  }
  if (choices->opens[0]) {
    value_add(&draft, "opens=%s\n", choices->opens);
  }
  if (choices->kept[0]) {
    value_add(&draft, "kept=%s\n", choices->kept);
  }
}

// Reading

// Takes the line `name=value` off a text; NULL if another one stands there
static const char*
take_line(const char* const text,
          const char* const name,
          char              value[ROW_TEXT_CAPACITY])
{
  const size_t n_name = strlen(name);
  if (strncmp(text, name, n_name) != 0 || text[n_name] != '=') {
    return NULL;
  }
  const char* const begin  = text + n_name + 1;
  const size_t      length = strcspn(begin, "\n");
  if (!begin[length] || length >= ROW_TEXT_CAPACITY) {
    return NULL;
  }
  memcpy(value, begin, length);
  value[length] = '\0';
  return begin + length + 1;
}

static Status
read_row(Choices* const     choices,
         const char* const  name,
         const Row* const   row,
         const double       least,
         const double       most,
         const char** const text,
         Fault* const       fault)
{
  char value[ROW_TEXT_CAPACITY];
  *text = take_line(*text, name, value);
  if (!*text) {
    return fault_say(fault,
                     STATUS_SYNTAX,
                     "the session is damaged: its %s is not there",
                     name);
  }
  return row_recall(row, choices, least, most, value)
           ? STATUS_OK
           : fault_say(fault,
                       STATUS_RANGE,
                       "the session cannot be made again: its %s is %.60s",
                       name,
                       value);
}

// Whether the line of a choice stands next
static bool
has_line(const char* const text, const ChoiceRow* const choice)
{
  const size_t n = strlen(choice->recorded);
  return strncmp(text, choice->recorded, n) == 0 && text[n] == '=';
}

static Status
read_choices(Choices* const     choices,
             const char** const text,
             Fault* const       fault)
{
  Status status = STATUS_OK;
  for (unsigned i = 0; i < N_CHOICES && !status; ++i) {
    const ChoiceRow* const choice = choice_row((Choice)i);
    const Row* const       row    = &choice->row;
    const bool             is_own = choice->recorded_most > 0.0;
    if (choice->recorded && !(choice->is_rare && !has_line(*text, choice))) {
      status = read_row(choices,
                        choice->recorded,
                        row,
                        is_own ? choice->recorded_least : row->least,
                        is_own ? choice->recorded_most : row->most,
                        text,
                        fault);
      choices_mark(choices, (Choice)i, CHOICE_BY_RECORDING, 0);
    }
  }
  return status;
}

static Status
read_rows(Choices* const     choices,
          const Row* const   rows,
          const unsigned     n,
          const char** const text,
          Fault* const       fault)
{
  Status status = STATUS_OK;
  for (unsigned i = 0; i < n && !status; ++i) {
    const Row* const row = &rows[i];
    status =
      read_row(choices, row->name, row, row->least, row->most, text, fault);
  }
  return status;
}

// Takes a line that is written only where it says something; return what is
// left
static const char*
read_if_there(Choices* const    choices,
              const Row* const  row,
              const char* const text)
{
  char              value[ROW_TEXT_CAPACITY];
  const char* const rest = take_line(text, row->name, value);
  return rest && row_recall(row, choices, row->least, row->most, value) ? rest
                                                                        : text;
}

// Takes the line of an idea, if it stands there
static Status
read_idea(char               text[CHOICES_KEPT_CAPACITY],
          const char* const  name,
          const char** const rest,
          Fault* const       fault)
{
  Idea              idea;
  char              value[ROW_TEXT_CAPACITY];
  const char* const after = take_line(*rest, name, value);
  if (!after) {
    return STATUS_OK;
  }
  if (!notebook_parse(&idea, value)) {
    return fault_say(fault,
                     STATUS_SYNTAX,
                     "the session is damaged: its %s idea is none",
                     name);
  }
  (void)snprintf(text, CHOICES_KEPT_CAPACITY, "%s", value);
  *rest = after;
  return STATUS_OK;
}

// Whether a session can be made of them, beyond each value's own range
static bool
fit_together(const Choices* const choices)
{
  return choices->bars != 3 &&
         choices->highest >= choices->lowest + CHOICES_RANGE_LEAST &&
         choices->seed <= INT64_MAX;
}

Status
choices_read(Choices* const choices, const char* const text, Fault* const fault)
{
  const size_t n_heading = strlen(CHOICES_HEADING);
  Choices      read      = {.chart = ""};
  char         again[CHOICES_TEXT_CAPACITY];
  memcpy(
    read.fonts, choices_plain().fonts, sizeof(read.fonts)); // This machine's
  if (strncmp(text, CHOICES_HEADING, n_heading) != 0) {
    return fault_say(fault, STATUS_SYNTAX, "this is no session of barter's");
  }
  const char*  rest    = text + n_heading;
  const size_t n_moves = strlen(moves_line);
  const bool   moves   = strncmp(rest, moves_line, n_moves) == 0;
  rest += moves ? n_moves : 0;
  rest          = read_if_there(&read, &behind_row, rest);
  Status status = read_choices(&read, &rest, fault);
  if (!status) {
    status = read_rows(&read, sum_rows, N_SUMS, &rest, fault);
  }
  if (!status && moves) {
    status = read_rows(&read, climb_rows, N_CLIMB, &rest, fault);
  }
  if (!status) {
    rest   = read_if_there(&read, &practised_row, rest);
    rest   = read_if_there(&read, &plays_back_row, rest);
    status = read_idea(read.opens, "opens", &rest, fault);
  }
  if (!status) {
    status = read_idea(read.kept, "kept", &rest, fault);
  }
  if (status) {
    return status;
  }
  choices_write(&read, again);
  if (strcmp(again, text) != 0) {
    return fault_say(fault,
                     STATUS_SYNTAX,
                     "the session is damaged: it is not as it was written");
  }
  if (!fit_together(&read)) {
    return fault_say(
      fault,
      STATUS_RANGE,
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
