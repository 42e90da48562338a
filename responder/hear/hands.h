/// @file responder/hear/hands.h Which of the notes are the melody.

#ifndef RESPONDER_HEAR_HANDS_H
#define RESPONDER_HEAR_HANDS_H

#include "core/music/note.h"
#include "responder/hear/hear_work.h"
#include "responder/hear/phrase.h"

/// Notes that overlap and begin so close together, ms, are one chord.
#define HANDS_TOGETHER_MS 50.0

/// How notes are told apart.
typedef struct {
  double   ms_per_tick;
  unsigned split_pitch; ///< Notes below, struck together, are chords
} Hands;

/**
   Part a turn into the melody and the player's own chords.

   Notes struck together give the melody their top note, or nothing if they are
   a chord of the left hand. A short note crushed into the top one is kept
   before it and marked `is_ornament`.

   @param[out] phrase `notes`, `n_notes`, `n_comping` and `n_dropped` are
   written.
   @param notes Rising by tick.
*/
void
hands_part(Phrase*     phrase,
           HearWork*   work,
           Hands       hands,
           const Note* notes,
           unsigned    n_notes);

#endif // RESPONDER_HEAR_HANDS_H
