#include "responder/session/turn.h"

#include <assert.h>

static unsigned
least(const unsigned a, const unsigned b)
{
  return a < b ? a : b;
}

/// Count the turns of the same player in a chorus, up to this one and all.
static void
count_own(const TurnPlan plan, PatternPlace at, Turn* const turn)
{
  const unsigned place = at.place;
  const unsigned first = at.number - place;
  for (at.place = 0; at.place < at.places; ++at.place) {
    at.number = first + at.place;
    if (pattern_turn(plan.way, at, plan.player_begins).by_player ==
        turn->by_player) {
      turn->turn_in_chorus += at.place < place;
      ++turn->turns_in_chorus;
    }
  }
  turn->begins_chorus = turn->turn_in_chorus == 0;
}

Turn
turn_at(const TurnPlan plan, const unsigned index)
{
  assert(index >= 1 && plan.bars_per_turn >= 1 && plan.bars_per_chorus >= 1);
  const unsigned silent = pattern_silent_bars(plan.way);
  const unsigned copies = plan.makes_room ? 2 : 1;
  const unsigned form   = plan.bars_per_chorus / copies;
  const unsigned length =
    plan.bars_per_turn > silent ? plan.bars_per_turn : silent + 1;
  const unsigned     groups = (form + length - 1) / length;
  const unsigned     places = groups * copies;
  const PatternPlace at     = {.chorus = (index - 1) / places,
                               .place  = (index - 1) % places,
                               .places = places,
                               .number = index - 1};

  const unsigned group  = at.place / copies * length;
  const unsigned bars   = least(length, form - group);
  const unsigned first  = copies * group + at.place % copies * bars;
  const unsigned last   = first + bars;
  const unsigned before = at.chorus * plan.bars_per_chorus;
  const unsigned sung   = bars > silent ? silent : 0;

  const PatternTurn pattern = pattern_turn(plan.way, at, plan.player_begins);
  Turn              turn    = {
                    .index       = index,
                    .by_player   = pattern.by_player,
                    .task        = pattern.task,
                    .chorus      = at.chorus,
                    .silence     = (before + first) * plan.bar_ticks,
                    .start       = (before + first + sung) * plan.bar_ticks,
                    .end         = (before + last) * plan.bar_ticks,
                    .first_bar   = before + first + sung + 1,
                    .ends_chorus = last == plan.bars_per_chorus,
  };
  count_own(plan, at, &turn);
  return turn;
}
