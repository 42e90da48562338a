#include "responder/hear/hands.h"

#include <stdbool.h>

/// Windows in which notes count as struck together (ms): surely, and if they
/// overlap (facts on asynchrony: Hove, Keller & Krumhansl 2007).
static const struct {
  double together_ms;
  double overlapping_ms;
} WINDOW = {30, 50};

static void
add_melody(Phrase* const phrase, const Note* const note)
{
  if (phrase->n_notes == PHRASE_CAPACITY) {
    ++phrase->n_dropped;
    return;
  }
  phrase->notes[phrase->n_notes++] = (HeardNote){.note = *note};
}

static bool
is_together(const Hands hands, const Note* const first, const Note* const next)
{
  const double gap_ms = (double)(next->tick - first->tick) * hands.ms_per_tick;
  const bool   overlaps = next->tick < first->tick + first->length;
  return gap_ms <= WINDOW.together_ms ||
         (overlaps && gap_ms <= WINDOW.overlapping_ms);
}

/// Take a group of notes struck together: the top one is the melody, unless
/// all of several lie below the split.
static void
take_group(Phrase* const     phrase,
           const Hands       hands,
           const Note* const notes,
           const unsigned    n)
{
  unsigned top = 0;
  for (unsigned i = 1; i < n; ++i) {
    top = notes[i].pitch > notes[top].pitch ? i : top;
  }
  const bool is_chord = n > 1 && notes[top].pitch < hands.split_pitch;
  phrase->n_comping += is_chord ? n : n - 1;
  if (!is_chord) {
    add_melody(phrase, &notes[top]);
  }
}

void
hands_part(Phrase* const     phrase,
           const Hands       hands,
           const Note* const notes,
           const unsigned    n_notes)
{
  unsigned begin = 0;
  while (begin < n_notes) {
    unsigned end = begin + 1;
    while (end < n_notes && is_together(hands, &notes[begin], &notes[end])) {
      ++end;
    }
    take_group(phrase, hands, &notes[begin], end - begin);
    begin = end;
  }
}
