#include "responder/hear/ornament.h"

#include <stdlib.h>

/// What an ornament may be at most. Chosen so that fast notes are none: one
/// jazz interval in ten is under 74 ms, one in four under 100 ms (computed from
/// the Weimar Jazz Database 1.2); crushed notes keep a fixed length of about
/// 40-120 ms (Timmers et al. 2002; figures from memory).
static const struct {
  double   ms;
  double   share; ///< Of the interval that follows
  unsigned semitones;
} MOST = {80, 1.0 / 3.0, 2};

static bool
is_crushed(const HeardNote* const heard,
           const HeardNote* const main,
           const Tick             main_ends,
           const double           ms_per_tick)
{
  const Tick     gap  = main->note.tick - heard->note.tick;
  const Tick     next = main_ends - main->note.tick;
  const int      step = main->note.pitch - heard->note.pitch;
  const unsigned size = (unsigned)abs(step);
  return (double)gap * ms_per_tick <= MOST.ms &&
         (double)gap <= MOST.share * (double)next && size > 0 &&
         size <= MOST.semitones;
}

void
ornament_mark(Phrase* const phrase, const double ms_per_tick)
{
  for (unsigned i = 0; i + 1 < phrase->n_notes; ++i) {
    HeardNote* const       heard = &phrase->notes[i];
    const HeardNote* const main  = heard + 1;
    const Tick             ends  = i + 2 < phrase->n_notes
                                     ? heard[2].note.tick
                                     : main->note.tick + main->note.length;
    if (is_crushed(heard, main, ends, ms_per_tick)) {
      heard->is_ornament = true;
    }
  }
}

void
ornament_place(Phrase* const phrase)
{
  for (unsigned i = phrase->n_notes; i-- > 0;) {
    HeardNote* const heard = &phrase->notes[i];
    if (heard->is_ornament && i + 1 < phrase->n_notes) {
      heard->grid_tick = heard[1].grid_tick;
      heard->grid      = heard[1].grid;
    }
  }
}
