#include "responder/say/gaps.h"

static Tick
gap_at(const Idea* const idea, const unsigned i)
{
  return idea->ticks[i + 1] - idea->ticks[i];
}

static unsigned
least(const unsigned a, const unsigned b)
{
  return a < b ? a : b;
}

static unsigned
count_edits(const Idea* const a, const Idea* const b)
{
  unsigned edits[IDEA_NOTE_CAPACITY]; // Of the gaps so far to the first j
  for (unsigned j = 0; j < b->n_notes; ++j) {
    edits[j] = j;
  }
  for (unsigned i = 1; i < a->n_notes; ++i) {
    unsigned diagonal = edits[0];
    edits[0]          = i;
    for (unsigned j = 1; j < b->n_notes; ++j) {
      const unsigned other    = gap_at(a, i - 1) != gap_at(b, j - 1) ? 1 : 0;
      const unsigned replaced = diagonal + other;
      diagonal                = edits[j];
      edits[j] = least(replaced, least(edits[j], edits[j - 1]) + 1);
    }
  }
  return edits[b->n_notes - 1];
}

double
gaps_likeness(const Idea* const a, const Idea* const b)
{
  const unsigned longer = a->n_notes > b->n_notes ? a->n_notes : b->n_notes;
  return a->n_notes < 2 || b->n_notes < 2
           ? 0.0
           : 1.0 - (double)count_edits(a, b) / (longer - 1);
}
