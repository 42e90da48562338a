#include "responder/app/command.h"

#include "responder/app/begin.h"
#include "responder/app/outputs.h"
#include "responder/app/show.h"
#include "responder/lesson/choosing.h"
#include "responder/lesson/drills.h"
#include "responder/lesson/warmup_plan.h"
#include "responder/lesson/warmup_play.h"
#include "responder/tell/warmup_tell.h"

#include <stdio.h>
#include <stdlib.h>

// A day's warm-up, and what playing it live needs
typedef struct {
  Setup          setup;
  Who            who;
  int32_t        day;
  Warmup         warmup;
  WarmupTold     told;
  Drills         drills;
  Setup          trading;
  PlayingSession session;
} Today;

// Live

static int
play_drill(Today* const            present,
           Show* const             show,
           const WarmupItem* const item,
           StageResult* const      result)
{
  Drills* const drills = &present->drills;
  int           code   = EXIT_DONE;
  drills_begin(drills, &present->setup, item);
  while (!code && result->end == STAGE_OVER && drills_next(drills)) {
    code = show_drill(show, &drills->session, result);
  }
  return code;
}

static int
play_trading(Today* const            present,
             Show* const             show,
             const WarmupItem* const item,
             StageResult* const      result)
{
  Fault fault;
  drills_trading(&present->trading, &present->setup, item);
  who_look(&present->who); // What was traded before may have changed it
  if (playing_begin(&show->playing,
                    &present->session,
                    &present->trading,
                    "warmup",
                    &present->who,
                    &fault)) {
    return command_fail(&fault);
  }
  show_kept(show, &present->session, result);
  playing_end(&show->playing, &present->session, result);
  return show_result(&present->session, result);
}

static int
play_item(void* const        context,
          Show* const        show,
          const unsigned     index,
          StageResult* const result)
{
  Today* const            present = context;
  const WarmupItem* const item    = &present->warmup.items[index];
  return item->trades ? play_trading(present, show, item, result)
                      : play_drill(present, show, item, result);
}

static void
tell_item(void* const context, const unsigned index)
{
  const Today* const present = context;
  warmup_tell_item(stdout, &present->told, index);
}

static int
play_live(Today* const present, const Options* const options)
{
  warmup_tell_care(stdout);
  return show_course(&(Course){
    .options = options,
    .choices = &present->setup.choices,
    .n       = present->warmup.n_items,
    .tell    = tell_item,
    .play    = play_item,
    .context = present,
  });
}

// The command

static int
prepare(Today* const present, const Options* const options)
{
  const int day = begin_day(&present->day, options);
  if (day) {
    return day;
  }
  const int code = begin_who(&present->who, options);
  if (code) {
    return code;
  }
  Choices choices = begin_choose(&present->who, options);
  choose_climb(&choices, &present->who);
  choices.choruses = 1;
  return begin_setup(&present->setup, &choices);
}

static int
warm_up(Today* const present, const Options* const options)
{
  const bool   has_minutes = options_have(options, OPTION_MINUTES);
  const double minutes = has_minutes ? options->minutes : WARMUP_PLAN_MINUTES;
  const Who* const who = &present->who;
  Fault            fault;
  const int        code = prepare(present, options);
  if (code) {
    return code;
  }
  present->warmup =
    warmup_plan(&present->setup,
                who->has_place ? who->person.id : PEOPLE_USUAL_ID,
                present->day,
                minutes);
  present->told = (WarmupTold){
    &present->setup, &present->warmup, who->learner.name, present->day};
  warmup_tell_head(stdout, &present->told);
  if (options_have(options, OPTION_LIVE)) {
    return play_live(present, options);
  }
  for (unsigned i = 0; i < present->warmup.n_items; ++i) {
    tell_item(present, i);
  }
  warmup_tell_care(stdout);
  const Setup* const setup = &present->setup;
  int                ended = EXIT_DONE;
  if (options_have(options, OPTION_OUT) &&
      warmup_save(&present->warmup, setup, options->out, &fault)) {
    ended = command_fail(&fault);
  }
  if (options_have(options, OPTION_SCORE) &&
      warmup_engrave(&present->warmup, setup, options->score, &fault)) {
    ended = command_fail(&fault);
  }
  return ended;
}

static int
run(const Options* const options)
{
  if (options->n_operands) {
    return command_misuse("warmup takes no file; --out FILE.mid writes one");
  }
  if (!options_have(options, OPTION_LIVE) &&
      options->given & SHOW_OPTIONS & ~OPTION_BIT(OPTION_OUT)) {
    return command_misuse("ports and sound are of a warmup --live");
  }
  Options files = *options;
  if (options_have(options, OPTION_LIVE)) {
    files.given &= ~OPTION_BIT(OPTION_OUT); // It is a port
  }
  const int checked = outputs_check(NULL, &files, 0);
  if (checked) {
    return checked;
  }
  Today* const present = calloc(1, sizeof(*present));
  if (!present) {
    return command_fail_memory();
  }
  const int code = warm_up(present, options);
  free(present);
  return code;
}

const Command command_warmup = {
  .name     = "warmup",
  .operands = "",
  .summary  = "today's plan to warm up with",
  .words =
    "Plans some minutes from easy to where the learner stands, the same for "
    "all\nof a day. --out writes them as a MIDI file to play along with, "
    "--score on\npaper with fingerings. --live plays them through: each "
    "exercise is played to\nyou, and you play it again; what is traded counts "
    "as practice.\n\nAt a terminal r plays one again and n goes on. With a "
    "--control one tap plays\nit again, two go on, a tap and a hold make it "
    "slower, two and a hold faster,\nand holding leaves.",
  .options = OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
             OPTION_BIT(OPTION_TEMPO) | OPTION_BIT(OPTION_FEEL) |
             OPTION_BIT(OPTION_LEARNER) | OPTION_BIT(OPTION_MINUTES) |
             OPTION_BIT(OPTION_DATE) | OPTION_BIT(OPTION_LIVE) |
             OPTION_BIT(OPTION_SCORE) | SHOW_OPTIONS,
  .run = run,
};
