#include "responder/app/command.h"

#include "core/time/monotonic.h"
#include "responder/app/begin.h"
#include "responder/app/show.h"
#include "responder/lesson/trading.h"
#include "responder/tell/tell.h"

#include <stdio.h>
#include <stdlib.h>

enum { LEARN_S = 30 };

// What lasts through all sessions of one start
typedef struct {
  Show    show;
  Trading trading;
} Trade;

static int
play(Trade* const trade, StageResult* const result)
{
  Fault          fault;
  Playing* const playing = &trade->show.playing;
  if (trading_begin(&trade->trading, playing, &fault)) {
    return command_fail(&fault);
  }
  const Setup* const setup = &trade->trading.setup;
  if (setup->opens.n_notes && setup->choices.partner_begins) {
    tell_words(stdout,
               0,
               "Your best phrase of last time opens: your partner plays it.");
  }
  show_kept(&trade->show, &trade->trading.session, result);
  trading_end(&trade->trading, playing, result);
  return show_result(&trade->trading.session, result);
}

// Between sessions

static bool
wait_for_player(Trade* const trade)
{
  Show* const show = &trade->show;
  if (!show_can_wait(show)) {
    return false;
  }
  if (show->typed.is_open) {
    tell_words(show_hints(), 0, "Space begins.");
  }
  if (show->playing.equipment.control.kind) {
    tell_words(stdout,
               0,
               "Tap to begin; two taps easier, three harder; tap and hold "
               "slower, twice and hold faster; hold to leave.");
  }
  (void)fflush(stdout);
  return show_wait(show, &trade->trading.choices);
}

static int
play_on(Trade* const trade)
{
  bool goes_on = !show_can_wait(&trade->show) || wait_for_player(trade);
  int  code    = EXIT_DONE;
  while (goes_on && !code) {
    StageResult result = {.end = STAGE_OVER};
    code               = play(trade, &result);
    if (code || result.end == STAGE_SIGNAL || trade->show.leaves) {
      break;
    }
    goes_on = (result.end == STAGE_GESTURE && result.gesture != GESTURE_STOP) ||
              wait_for_player(trade);
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
         !stage_is_asked_to_stop(trade->show.playing.stage)) {
    while (stage_take(trade->show.playing.stage, &message)) {
      if (!trigger_learn(&message, &trigger)) {
        continue;
      }
      if (equipment_keep(&trade->trading.who.learner.choices,
                         &trigger,
                         NULL,
                         path,
                         &fault)) {
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

// Who names a learner practises
static bool
is_practice(const Options* const options)
{
  return options_have(options, OPTION_PRACTICE) ||
         options_have(options, OPTION_LEARNER);
}

static int
trade_with(Trade* const trade, const Options* const options)
{
  Trading* const trading = &trade->trading;
  int            code    = begin_who(&trading->who, options);
  if (code) {
    return code;
  }
  trading->is_practice = is_practice(options);
  trading->choices     = begin_choose(&trading->who, options);
  code                 = begin_setup(&trading->setup, &trading->choices);
  if (code) {
    return code; // Before anything is opened
  }
  trading->choices    = trading->setup.choices;
  trade->show.choices = &trading->choices;
  trade->show.steering =
    GESTURE_BIT(GESTURE_EASIER) | GESTURE_BIT(GESTURE_HARDER) |
    GESTURE_BIT(GESTURE_SLOWER) | GESTURE_BIT(GESTURE_FASTER);
  code = show_open(&trade->show, options, &trading->choices);
  if (!code) {
    code = options_have(options, OPTION_LEARN_CONTROL) ? learn_control(trade)
                                                       : play_on(trade);
    show_close(&trade->show);
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
  const int code = trade_with(trade, options);
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
    "sound plays unless --out names a MIDI port. Every session is recorded;\n"
    "barter answer --replay makes it again. It is practice with --practice, "
    "or\n"
    "where --learner says whose.\n\n"
    "At a terminal Space begins and pauses (in an echo it taps the rhythm in\n"
    "your turns), + and - change the tempo, < and > make it easier and "
    "harder,\n"
    "q leaves. With a --control, one key or pedal steers: tap to begin or\n"
    "begin again, hold to stop, two taps easier, three harder, tap and hold\n"
    "slower, twice and hold faster.\n\n"
    "A --way of playing together has a goal of its own: answer (as usual),\n"
    "question (one asks, the other closes), echo (give back what you hear),\n"
    "few-notes (one, two, three), story (A A B, the B is yours), handing-over\n"
    "(I play, we play, you play), sing-first (a bar to sing in).",
  .options = OPTIONS_OF_SESSION | SHOW_OPTIONS |
             OPTION_BIT(OPTION_LEARN_CONTROL) | OPTION_BIT(OPTION_LEARNER) |
             OPTION_BIT(OPTION_PRACTICE),
  .run = run,
};
