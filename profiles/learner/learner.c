#include "profiles/learner/learner.h"

#include "core/settings/utf8.h"

#include <stdio.h>
#include <string.h>

static const char* const pace_names[N_LEARNER_PACES] = {
  [LEARNER_GENTLE] = "gentle",
  [LEARNER_STEADY] = "steady",
  [LEARNER_BRISK]  = "brisk",
};

bool
learner_is_name(const char* const text)
{
  return text[strspn(text, " ")] && strlen(text) < LEARNER_NAME_CAPACITY &&
         utf8_is_line(text);
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
