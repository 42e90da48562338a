#include "responder/session/aim.h"

// Common practice, no source
static const double   often     = 0.6; // Share of the turns of a chorus
static const unsigned all_tones = 4;   // With fewer, landing comes first

AimStand
aim_begin(const NotesRung* const notes, const uint64_t seed)
{
  return (AimStand){
    .aim = notes->chord_tones < all_tones ? AIM_LAND : (Aim)(seed % N_AIMS)};
}

void
aim_add(AimStand* const stand, const bool reached[N_AIMS])
{
  ++stand->n_turns;
  for (unsigned i = 0; i < N_AIMS; ++i) {
    stand->n_met[i] += reached[i];
  }
}

bool
aim_is_met(const AimStand* const stand)
{
  const unsigned n = stand->n_met[stand->aim];
  return stand->aim == AIM_TWICE ? n > 0 : n >= often * stand->n_turns;
}

AimStand
aim_next(const AimStand* const stand)
{
  const bool is_heard = stand->n_turns > 0;
  if (!is_heard || (!aim_is_met(stand) && !stand->is_again)) {
    return (AimStand){.aim = stand->aim, .is_again = is_heard};
  }
  AimStand next = {.aim = (Aim)((stand->aim + 1) % N_AIMS)};
  for (unsigned i = 2; i < N_AIMS; ++i) {
    const Aim other = (Aim)((stand->aim + i) % N_AIMS);
    if (stand->n_met[other] < stand->n_met[next.aim]) {
      next.aim = other;
    }
  }
  return next;
}
