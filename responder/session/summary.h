/// @file responder/session/summary.h What a whole session came to, in words:
/// two things that worked, one to work on, and how to begin next time.

#ifndef RESPONDER_SESSION_SUMMARY_H
#define RESPONDER_SESSION_SUMMARY_H

#include "profiles/ladder/way.h"
#include "profiles/sentences/sentences.h"
#include "responder/hear/phrase.h"
#include "responder/session/outcome.h"

enum { SUMMARY_TEXT_CAPACITY = 120 };

/// Sums over the player's turns; zeroed at the beginning.
typedef struct {
  const Sentences* sentences; ///< What is said; NULL: the built-in ones
  unsigned practised; ///< Which session it is, from 1: another wording in each;
                      ///< 0: not known
  Way      way;
  unsigned n_goals[N_GOALS]; ///< Turns with notes that had each of the way's
  unsigned n_met[N_GOALS];
  unsigned n_turns;
  unsigned n_silent;
  bool     ends_silent; ///< The last turn was
  unsigned n_landed;    ///< Turns whose last note was a root or chord tone
  unsigned n_at_home;   ///< ... the root
  unsigned n_notes;
  unsigned n_outside;
  unsigned n_left; ///< Notes outside left hanging
  double   space;  ///< Sums over the turns with notes
  double   spread_ms;
  double   offset_ms; ///< Late or early
  double   complexity;
} Summary;

/// The sentences; one that has nothing to say is empty.
typedef struct {
  char worked[2][SUMMARY_TEXT_CAPACITY];
  char work_on[SUMMARY_TEXT_CAPACITY];
  char next_time[SUMMARY_TEXT_CAPACITY];
} SummaryWords;

/// Add a turn of the player's.
void
summary_add(Summary* summary, const Phrase* phrase);

/// Add how that turn was judged.
void
summary_judge(Summary* summary, const Outcome* outcome);

/// Put it into words.
SummaryWords
summary_words(const Summary* summary);

#endif // RESPONDER_SESSION_SUMMARY_H
