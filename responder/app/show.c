#include "responder/app/show.h"

#include "core/time/monotonic.h"
#include "responder/app/command.h"
#include "responder/tell/screen.h"
#include "responder/tell/tell.h"

#include <stdio.h>
#include <stdlib.h>

enum { LOOK_MS = 20 }; ///< Between two looks at what there is to show

int
show_open(Playing* const       playing,
          const Options* const options,
          const Choices* const choices)
{
  const PlayingWish wish = {
    .equipment = options_equipment(options),
    .record    = options_have(options, OPTION_RECORD) ? options->record : NULL,
    .thru      = options_have(options, OPTION_THRU),
    .click     = options_have(options, OPTION_CLICK),
    .sync      = options_have(options, OPTION_SYNC),
  };
  Notices      notices = {.n = 0};
  Fault        fault;
  const Status status = playing_open(playing, &wish, choices, &notices, &fault);
  command_notice(&notices);
  if (status) {
    return command_fail(&fault);
  }
  (void)printf("%s\n", stage_text(playing->stage));
  return EXIT_DONE;
}

// One session

// Says once that the journal took no more
static void
tell_of_journal(const PlayingSession* const kept, bool* const is_told)
{
  if (kept && kept->kept.status && !*is_told) {
    (void)command_fail(&kept->kept);
    *is_told = true;
  }
}

void
show_session(Playing* const              playing,
             const SessionOptions* const session,
             PlayingSession* const       kept,
             const TurnListener          hear_turn,
             void* const                 context,
             StageResult* const          result)
{
  Screen screen  = screen_begin(stdout, session);
  bool   is_told = false;
  bool   goes_on = true;
  char   opening[REMARK_CAPACITY];
  if (*session_opening(session, opening)) {
    screen_say(&screen, opening);
  }
  while (goes_on) {
    goes_on               = playing_goes_on(playing, result);
    const StageNews* news = NULL;
    while ((news = playing_take_news(playing, kept))) {
      if (!news->is_turn) {
        screen_say(&screen, news->words);
        continue;
      }
      screen_turn(&screen, &news->turn);
      tell_of_journal(kept, &is_told);
      if (hear_turn) {
        hear_turn(context, &news->turn);
      }
    }
    if (goes_on) {
      screen_beat(&screen, stage_now(playing->stage));
      monotonic_sleep_ms(LOOK_MS);
    }
  }
  screen_end(&screen);
}

int
show_drill(Playing* const              playing,
           const SessionOptions* const session,
           const TurnListener          hear_turn,
           void* const                 context,
           StageResult* const          result)
{
  Fault fault;
  if (playing_begin_drill(playing, session, &fault)) {
    return command_fail(&fault);
  }
  show_session(playing, session, NULL, hear_turn, context, result);
  playing_end(playing, NULL, result);
  return EXIT_DONE;
}

void
show_kept(Playing* const        playing,
          PlayingSession* const session,
          StageResult* const    result)
{
  tell_chart(stdout, &session->recorded.session);
  (void)fflush(stdout);
  show_session(
    playing, &session->recorded.session, session, NULL, NULL, result);
}

int
show_result(const PlayingSession* const session,
            const StageResult* const    result)
{
  (void)printf("\n");
  if (session->summary.n_turns) {
    tell_summary(stdout, &session->summary);
  }
  if (result->is_kept) {
    (void)printf("Kept as %s\n", session->path);
  }
  (void)fflush(stdout);
  if (result->n_lost) {
    command_say("%u keys or notes came too thick and were lost",
                result->n_lost);
  }
  return result->fault.status ? command_fail(&result->fault) : EXIT_DONE;
}

// One after the other

static int
play_all(const Course* const course, Playing* const playing)
{
  for (unsigned i = 0; i < course->n;) {
    StageResult result = {.end = STAGE_OVER};
    course->tell(course->context, i);
    (void)putchar('\n');
    (void)fflush(stdout);
    const int code = course->play(course->context, playing, i, &result);
    if (code) {
      return code;
    }
    if (result.gesture == GESTURE_SLOWER || result.gesture == GESTURE_FASTER) {
      playing_obey(course->choices, result.gesture);
    }
    i = playing_next(i, course->n, &result);
  }
  return EXIT_DONE;
}

int
show_course(const Course* const course)
{
  Playing* const playing = calloc(1, sizeof(*playing));
  if (!playing) {
    return command_fail_memory();
  }
  int code = show_open(playing, course->options, course->choices);
  if (!code) {
    if (playing->equipment.control.kind) {
      (void)puts("Tap to play one again, two taps to go on, hold to leave; tap "
                 "and hold\nslower, twice and hold faster.");
    }
    code = play_all(course, playing);
    playing_close(playing);
  }
  free(playing);
  return code;
}
