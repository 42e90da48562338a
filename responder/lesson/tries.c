#include "responder/lesson/tries.h"

#include "responder/lesson/drills.h"

#include <string.h>
#include <unistd.h>

enum {
  TURNS_EACH   = 4, ///< The idea, a try, an answer to it, the last word
  SILENT_FORMS = 3, ///< Played in vain so often, it is left at that
};

static unsigned
bars_of(const Desk* const desk)
{
  const Phrase* const phrase = &desk->opening.phrase;
  const Tick          turn   = phrase->end_tick - phrase->start_tick;
  return (unsigned)(turn / meter_bar_ticks(desk->setup.chart.chart.meter));
}

Status
tries_open(Tries* const tries, const Desk* const desk)
{
  const Chart* const form = &desk->setup.chart.chart;
  const unsigned     bars = bars_of(desk);
  const Tick         first =
    desk->opening.phrase.start_tick / meter_bar_ticks(form->meter);
  memset(tries, 0, sizeof(*tries));
  tries->desk   = desk;
  Status status = chart_part(&tries->chart, form, (unsigned)first, bars);
  for (unsigned n = 1; n < TURNS_EACH && !status; n *= 2) {
    status = chart_make_room(&tries->chart, n * bars);
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

void
tries_begin(Tries* const tries, const unsigned index)
{
  const Desk* const desk = tries->desk;
  tries->script          = (Script){1, &tries->turn, true};
  tries->session =
    drills_session(&desk->setup, &tries->chart, bars_of(desk), &tries->script);
  tries->session.seed += index;
  tries->n_forms = 0;
  tries->n_tries = 0;
  write_turn(&tries->turn,
             &desk->found.ways[index].answer,
             desk->opening.phrase.start_tick);
}

bool
tries_next(Tries* const tries)
{
  if (tries->n_tries || tries->n_forms == SILENT_FORMS) {
    return false;
  }
  ++tries->n_forms;
  return true;
}

void
tries_hear(Tries* const tries, const TurnRecord* const record)
{
  tries->n_tries += record->turn.by_player && record->phrase.n_notes;
}

Status
tries_play(Tries* const tries, Playing* const playing, Fault* const fault)
{
  return playing_begin_try(
    playing, &tries->kept, &tries->desk->setup, &tries->session, fault);
}

void
tries_end(Tries* const tries, Playing* const playing, StageResult* const result)
{
  playing_end(playing, &tries->kept, result);
  if (!tries->n_tries && result->is_kept) {
    (void)unlink(tries->kept.path);
    result->is_kept = false;
  }
}

bool
tries_are_vain(const Tries* const tries)
{
  return !tries->n_tries;
}
