#include "responder/say/gaps.h"

#include <assert.h>

static unsigned
least(const unsigned a, const unsigned b)
{
  return a < b ? a : b;
}

static unsigned
count_edits(const Tick* const a,
            const unsigned    n_a,
            const Tick* const b,
            const unsigned    n_b)
{
  assert(n_b <= GAPS_NOTES);
  unsigned edits[GAPS_NOTES]; // Of the gaps so far to the first j
  for (unsigned j = 0; j < n_b; ++j) {
    edits[j] = j;
  }
  for (unsigned i = 1; i < n_a; ++i) {
    unsigned diagonal = edits[0];
    edits[0]          = i;
    for (unsigned j = 1; j < n_b; ++j) {
      const unsigned other    = a[i] - a[i - 1] != b[j] - b[j - 1] ? 1 : 0;
      const unsigned replaced = diagonal + other;
      diagonal                = edits[j];
      edits[j] = least(replaced, least(edits[j], edits[j - 1]) + 1);
    }
  }
  return edits[n_b - 1];
}

double
gaps_likeness(const Tick* const a,
              const unsigned    n_a,
              const Tick* const b,
              const unsigned    n_b)
{
  const unsigned longer = n_a > n_b ? n_a : n_b;
  return n_a < 2 || n_b < 2
           ? 0.0
           : 1.0 - (double)count_edits(a, n_a, b, n_b) / (longer - 1);
}
