#include "profiles/learner/learner.h"

#include "core/settings/utf8.h"

#include <stddef.h>
#include <stdio.h>
#include <string.h>

static const char* const pace_names[] = {
  [LEARNER_GENTLE] = "gentle",
  [LEARNER_STEADY] = "steady",
  [LEARNER_BRISK]  = "brisk",
  NULL,
};

_Static_assert(sizeof(LearnerPace) == sizeof(unsigned), "as a ROW_WORD is");

#define FIELD(field) .offset = offsetof(Learner, field)
#define RUNG(group, rungs, dimension, words, last, says)                       \
  {                                                                            \
    .name = group "." words, .kind = ROW_BYTE, FIELD(rungs.level[dimension]),  \
    .least = 1, .most = last, .value = "N", .help = says " of " words          \
  }
#define RUNGS(group, rungs, says)                                              \
  RUNG(group, rungs, DIMENSION_NOTES, "notes", N_NOTES_RUNGS, says),           \
    RUNG(group, rungs, DIMENSION_RHYTHM, "rhythm", N_RHYTHM_RUNGS, says),      \
    RUNG(group, rungs, DIMENSION_SHAPE, "shape", N_SHAPE_RUNGS, says),         \
    RUNG(group, rungs, DIMENSION_ORNAMENT, "ornament", N_ORNAMENT_RUNGS, says)

static const Row rows[N_LEARNER_ROWS] = {
  {.name = "name",
   .kind = ROW_TEXT,
   FIELD(name),
   .most  = LEARNER_NAME_CAPACITY,
   .value = "NAME",
   .help  = "the name to show"},
  {.name = "target",
   .kind = ROW_NUMBER,
   FIELD(target_rate),
   .least = 0.5,
   .most  = 0.95,
   .value = "SHARE",
   .help  = "the share of turns meant to succeed, 0.5 to 0.95"},
  {.name = "pace",
   .kind = ROW_WORD,
   FIELD(pace),
   .words = pace_names,
   .value = "PACE",
   .help  = "how quickly the ladder moves: gentle, steady or brisk"},
  RUNGS("caps", caps, "the highest rung"),
  RUNGS("pins", pins, "the only rung"),
};

const Row*
learner_row(const unsigned index)
{
  return &rows[index];
}

Status
learner_check_name(const char* const text, Fault* const fault)
{
  const size_t n = strlen(text);
  if (n >= LEARNER_NAME_CAPACITY) {
    return fault_say(fault,
                     STATUS_RANGE,
                     "the name is too long by %zu of its %zu bytes; a letter "
                     "takes 1 to 4",
                     n - (LEARNER_NAME_CAPACITY - 1),
                     n);
  }
  return text[strspn(text, " ")] && utf8_is_line(text)
           ? STATUS_OK
           : fault_say(fault,
                       STATUS_SYNTAX,
                       "the name is to be one line that is not empty, as Ada");
}

Learner
learner_plain(const char* const name)
{
  Learner learner = {
    .choices     = choices_plain(),
    .target_rate = 0.8,
    .pace        = LEARNER_STEADY,
  };
  (void)snprintf(learner.name, sizeof(learner.name), "%s", name);
  return learner;
}

const char*
learner_pace_name(const LearnerPace pace)
{
  return pace_names[pace];
}

Rung
learner_hold(const Learner* const learner, Rung rung)
{
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    const uint8_t cap = learner->caps.level[d];
    const uint8_t pin = learner->pins.level[d];
    if (cap && rung.level[d] > cap) {
      rung.level[d] = cap;
    }
    if (pin) {
      rung.level[d] = pin;
    }
  }
  return rung;
}
