/// @file tests/bench/form.h What an answer says over a chorus and the piece, as
/// arithmetic on its turns.

#ifndef TESTS_BENCH_FORM_H
#define TESTS_BENCH_FORM_H

#include "said.h"

enum {
  FORM_BARS     = 2, ///< A turn
  FORM_CHORUS   = 6, ///< Turns of a twelve-bar chorus
  FORM_CHORUSES = 2,
  FORM_TURNS    = FORM_CHORUS * FORM_CHORUSES,
  FORM_VELOCITY = 80,
};

/// Sums over conversations; zeroed at first.
typedef struct {
  double n;
  double again;    ///< Second answers with one to three notes changed
  double departs;  ///< Third answers with another rhythm
  double twice;    ///< Answers that came before in the chorus
  double open;     ///< Inner choruses
  double tonic;    ///< Pieces that end on it
  double downbeat; ///< ... on the first beat after the form
  double by_step;
} Form;

/// Write a take over the twelve-bar blues, two bars a turn, in which an
/// invented learner says a thing twice and then another, in both choruses;
/// false if that fails.
bool
form_write(Take* take, const char* path, unsigned number, unsigned velocity);

/// Return how many notes of the longer turn are not in the other, in order, at
/// the same place and pitch.
unsigned
form_changed(const Said* a, const Said* b);

/// Whether a turn ends on the fifth, third or seventh of its last chord, or
/// runs on to its end.
bool
form_is_open(const Said* said);

/// Add a report of a take that form_write() made; false if turns are missing.
bool
form_add(Form* form, const json_t* report);

#endif // TESTS_BENCH_FORM_H
