#include "responder/session/turn.h"

#include <assert.h>

static unsigned
least(const unsigned a, const unsigned b)
{
  return a < b ? a : b;
}

Turn
turn_at(const TurnPlan plan, const unsigned index)
{
  assert(index >= 1 && plan.bars_per_turn >= 1 && plan.bars_per_chorus >= 1);
  const unsigned copies = plan.makes_room ? 2 : 1;
  const unsigned form   = plan.bars_per_chorus / copies;
  const unsigned groups = (form + plan.bars_per_turn - 1) / plan.bars_per_turn;
  const unsigned per_chorus = groups * copies;

  const unsigned chorus = (index - 1) / per_chorus;
  const unsigned place  = (index - 1) % per_chorus;
  const unsigned group  = place / copies * plan.bars_per_turn;
  const unsigned bars   = least(plan.bars_per_turn, form - group);
  const unsigned first  = copies * group + place % copies * bars;
  const unsigned last   = first + bars;
  const unsigned before = chorus * plan.bars_per_chorus;

  // Turns alternate, so those of one player are every other place
  return (Turn){
    .index           = index,
    .by_player       = (index % 2 == 1) == plan.player_begins,
    .start           = (before + first) * plan.bar_ticks,
    .end             = (before + last) * plan.bar_ticks,
    .first_bar       = before + first + 1,
    .turn_in_chorus  = place / 2,
    .turns_in_chorus = (per_chorus - place % 2 + 1) / 2,
    .begins_chorus   = place < 2,
    .ends_chorus     = last == plan.bars_per_chorus,
  };
}
