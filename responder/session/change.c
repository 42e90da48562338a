#include "responder/session/change.h"

bool
change_is_any(const SessionChange* const change)
{
  return change->tempo_bpm > 0.0 || change->rung.level[DIMENSION_NOTES];
}

void
change_add(SessionChange* const change, const SessionChange* const later)
{
  if (later->tempo_bpm > 0.0) {
    change->tempo_bpm = later->tempo_bpm;
  }
  if (later->rung.level[DIMENSION_NOTES]) {
    change->rung = later->rung;
  }
}
