#include "responder/lesson/choosing.h"

#include "profiles/learner/learner_climb.h"

#include <string.h>

// The rung where who plays stands, as the teacher holds it
static void
stand(Choices* const choices, const Who* const who)
{
  const Rung said = choices->rung;
  if (who->has_stand) {
    choices->rung = who->stand.rung;
  }
  const Rung stands = choices->rung;
  choices->rung     = learner_hold(&who->learner, stands);
  choices->most     = who->learner.caps;
  for (unsigned i = 0; i < N_DIMENSIONS; ++i) {
    const Choice dimension = (Choice)(CHOICE_NOTES + i);
    if (choices->rung.level[i] != stands.level[i]) {
      choices_mark(choices, dimension, CHOICE_BY_LEARNER, 0);
    } else if (who->has_stand && (said.level[i] || stands.level[i])) {
      choices_mark(choices, dimension, CHOICE_BY_JOURNAL, 0);
    }
  }
}

Choices
choose(const Who* const who, const Said* const asked)
{
  Choices choices = who->learner.choices;
  stand(&choices, who);
  choices_lay(&choices, asked, CHOICE_BY_ASKING);
  return choices;
}

void
choose_take(Choices* const choices, const Take* const take)
{
  if (choices_place(choices, CHOICE_TEMPO) != CHOICE_BY_ASKING) {
    choices->tempo_bpm = take_tempo(take);
    choices_mark(choices, CHOICE_TEMPO, CHOICE_BY_TAKE, 0);
  }
  if (choices_place(choices, CHOICE_CHORUSES) != CHOICE_BY_ASKING) {
    choices->choruses = 0;
    choices_mark(choices, CHOICE_CHORUSES, CHOICE_BY_TAKE, 0);
  }
}

/// Take up what nobody asked to be otherwise.
static void
take_up(Said* const          said,
        const Choices* const choices,
        const Choice* const  which,
        const size_t         n)
{
  for (size_t i = 0; i < n; ++i) {
    if (choices_place(choices, which[i]) != CHOICE_BY_ASKING) {
      said->set |= CHOICE_BIT(which[i]);
    }
  }
}

bool
choose_recording(Choices* const choices, const Choices* const then)
{
  // Of the turns and the player's notes, over any chart
  static const Choice of_turns[] = {
    CHOICE_BARS, CHOICE_FIRST, CHOICE_MAKE_ROOM, CHOICE_KEY};
  static const Choice of_chart[] = {CHOICE_CHART, CHOICE_FEEL};
  const bool is_over = choices_place(choices, CHOICE_CHART) != CHOICE_BY_ASKING;
  Said       said    = {.values = *then};
  take_up(&said, choices, of_turns, sizeof(of_turns) / sizeof(*of_turns));
  if (is_over) {
    take_up(&said, choices, of_chart, sizeof(of_chart) / sizeof(*of_chart));
  } else if (!then->key[0]) {
    said.set &= ~CHOICE_BIT(CHOICE_KEY); // Another chart has one of its own
  }
  choices_lay(choices, &said, CHOICE_BY_TAKE);
  return is_over;
}

void
choose_climb(Choices* const choices, const Who* const who)
{
  choices->plays_back = true;
  if (choices_place(choices, CHOICE_RUNG) == CHOICE_BY_ASKING) {
    return;
  }
  choices->rung   = learner_hold(&who->learner, choices->rung);
  choices->plan   = learner_climb(&who->learner);
  choices->budget = who->has_stand && who->stand.budget != JOURNAL_NONE
                      ? who->stand.budget / 1000.0
                      : 0.0;
  if (choices_place(choices, CHOICE_RUNG) == CHOICE_BY_DEFAULT) {
    choices->plan.finding = climb_finding((unsigned)who->habits.n_judged,
                                          (unsigned)who->habits.n_failures);
  }
  // Whoever was eased meanwhile, by hand, earns the next rung from here
  if (who->has_stand && climb_sum(choices->rung) < climb_sum(who->stand.rung)) {
    const double most = climb_budget_at(choices->rung);
    choices->budget   = choices->budget < most ? choices->budget : most;
  }
  memcpy(choices->skill.level, who->habits.heard, sizeof(who->habits.heard));
  choices->skill.level[DIMENSION_SHAPE] = 0.0; // One phrase shows none
  choices->usual_spread_ms              = who->habits.spread_ms;
  choices->practised = (unsigned)(who->habits.n_sessions % INT16_MAX) + 1;
}
