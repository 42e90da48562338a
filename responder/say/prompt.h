/// @file responder/say/prompt.h What the partner takes from a call: whether it
/// asks or rests, how dense it is, its cells.

#ifndef RESPONDER_SAY_PROMPT_H
#define RESPONDER_SAY_PROMPT_H

#include "core/rng.h"
#include "core/tick.h"
#include "responder/say/frame.h"
#include "responder/say/sketch.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  CELL_LEAST    = 3,
  CELL_NOTES    = 6,
  CELL_CAPACITY = 128,
};

/// Three to six notes of a call: what can be taken up. Two say too little.
typedef struct {
  unsigned n_notes;
  Tick     at; ///< From the turn's beginning
  Tick     offsets[CELL_NOTES];
  int8_t   intervals[CELL_NOTES]; ///< From the note before; the first is 0
  Tick     last_length;
  uint8_t  first_pitch;
  bool     begins; ///< It is how a phrase of the call begins
  bool     ends;   ///< ... or ends
  bool     is_own; ///< Not of the call
  bool     twice;  ///< Said twice by the player, three notes or more
  bool     leans;  ///< One of its off-beats has not both beats about it
} Cell;

typedef struct {
  const Source* source;
  bool          is_open; ///< It asks: its last note is not the root
  double        per_bar; ///< Notes a bar
  int           mean_pitch;
  int           last_pitch;
  Tick          room;    ///< Silence before the answer
  uint16_t      classes; ///< Pitch classes that it uses; bits
  uint16_t      blues;   ///< ... those that its chords had not
  bool          stays;   ///< It says one pitch three times running
  bool          is_riff; ///< It says again what it begins with
  bool          is_fine; ///< Most of its notes are quicker than quavers
  unsigned      n_cells;
  Cell          cells[CELL_CAPACITY];
  float         weights[CELL_CAPACITY];
} Prompt;

/// Return how long it is from the first note of a cell to its last.
static inline Tick
prompt_span(const Cell* const cell)
{
  return cell->offsets[cell->n_notes - 1];
}

/// Whether the call begins with a cell.
static inline bool
prompt_opens_with(const Prompt* const call, const Cell* const cell)
{
  return !cell->is_own && cell->at == call->source->ticks[0];
}

/// Whether the call ends with a cell.
static inline bool
prompt_closes_with(const Prompt* const call, const Cell* const cell)
{
  const Source* const source = call->source;
  return !cell->is_own &&
         cell->at + prompt_span(cell) == source->ticks[source->n_notes - 1];
}

/// Whether a cell has triplets or sixteenths: half a beat later they would be
/// others.
bool
prompt_is_fine(const Cell* cell, const Frame* frame);

/// Whether the player begins a phrase with a cell, and says it again.
static inline bool
prompt_is_riff(const Cell* const cell)
{
  return cell->twice && cell->begins;
}

/// Whether a cell begins a phrase at a rung of chord tones: so few tones are
/// known again by the bar that they make, said once more with a change.
static inline bool
prompt_is_motto(const Cell* const cell, const Frame* const frame)
{
  return cell->begins && frame_is_plain(frame);
}

/// Listen to what is to be answered. With nothing to take from it, cells of
/// the trade stand in. The source must outlive the call.
void
prompt_open(Prompt* call, Frame* frame, const Source* source);

/// Whether its cells are the trade's, not the call's.
static inline bool
prompt_is_own(const Prompt* const call)
{
  return call->cells[0].is_own;
}

/// Leave the call's cells for the trade's, which are no riff.
void
prompt_take_own(Prompt* call, const Frame* frame);

/// Choose a cell by its weight, no longer than `longest` and of no more than
/// `most` notes if there is such a one.
const Cell*
prompt_choose_cell(const Prompt* call, Tick longest, unsigned most, Rng* rng);

#endif // RESPONDER_SAY_PROMPT_H
