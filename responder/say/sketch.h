/// @file responder/say/sketch.h A line before its pitches: a written rhythm and
/// what is wished of each note.

#ifndef RESPONDER_SAY_SKETCH_H
#define RESPONDER_SAY_SKETCH_H

#include "core/tick.h"
#include "profiles/ladder/move.h"
#include "responder/hear/ideas.h"
#include "responder/hear/phrase.h"

#include <stdbool.h>
#include <stdint.h>

enum { SKETCH_CAPACITY = 64 };

/// A fall of 1: nothing is wished.
#define NO_WISH 1.0F

/// One note. The falls say how sharp a wish is: what a semitone away from it
/// leaves of a pitch's weight, above 0 and up to 1.
typedef struct {
  Tick    tick;   ///< Written
  Tick    length; ///< Written; never beyond the next note
  int16_t pitch;  ///< The one wished for; may lie outside any range
  float   pitch_fall;
  float   interval_fall; ///< For the interval from the wish before to this one
} SketchNote;

/// What a move did, for the sentence about it.
typedef struct {
  Move     move;
  unsigned from_pitch;    ///< Sequence: where the source begins
  Tick     shift;         ///< Shift: later or earlier
  unsigned n_times;       ///< Fragment: how often
  unsigned n_notes;       ///< Fragment, fill in, thin out: of how many notes
  bool     is_bound;      ///< The pitches are wished, not free
  bool     is_simplified; ///< The rhythm had to be made plainer
  bool     is_little;     ///< Less than half of the notes came, or one
  bool     of_idea;       ///< Made from a remembered idea, not from the call
  bool     of_kept;       ///< ... of the learner's notebook
  bool     ends_on_root;
  bool     is_whole;   ///< Question and answer: all of the call is the question
  bool     is_opening; ///< Made from nothing
  bool     is_plain;   ///< The root and no more
  unsigned n_plain;    ///< ... so many times before, running
  bool     of_cell;    ///< Made about a cell of the call
  bool     at_start;   ///< ... with which it began
  bool     at_end;     ///< ... or ended
  bool     is_again;   ///< The answer before, said again
  bool     is_fitted;  ///< ... over other chords; new rhythm: with other notes
  bool     is_own;     ///< The cell is not the call's
  bool     of_rhythm;  ///< The rhythm alone was taken, or could be kept
} MoveFacts;

typedef struct {
  unsigned   n_notes;
  SketchNote notes[SKETCH_CAPACITY]; ///< Rising by tick
  MoveFacts  facts;
} Sketch;

/// What moves develop: the call or a remembered idea, without ornaments. Ticks
/// count from the beginning of the turn, 0 or more.
typedef struct {
  unsigned n_notes;
  Tick     ticks[SKETCH_CAPACITY];
  Tick     lengths[SKETCH_CAPACITY];
  uint8_t  pitches[SKETCH_CAPACITY];
  bool     is_idea; ///< A remembered idea, not the turn before
  bool     is_kept; ///< ... of the learner's notebook
} Source;

/// Take a phrase; pick-ups before the turn and notes beyond the capacity are
/// left out.
Source
source_of_phrase(const Phrase* phrase);

Source
source_of_idea(const Idea* idea);

/// Return the mean pitch, 0 if there is no note.
int
source_mean_pitch(const Source* source);

/// Add a note at the end; false if there is no room.
bool
sketch_add(Sketch* sketch, SketchNote note);

/// Take a note out.
void
sketch_remove(Sketch* sketch, unsigned index);

/// Put a note in its place by tick; false if there is no room, or a note there.
bool
sketch_insert(Sketch* sketch, SketchNote note);

/// Cut lengths so that no note sounds into the next.
void
sketch_cut_overlaps(Sketch* sketch);

#endif // RESPONDER_SAY_SKETCH_H
