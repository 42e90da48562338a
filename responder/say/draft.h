/// @file responder/say/draft.h A line in the making: its places, and what is
/// wished there.

#ifndef RESPONDER_SAY_DRAFT_H
#define RESPONDER_SAY_DRAFT_H

#include "core/tick.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  DRAFT_CAPACITY = SKETCH_CAPACITY,
  NO_PLANT       = 255,
  PLANT_SAID     = 64, ///< Plantings from here on are one note said some times
};

typedef struct {
  Tick       tick; ///< Written
  Tick       gap;  ///< To the next note; of the last, two beats
  RoleRow    chord;
  FramePlace place;
  bool       is_ahead;     ///< The chord is about to change, or has just
  bool       begins;       ///< A phrase
  bool       ends;         ///< A phrase
  bool       ends_on_root; ///< As the move asks
  uint8_t    phrase;       ///< 0-based
  bool       is_bare;      ///< Of a phrase with nothing in between
  uint8_t    plant;        ///< Which planting of the cell, or NO_PLANT
  uint8_t    nth;          ///< ... and which note of it
  int16_t    pitch;        ///< Wished for; NO_WISH falls wish nothing
  float      pitch_fall;
  int16_t    interval; ///< From the note before
  float      interval_fall;
} DraftNote;

typedef struct {
  unsigned  n_notes;
  DraftNote notes[DRAFT_CAPACITY]; ///< Rising by tick
  bool      is_whole;              ///< Follows a whole phrase, note by note
} Draft;

/// Add a note at the end, if there is room, with nothing wished.
DraftNote*
draft_add(Draft* draft, Tick tick, unsigned phrase);

/// Find chords, gaps and places once all notes are there.
void
draft_close(Draft* draft, Frame* frame);

/// Take over a move's sketch with its wishes.
void
draft_of_sketch(Draft* draft, Frame* frame, const Sketch* sketch);

/// Return the place of the first note of a planting; n_notes if there is none.
unsigned
draft_plant_begin(const Draft* draft, unsigned plant);

/// Return whether a note stands at a tick.
bool
draft_has_onset(const Draft* draft, Tick tick);

/// Return how often the cell stands.
unsigned
draft_times_planted(const Draft* draft);

/// Return whether a cell stands twice or more often.
static inline bool
draft_is_planted_twice(const Draft* const draft)
{
  return draft_times_planted(draft) > 1;
}

/// Return whether a note is one of those said some times.
static inline bool
draft_is_said(const DraftNote* const note)
{
  return note->plant >= PLANT_SAID && note->plant != NO_PLANT;
}

/// Return whether a note is planted together with the one before it.
static inline bool
draft_is_planted_on(const DraftNote* const note)
{
  return note->plant != NO_PLANT && note->nth > 0 &&
         note[-1].plant == note->plant;
}

/// Return whether a note stands on a beat.
static inline bool
draft_is_on_beat(const DraftNote* const note)
{
  return note->place <= PLACE_BEAT;
}

/// Return whether a note comes before its chord, and is held into it.
static inline bool
draft_anticipates(const DraftNote* const note)
{
  return note->chord.from > note->tick;
}

/// Return whether a pitch is the root or a chord tone of a place.
static inline bool
draft_is_home(const DraftNote* const note, const int pitch)
{
  return note->chord.roles[pitch % N_PITCH_CLASSES] <= ROLE_CHORD_TONE;
}

/// Return how far a pitch stands above the root of a place, 0..11.
static inline unsigned
draft_degree(const DraftNote* const note, const int pitch)
{
  return role_row_degree(&note->chord, (unsigned)pitch);
}

/// Whether a scale tone clashes with the chord under it: a semitone above one
/// of its tones; over a dominant chord only the fourth (common practice).
bool
draft_is_avoided(const DraftNote* note, unsigned pc);

#endif // RESPONDER_SAY_DRAFT_H
