/// @file responder/session/fit.h What the partner says made to fit the way of
/// playing together: said again, cut to a cell, kept to few notes, left open.

#ifndef RESPONDER_SESSION_FIT_H
#define RESPONDER_SESSION_FIT_H

#include "core/tick.h"
#include "responder/hear/hear.h"
#include "responder/hear/ideas.h"
#include "responder/hear/phrase.h"
#include "responder/say/answer.h"
#include "responder/session/tones.h"

#include <stdbool.h>

/// Say a phrase of another turn again in this one, note for note at the same
/// places; what would be a stranger to the chord there moves to its next tone.
/// A pick-up for which it is too late is left out.
/// What is to be given back keeps to what both chords have.
void
fit_again(Answer* answer, const Phrase* phrase, const FitTurn* turn);

/// Say an idea at the turn's beginning, as its chords have it.
/// @param swing_ratio Of half beats.
void
fit_idea(Answer*        answer,
         const Idea*    idea,
         double         swing_ratio,
         const FitTurn* turn);

/// Keep as many notes as are asked for, two or more, and on to a chord tone,
/// which is held. What is to be given back keeps to what both chords have.
void
fit_cell(Answer* answer, unsigned n_notes, const FitTurn* turn);

/// Keep over each chord to so many different notes, its root the first: up to
/// two it is among them.
void
fit_few(Answer* answer, unsigned n_notes, const FitTurn* turn);

/// Let the last note be the root of its chord, or another tone of it.
void
fit_end(Answer* answer, bool is_open, const FitTurn* turn);

/// Return how many different notes were used over one chord, at most.
unsigned
fit_most_notes(const Phrase* phrase, const Chart* chart);

/// Whether over each chord that something was played over its root was, too.
bool
fit_has_roots(const Phrase* phrase, const Chart* chart);

#endif // RESPONDER_SESSION_FIT_H
