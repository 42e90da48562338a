#include "responder/session/script.h"

#include <assert.h>
#include <string.h>

static_assert((int)SCRIPT_CAPACITY <= (int)ANSWER_CAPACITY,
              "a turn fits an answer");

static const ScriptTurn*
turn_of(const Script* const script, const unsigned nth)
{
  return &script->turns[nth % script->n_turns];
}

bool
script_comes_again(const Script* const script, const Turn* const turn)
{
  const unsigned          nth  = (turn->index - 1) / 2;
  const ScriptTurn* const a    = turn_of(script, nth);
  const ScriptTurn* const b    = turn_of(script, nth + 1);
  bool                    does = a->n_notes == b->n_notes;
  for (unsigned i = 0; does && i < a->n_notes; ++i) {
    does = a->notes[i].pitch == b->notes[i].pitch &&
           a->grid_ticks[i] == b->grid_ticks[i];
  }
  return does;
}

void
script_answer(const Script* const script,
              const Ear* const    ear,
              const Turn* const   turn,
              Answer* const       answer)
{
  assert(script->n_turns > 0);
  const ScriptTurn* const says = turn_of(script, (turn->index - 1) / 2);
  *answer = (Answer){.n_notes = says->n_notes, .move = says->move};
  for (unsigned i = 0; i < says->n_notes; ++i) {
    answer->notes[i] = says->notes[i];
    answer->notes[i].tick += turn->start;
    answer->grid_ticks[i]  = turn->start + says->grid_ticks[i];
    answer->is_ornament[i] = says->is_ornament[i];
  }
  memcpy(answer->why, says->words, sizeof(answer->why));
  hear_written(&answer->heard,
               ear,
               answer->notes,
               answer->grid_ticks,
               answer->is_ornament,
               answer->n_notes,
               turn->start,
               turn->end);
}
