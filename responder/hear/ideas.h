/// @file responder/hear/ideas.h The memory of phrases heard and said.

#ifndef RESPONDER_HEAR_IDEAS_H
#define RESPONDER_HEAR_IDEAS_H

#include "core/tick.h"
#include "responder/hear/phrase.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  IDEA_CAPACITY      = 16, ///< Ideas remembered; the first is kept for good
  IDEA_NOTE_CAPACITY = 64, ///< Notes of one; a longer phrase is cut
};

/// A phrase reduced to what makes it known again: no ornaments, no timing.
typedef struct {
  unsigned id; ///< From 1 up, never reused
  unsigned n_notes;
  Tick     ticks[IDEA_NOTE_CAPACITY];   ///< Written, from the turn's beginning
  Tick     lengths[IDEA_NOTE_CAPACITY]; ///< Written
  uint8_t  pitches[IDEA_NOTE_CAPACITY];
  bool     by_player;
  bool     is_kept; ///< Of the learner's notebook, not of this session
  unsigned n_met;   ///< How often it has come, by either side
} Idea;

/// How alike two phrases are, each 0..1; 1 is the same.
typedef struct {
  float rhythm;
  float pitch; ///< Intervals, free of transposition
  float whole; ///< The better of the two
} Likeness;

typedef struct {
  unsigned n_ideas;
  unsigned n_seen;  ///< Ids given so far
  unsigned last[2]; ///< Ids of those that came last, the latest first
  Idea     ideas[IDEA_CAPACITY];
} Ideas;

/// Reduce a phrase to an idea; id 0.
Idea
idea_of(const Phrase* phrase, bool by_player);

/// Compare two ideas. Either empty: all 0.
Likeness
idea_likeness(const Idea* a, const Idea* b);

/**
   Return whether a stretch of one idea is said again in the other, wherever it
   stands there: four notes in a rhythm of their own that come as they were, in
   any octave; or six, which may go evenly, or on other notes that rise and fall
   as they did.
*/
bool
idea_has_stretch(const Idea* idea, const Idea* other);

/**
   Find the remembered idea that this one is, and remember it if it is new.

   The first idea is kept for good; of the others the oldest makes room.

   @param[out] likeness To the idea found, or to the nearest one; 0 if none.
   @return The id of the idea that came back, or of the new one; 0 for an empty
   idea.
*/
unsigned
ideas_meet(Ideas* ideas, const Idea* idea, float* likeness);

/**
   Return the idea that is most worth coming back to; NULL if there is none.

   It is one that was left: not the present one, nor like it, nor the last that
   came before. Of these one of the learner's notebook, else the one that has
   come most often, by either side; of equal ones the first.

   @param present What has just been said; may be empty.
   @param alike From this likeness on an idea is the present one.
*/
const Idea*
ideas_left(const Ideas* ideas, const Idea* present, float alike);

/// Return the idea of an id, NULL if it is forgotten.
const Idea*
ideas_get(const Ideas* ideas, unsigned id);

#endif // RESPONDER_HEAR_IDEAS_H
