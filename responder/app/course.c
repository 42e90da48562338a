#include "responder/app/course.h"

#include "responder/app/command.h"

#include <stdio.h>
#include <stdlib.h>

SessionOptions
course_session(const Setup* const  setup,
               const Chart* const  chart,
               const unsigned      bars,
               const Script* const script)
{
  SessionOptions session = setup_session(setup);
  session.chart          = chart;
  session.bars_per_turn  = bars;
  session.choruses       = 1;
  session.partner_begins = true;
  session.makes_room     = false;
  session.plan           = (ClimbPlan){.success_step = 0.0};
  session.script         = script;
  return session;
}

int
course_perform(const Sitting* const        sitting,
               const SessionOptions* const session,
               void (*const hear_turn)(void* player, const TurnRecord* record),
               void* const        player,
               StageResult* const result)
{
  const Performance performance = {
    .session = session,
    .click   = options_have(sitting->options, OPTION_CLICK),
    .sync    = options_have(sitting->options, OPTION_SYNC),
  };
  StageNews* const news = calloc(1, sizeof(*news));
  const Status     status =
    news
          ? sitting_perform(sitting, &performance, news, hear_turn, player, result)
          : STATUS_MEMORY;
  free(news);
  if (status) {
    command_say("it could not begin: %s", status_text(status));
    return EXIT_SYSTEM;
  }
  return EXIT_DONE;
}

// What comes after one: itself again, the next, or nothing
static unsigned
next_one(const Course* const      course,
         const unsigned           index,
         const StageResult* const result)
{
  if (result->end == STAGE_OVER || result->gesture == GESTURE_EASIER) {
    return index + 1;
  }
  return result->end == STAGE_SIGNAL || result->gesture == GESTURE_STOP
           ? course->n
           : index;
}

static int
play_all(const Course* const course, const Sitting* const sitting)
{
  for (unsigned i = 0; i < course->n;) {
    StageResult result = {.end = STAGE_OVER};
    course->tell(course->teller, i);
    (void)putchar('\n');
    (void)fflush(stdout);
    const int code = course->play(course->player, sitting, i, &result);
    if (code) {
      return code;
    }
    if (result.gesture == GESTURE_SLOWER || result.gesture == GESTURE_FASTER) {
      sitting_obey(&course->setup->choices, result.gesture);
    }
    i = next_one(course, i, &result);
  }
  return EXIT_DONE;
}

int
course_run(const Course* const course)
{
  Sitting sitting = {.options = course->options, .who = course->who};
  int     code    = sitting_open(&sitting, &course->setup->choices);
  if (code) {
    return code;
  }
  if (sitting.equipment.control.kind) {
    (void)puts("Tap to play one again, two taps to go on, hold to leave; tap "
               "and hold\nslower, twice and hold faster.");
  }
  code = play_all(course, &sitting);
  sitting_close(&sitting);
  return code;
}
