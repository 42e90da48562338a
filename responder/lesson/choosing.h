/// @file responder/lesson/choosing.h From what is known of who plays and what
/// they ask for to what is chosen.

#ifndef RESPONDER_LESSON_CHOOSING_H
#define RESPONDER_LESSON_CHOOSING_H

#include "profiles/choices/choices.h"
#include "responder/lesson/who.h"
#include "responder/record/take.h"

#include <stdbool.h>

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

/**
   Choose what a recording of ours was played over: chart, key, feel, bars, who
   began and whether room was made, where they are not asked for. Where
   another chart is, no more of it than bars, who began, room and a key that was
   chosen.

   @param then As recorded_choices() read them.
   @return Whether its chart is chosen.
*/
bool
choose_recording(Choices* choices, const Choices* then);

#endif // RESPONDER_LESSON_CHOOSING_H
