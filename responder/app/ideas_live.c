#include "responder/app/ideas_live.h"

#include "responder/app/command.h"
#include "responder/app/course.h"

#include <stdlib.h>
#include <string.h>

enum {
  TURNS_EACH   = 4, ///< The idea, a try, an answer to it, the last word
  SILENT_FORMS = 3, ///< Played in vain so often, it is left at that
};

// What lasts through all of them
typedef struct {
  const IdeasShow* show;
  Chart            chart; ///< The phrase's bars, once for each turn
  ScriptTurn       turn;
  unsigned         n_tries; ///< Turns of the player's with notes
} Player;

static unsigned
bars_of(const IdeasShow* const show)
{
  const Tick turn = show->phrase->end_tick - show->phrase->start_tick;
  return (unsigned)(turn / meter_bar_ticks(show->setup->chart.chart.meter));
}

static Status
lay_chart(Player* const player)
{
  const IdeasShow* const show = player->show;
  const Chart* const     form = &show->setup->chart.chart;
  const unsigned         bars = bars_of(show);
  const Tick first  = show->phrase->start_tick / meter_bar_ticks(form->meter);
  Status     status = chart_part(&player->chart, form, (unsigned)first, bars);
  for (unsigned n = 1; n < TURNS_EACH && !status; n *= 2) {
    status = chart_make_room(&player->chart, n * bars);
  }
  return status;
}

static void
write_turn(ScriptTurn* const turn, const Answer* const answer, const Tick start)
{
  *turn = (ScriptTurn){.move = answer->move};
  for (unsigned i = 0; i < answer->n_notes && i < SCRIPT_CAPACITY; ++i) {
    turn->notes[i] = answer->notes[i];
    turn->notes[i].tick -= start;
    turn->grid_ticks[i]  = answer->grid_ticks[i] - start;
    turn->is_ornament[i] = answer->is_ornament[i];
    ++turn->n_notes;
  }
  memcpy(turn->words, answer->why, sizeof(turn->words));
}

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  Player* const player = context;
  player->n_tries += record->turn.by_player && record->phrase.n_notes;
}

// Plays one until it was tried; when nobody is there to try it, that was the
// last
static int
play_one(void* const          context,
         const Sitting* const sitting,
         const unsigned       index,
         StageResult* const   result)
{
  Player* const          player = context;
  const IdeasShow* const show   = player->show;
  const Script           script = {1, &player->turn, true};
  SessionOptions         session =
    course_session(show->setup, &player->chart, bars_of(show), &script);
  session.seed += index;
  player->n_tries = 0;
  write_turn(
    &player->turn, &show->found->ways[index].answer, show->phrase->start_tick);
  for (unsigned i = 0; i < SILENT_FORMS && !player->n_tries; ++i) {
    const int code =
      course_perform(sitting, &session, hear_turn, player, result);
    if (code || result->end != STAGE_OVER) {
      return code;
    }
  }
  if (!player->n_tries) {
    (void)puts("Nothing was played; we go on another time.");
    *result = (StageResult){.end = STAGE_GESTURE, .gesture = GESTURE_STOP};
  }
  return EXIT_DONE;
}

int
ideas_live(const IdeasShow* const show)
{
  Player* const player = calloc(1, sizeof(*player));
  if (!player) {
    return command_fail_memory();
  }
  player->show = show;
  int code     = EXIT_SYSTEM;
  if (lay_chart(player)) {
    command_say("the phrase has too many chords to be played over");
  } else {
    code = course_run(&(Course){
      .options = show->options,
      .who     = show->who,
      .setup   = show->setup,
      .n       = show->found->n,
      .tell    = show->tell,
      .teller  = show->context,
      .play    = play_one,
      .player  = player,
    });
  }
  free(player);
  return code;
}
