#include "responder/session/script.h"

#include <assert.h>
#include <string.h>

static_assert((int)SCRIPT_CAPACITY <= (int)ANSWER_CAPACITY,
              "a turn fits an answer");

void
script_answer(const Script* const script,
              const Ear* const    ear,
              const Turn* const   turn,
              Answer* const       answer)
{
  assert(script->n_turns > 0);
  const ScriptTurn* const says =
    &script->turns[(turn->index - 1) / 2 % script->n_turns];
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
