#include "responder/app/command.h"

#include "core/time/monotonic.h"
#include "responder/app/begin.h"
#include "responder/app/choosing.h"
#include "responder/app/kept.h"
#include "responder/app/sitting.h"
#include "responder/app/today.h"

#include <stdlib.h>

enum {
  WAIT_S  = 600, ///< For a gesture between sessions
  LEARN_S = 30,
};

// What lasts through all sessions of one start
typedef struct {
  Sitting        sitting;
  Choices        choices;
  Setup          setup;
  Who            who;
  SittingSession session;
} Trade;

// One session

// Who names a learner practises
static bool
is_practice(const Trade* const trade)
{
  return options_have(trade->sitting.options, OPTION_PRACTICE) ||
         options_have(trade->sitting.options, OPTION_LEARNER);
}

static void
begin_session(Trade* const trade)
{
  if (choices_place(&trade->choices, CHOICE_SEED) == CHOICE_BY_DEFAULT) {
    trade->choices.seed = (uint64_t)now_ms() & INT32_MAX;
  }
  if (is_practice(trade)) {
    who_look(&trade->who); // The session before may have changed it
    choose_climb(&trade->choices, &trade->who);
  }
  setup_again(&trade->setup, &trade->choices);
  trade->choices = trade->setup.choices;
  if (is_practice(trade)) {
    kept_offer(&trade->setup, &trade->who);
  }
}

static int
play(Trade* const trade, StageResult* const result)
{
  SittingSession* const session = &trade->session;
  begin_session(trade);
  *session = (SittingSession){
    .setup = &trade->setup, .kind = "trade", .is_practice = is_practice(trade)};
  const int code = sitting_play(&trade->sitting, session, result);
  if (climb_has_plan(&trade->choices.plan)) {
    trade->choices.rung = session->practice.stand.rung; // Where the next begins
  }
  return code;
}

// Between sessions

// Whether the player begins, or begins again, before the patience ends
static bool
wait_for_player(Trade* const trade)
{
  Gesture gesture = GESTURE_NONE;
  if (!trade->sitting.equipment.control.kind) {
    return false;
  }
  (void)printf("Tap to begin; two taps easier, three harder; tap and hold "
               "slower,\ntwice and hold faster; hold to leave.\n");
  (void)fflush(stdout);
  if (stage_wait(trade->sitting.stage, WAIT_S, &gesture) != STAGE_GESTURE ||
      gesture == GESTURE_STOP) {
    return false;
  }
  sitting_obey(&trade->choices, gesture);
  return true;
}

static int
play_on(Trade* const trade)
{
  int code = EXIT_DONE;
  if (trade->sitting.equipment.control.kind && !wait_for_player(trade)) {
    return code;
  }
  for (bool goes_on = true; goes_on && !code;) {
    StageResult result = {.end = STAGE_OVER};
    code               = play(trade, &result);
    if (code || result.end == STAGE_SIGNAL) {
      break;
    }
    if (result.end == STAGE_GESTURE && result.gesture != GESTURE_STOP) {
      sitting_obey(&trade->choices, result.gesture);
    } else {
      goes_on = wait_for_player(trade);
    }
  }
  return code;
}

static int
learn_control(Trade* const trade)
{
  const int64_t until = monotonic_ns() + LEARN_S * NS_PER_S;
  char          path[PLACE_PATH_CAPACITY];
  char          text[TRIGGER_TEXT_CAPACITY];
  Trigger       trigger;
  MidiMessage   message;
  Fault         fault;
  (void)printf("Press the key or pedal that you want to steer with.\n");
  (void)fflush(stdout);
  while (monotonic_ns() < until &&
         !stage_is_asked_to_stop(trade->sitting.stage)) {
    while (stage_take(trade->sitting.stage, &message)) {
      if (!trigger_learn(&message, &trigger)) {
        continue;
      }
      if (equipment_keep(
            &trade->who.learner.choices, &trigger, NULL, path, &fault)) {
        return command_fail(&fault);
      }
      (void)printf(
        "Learnt %s; kept in %s\n", trigger_text(trigger, text), path);
      return EXIT_DONE;
    }
    monotonic_sleep_ms(10);
  }
  command_say("nothing was pressed");
  return EXIT_NO;
}

// All of it

static int
trade_with(Trade* const trade)
{
  const Options* const options = trade->sitting.options;
  int                  code    = begin_who(&trade->who, options);
  if (code) {
    return code;
  }
  trade->sitting.who = &trade->who;
  trade->choices     = begin_choose(&trade->who, options);
  code               = begin_setup(&trade->setup, &trade->choices);
  if (code) {
    return code; // Before anything is opened
  }
  trade->choices = trade->setup.choices;
  code           = sitting_open(&trade->sitting, &trade->choices);
  if (!code) {
    code = options_have(options, OPTION_LEARN_CONTROL) ? learn_control(trade)
                                                       : play_on(trade);
    sitting_close(&trade->sitting);
  }
  return code;
}

static int
run(const Options* const options)
{
  if (options->n_operands) {
    return command_misuse("trade takes no file; barter answer TAKE.mid answers "
                          "one");
  }
  Trade* const trade = calloc(1, sizeof(*trade));
  if (!trade) {
    return command_fail_memory();
  }
  trade->sitting.options = options;
  const int code         = trade_with(trade);
  free(trade);
  return code;
}

const Command command_trade = {
  .name     = "trade",
  .operands = "",
  .summary  = "trade bars live, at a keyboard",
  .words =
    "Counts in, plays a band, and answers what you play, turn by turn. The\n"
    "first keyboard found is heard (barter ports lists them), the built-in\n"
    "sound plays unless --out names a MIDI port. With a --control, one key or\n"
    "pedal steers: tap to begin or begin again, hold to stop, two taps "
    "easier,\n"
    "three harder, tap and hold slower, twice and hold faster. Every session "
    "is\n"
    "recorded; barter answer --replay makes it again.",
  .options = OPTIONS_OF_SESSION | SITTING_OPTIONS |
             OPTION_BIT(OPTION_LEARN_CONTROL) | OPTION_BIT(OPTION_LEARNER) |
             OPTION_BIT(OPTION_PRACTICE),
  .run = run,
};
