/// @file responder/say/gaps.h How alike two rhythms are from note to note.

#ifndef RESPONDER_SAY_GAPS_H
#define RESPONDER_SAY_GAPS_H

#include "core/tick.h"

enum { GAPS_NOTES = 64 }; ///< Of a rhythm, at most

/// Return what share of the gaps from onset to onset two rhythms have in
/// common, in their order, wherever they stand: 1 less the edits from one to
/// the other (Levenshtein 1966) by the longer one's gaps. Rhythms that are as
/// even as many are alike in this, too. With fewer than two notes: 0. `n_b` is
/// GAPS_NOTES at most.
double
gaps_likeness(const Tick* a, unsigned n_a, const Tick* b, unsigned n_b);

#endif // RESPONDER_SAY_GAPS_H
