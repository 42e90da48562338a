#include "responder/ideas/excerpt.h"

// Common practice, no source: a thought of less than that is a beginning
static const unsigned least_halves = 3; // Of a bar, before a breath ends it
static const Tick     least_bars   = 2;

unsigned
excerpt_end(const Phrase* const phrase, const Tick bar)
{
  unsigned   i    = 1;
  const Tick from = phrase->start_tick + least_halves * bar / 2;
  while (i < phrase->n_notes && (!phrase->notes[i].begins_phrase ||
                                 phrase->notes[i].grid_tick < from)) {
    ++i;
  }
  return i;
}

Tick
excerpt_bars(const Tick from, const Tick last, const Tick bar)
{
  const Tick touched = (last - from) / bar + 1;
  return touched < least_bars ? least_bars : touched;
}
