#include "responder/app/ideas_live.h"

#include "responder/app/command.h"
#include "responder/app/sitting.h"

#include <stdlib.h>
#include <string.h>

enum {
  TURNS_EACH   = 4, ///< The idea, a try, an answer to it, the last word
  SILENT_FORMS = 3, ///< Played in vain so often, it is left at that
};

// What lasts through all of them
typedef struct {
  const IdeasShow* show;
  Sitting          sitting;
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

static Status
perform(Player* const player, const unsigned index, StageResult* const result)
{
  const IdeasShow* const show    = player->show;
  const Script           script  = {1, &player->turn, true};
  SessionOptions         session = setup_session(show->setup);
  session.chart                  = &player->chart;
  session.bars_per_turn          = bars_of(show);
  session.choruses               = 1;
  session.partner_begins         = true;
  session.makes_room             = false;
  session.plan                   = (ClimbPlan){.success_step = 0.0};
  session.script                 = &script;
  session.seed += index;
  const Performance performance = {
    .session   = &session,
    .click     = options_have(show->options, OPTION_CLICK),
    .sync      = options_have(show->options, OPTION_SYNC),
    .hear_turn = hear_turn,
    .context   = player,
  };
  write_turn(
    &player->turn, &show->found->ways[index].answer, show->phrase->start_tick);
  return stage_perform(player->sitting.stage, &performance, result);
}

// Plays one until it was tried, or nobody is there to try it
static int
play_one(Player* const player, const unsigned index, StageResult* const result)
{
  player->n_tries = 0;
  player->show->tell(player->show->context, index);
  (void)putchar('\n');
  (void)fflush(stdout);
  for (unsigned i = 0; i < SILENT_FORMS && !player->n_tries; ++i) {
    const Status status = perform(player, index, result);
    if (status) {
      command_say("the idea could not begin: %s", status_text(status));
      return EXIT_SYSTEM;
    }
    if (result->end != STAGE_OVER) {
      break;
    }
  }
  return EXIT_DONE;
}

// What comes after an idea: itself again, the next, or nothing
static unsigned
next_one(const Player* const player,
         const unsigned      index,
         const StageResult*  result)
{
  const unsigned n = player->show->found->n;
  if (result->end == STAGE_OVER) {
    return player->n_tries ? index + 1 : n;
  }
  return result->end == STAGE_SIGNAL || result->gesture == GESTURE_STOP ? n
         : result->gesture == GESTURE_EASIER ? index + 1
                                             : index;
}

static int
play_all(Player* const player)
{
  const IdeasShow* const show = player->show;
  unsigned               i    = 0;
  while (i < show->found->n) {
    StageResult result = {.end = STAGE_OVER};
    const int   code   = play_one(player, i, &result);
    if (code) {
      return code;
    }
    if (result.end == STAGE_OVER && !player->n_tries) {
      (void)puts("Nothing was played; we go on another time.");
    }
    if (result.gesture == GESTURE_SLOWER || result.gesture == GESTURE_FASTER) {
      sitting_obey(&show->setup->choices, result.gesture);
    }
    i = next_one(player, i, &result);
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
  player->show             = show;
  player->sitting.options  = show->options;
  player->sitting.defaults = *show->defaults;
  int code                 = EXIT_SYSTEM;
  if (lay_chart(player)) {
    command_say("the phrase has too many chords to be played over");
  } else {
    code = sitting_open(&player->sitting, &show->setup->choices);
  }
  if (!code) {
    if (player->sitting.equipment.control.kind) {
      (void)puts("Tap to play one again, two taps to go on, hold to leave; tap "
                 "and hold\nslower, twice and hold faster.");
    }
    code = play_all(player);
    sitting_close(&player->sitting);
  }
  free(player);
  return code;
}
