#include "responder/lesson/trading.h"

#include "responder/lesson/choosing.h"
#include "responder/lesson/kept.h"
#include "responder/lesson/today.h"

static void
choose_anew(Trading* const trading)
{
  Choices* const choices = &trading->choices;
  if (choices_place(choices, CHOICE_SEED) == CHOICE_BY_DEFAULT) {
    choices->seed = (uint64_t)now_ms() & INT32_MAX;
  }
  if (trading->is_practice) {
    who_look(&trading->who); // The session before may have changed it
    choose_climb(choices, &trading->who);
  }
  choices->plays_back = true;
  setup_again(&trading->setup, choices);
  *choices = trading->setup.choices;
  if (trading->is_practice) {
    kept_offer(&trading->setup, &trading->who);
    if (trading->setup.opens.n_notes &&
        choices_place(choices, CHOICE_FIRST) < CHOICE_BY_ASKING) {
      trading->setup.choices.partner_begins = true;
    }
  }
}

Status
trading_begin(Trading* const trading,
              Playing* const playing,
              Fault* const   fault)
{
  choose_anew(trading);
  return playing_begin(playing,
                       &trading->session,
                       &trading->setup,
                       "trade",
                       trading->is_practice ? &trading->who : NULL,
                       fault);
}

void
trading_end(Trading* const     trading,
            Playing* const     playing,
            StageResult* const result)
{
  playing_end(playing, &trading->session, result);
  if (climb_has_plan(&trading->choices.plan)) { // Where the next begins
    trading->choices.rung = trading->session.practice.stand.rung;
  }
}
