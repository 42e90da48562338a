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
aim_add(AimStand* const stand, const AimTurn* const turn)
{
  stand->n_turns += turn->has_notes;
  for (unsigned i = 0; i < N_AIMS; ++i) {
    stand->n_could[i] += turn->could[i];
    stand->n_met[i] += turn->could[i] && turn->reached[i];
  }
}

bool
aim_is_heard(const AimStand* const stand)
{
  return stand->n_turns > 0 && stand->n_could[stand->aim] > 0;
}

AimGrade
aim_grade(const AimStand* const stand)
{
  const unsigned n     = stand->n_met[stand->aim];
  const unsigned could = stand->n_could[stand->aim];
  return n == 0                                  ? AIM_NOT
         : n == could || stand->aim == AIM_TWICE ? AIM_WHOLLY
         : n >= often * could                    ? AIM_MOSTLY
                                                 : AIM_IN_PART;
}

/// Return how often an aim that could be reached was not.
static unsigned
missed(const AimStand* const stand, const Aim aim)
{
  return stand->n_could[aim] - stand->n_met[aim];
}

AimStand
aim_next(const AimStand* const stand)
{
  const bool is_heard = aim_is_heard(stand);
  if (stand->n_turns == 0 && stand->aim == AIM_ROOM) {
    return (AimStand){.aim = AIM_TAKE_UP};
  }
  if (!is_heard || (aim_grade(stand) < AIM_MOSTLY && !stand->is_again)) {
    return (AimStand){.aim = stand->aim, .is_again = is_heard};
  }
  AimStand next = {.aim = (Aim)((stand->aim + 1) % N_AIMS)};
  for (unsigned i = 2; i < N_AIMS; ++i) {
    const Aim other = (Aim)((stand->aim + i) % N_AIMS);
    if (missed(stand, other) > missed(stand, next.aim)) {
      next.aim = other;
    }
  }
  return next;
}
