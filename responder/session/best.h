/// @file responder/session/best.h The best phrase of a session, by what was
/// judged of it.

#ifndef RESPONDER_SESSION_BEST_H
#define RESPONDER_SESSION_BEST_H

#include "responder/hear/phrase.h"
#include "responder/session/outcome.h"

/// The best so far; zeroed, there is none.
typedef struct {
  unsigned worth;
  Phrase   phrase; ///< Of meaning if `worth` is not 0
} Best;

/// Return what a phrase is worth: nothing if it did not come off. Landing on
/// the root, taking up what was said, shape and rests make it better.
/// @param said By the partner before it; NULL: nothing.
unsigned
best_worth(const Phrase* phrase, const Outcome* outcome, const Phrase* said);

/// Keep a phrase if it is at least as good as the best so far.
void
best_keep(Best*          best,
          const Phrase*  phrase,
          const Outcome* outcome,
          const Phrase*  said);

#endif // RESPONDER_SESSION_BEST_H
