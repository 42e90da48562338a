#include "responder/hear/breath.h"

static const double REST_MS = 350;

void
breath_mark(Phrase* const phrase, const double ms_per_tick)
{
  Tick sounding = INT64_MIN / 2; // Until when
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    HeardNote* const heard = &phrase->notes[i];
    const Tick       rest  = heard->note.tick - sounding;
    heard->begins_phrase   = (double)rest * ms_per_tick >= REST_MS;
    sounding               = heard->note.tick + heard->note.length;
  }
}
