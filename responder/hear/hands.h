/// @file responder/hear/hands.h Which of the notes are the melody.

#ifndef RESPONDER_HEAR_HANDS_H
#define RESPONDER_HEAR_HANDS_H

#include "core/attributes.h"
#include "core/music/note.h"
#include "responder/hear/phrase.h"

/// How notes are told apart.
typedef struct {
  double   ms_per_tick;
  unsigned split_pitch; ///< Notes below, struck together, are chords
} Hands;

/// Write the melody's notes to the phrase, count the rest: `notes`, `n_notes`,
/// `n_comping` and `n_dropped`. A crushed note is told by `is_ornament`.
RT_SAFE void
hands_part(Phrase* phrase, Hands hands, const Note* notes, unsigned n_notes);

#endif // RESPONDER_HEAR_HANDS_H
