#include "responder/session/best.h"

#include "responder/session/facts.h"

// What makes one better than another; common practice, no source.
static const unsigned some_notes = 4;
static const unsigned shaped     = 24; // Velocities

unsigned
best_worth(const Phrase* const  phrase,
           const Outcome* const outcome,
           const Phrase* const  said)
{
  if (!outcome_succeeds(outcome)) {
    return 0;
  }
  return 1U + (facts_last(phrase).role == ROLE_ROOT) +
         2U * (phrase->n_notes >= some_notes) +
         (facts_leaves_room(phrase->measures.space)) +
         2U * (said && facts_takes_rhythm(phrase, said)) +
         (said && facts_begins_from(phrase, said)) +
         (facts_outside(phrase, RESOLUTION_LED) != NULL) +
         (facts_dynamics(phrase) >= shaped);
}

void
best_keep(Best* const          best,
          const Phrase* const  phrase,
          const Outcome* const outcome,
          const Phrase* const  said)
{
  const unsigned worth = best_worth(phrase, outcome, said);
  if (worth > 0 && worth >= best->worth) {
    best->worth  = worth;
    best->phrase = *phrase;
  }
}
