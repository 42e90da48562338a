/// @file responder/lesson/choosing.h From what is known of who plays and what
/// they ask for to what is chosen.

#ifndef RESPONDER_LESSON_CHOOSING_H
#define RESPONDER_LESSON_CHOOSING_H

#include "profiles/choices/choices.h"
#include "responder/lesson/who.h"
#include "responder/record/take.h"

/// Return what is chosen: what holds for who plays, where the learner stands as
/// the teacher holds it, and over all that what is asked for.
Choices
choose(const Who* who, const Said* asked);

/// Choose a take's own tempo and length, unless others are asked for.
void
choose_take(Choices* choices, const Take* take);

/// Let the rungs move as the learner's teacher set it, from where the learner
/// stands. Where a rung is asked for it is only tried, and nothing moves.
void
choose_climb(Choices* choices, const Who* who);

#endif // RESPONDER_LESSON_CHOOSING_H
