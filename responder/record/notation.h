/// @file responder/record/notation.h What was played and said as MusicXML: the
/// player's part and the partner's, over the chords.

#ifndef RESPONDER_RECORD_NOTATION_H
#define RESPONDER_RECORD_NOTATION_H

#include "core/abc/abc.h"
#include "core/attributes.h"
#include "core/fault.h"
#include "core/music/chart.h"
#include "core/status.h"
#include "responder/hear/hear.h"
#include "responder/record/conversation.h"
#include "responder/session/session.h"

#include <stdbool.h>
#include <stdint.h>

/// A score in the making; opaque.
typedef struct Notation Notation;

/// What stands at the head of it; the chart and the ladder of the ear must
/// outlive it.
typedef struct {
  Ear    ear;         ///< Chart, tempo, and who is heard
  double swing_ratio; ///< 1: straight
  bool   is_excerpt;  ///< Begins with the bar of its first note or turn, not
                      ///< with bar 1; parts without a note are left out
} NotationHead;

/// Begin; NULL when there is no memory.
Notation*
notation_open(const NotationHead* head);

/// Release; NULL does nothing.
void
notation_close(Notation* notation);

/**
   Add a turn: its notes at their written places, and its label (`turn 2:
   sequence`). The turns come one after the other.

   What could not be added for want of memory is told by notation_save().
*/
void
notation_add_turn(Notation* notation, const TurnRecord* record);

/**
   Add a phrase outside of a session: an idea.

   @param start Where it is to stand in the score; it may have been heard
   elsewhere.
   @param label Words over it; cut if too long.
*/
void
notation_add_phrase(Notation*     notation,
                    const Phrase* phrase,
                    bool          by_player,
                    Tick          start,
                    const char*   label);

/// Add what is written already: an exercise of the player's.
void
notation_add_written(Notation*          notation,
                     const WrittenNote* notes,
                     unsigned           n_notes,
                     Tick               start,
                     Tick               end,
                     const char*        label);

/**
   Add what the player played beside the melodies of the turns: the own chords,
   and what sounded in the partner's turns. Each turn's is heard on its own
   grid. Chords of the left hand come on a staff of their own; notes struck with
   the melody stand under it. Call it once, after the last turn.

   What the player played before the first bar, but for a pick-up, and after the
   last turn is left out.

   What could not be added for want of memory is told by notation_save().
*/
void
notation_add_rest(Notation* notation, const Conversation* conversation);

/**
   Write the score.

   @param title What stands over it.
   @return STATUS_OK; STATUS_SYSTEM or STATUS_MEMORY with the fault written.
*/
MUST_USE Status
notation_save(const Notation* notation,
              const char*     title,
              const char*     path,
              Fault*          fault);

/**
   Write the score as ABC notation without a title, and tell where each note
   stands, at its written tick.

   @param[out] places Begin it zeroed.
   @param[out] text Owned by the caller: free(). Written on success only.
   @return STATUS_OK or STATUS_MEMORY.
*/
MUST_USE Status
notation_abc_placed(const Notation*  notation,
                    const AbcLayout* layout,
                    AbcPlaces*       places,
                    char**           text,
                    size_t*          size);

/**
   Engrave the score into a file by its ending: .svg, .pdf, .png, or .abc for
   the tune itself. It waits for another program.

   @return STATUS_OK; STATUS_SYNTAX if it ends otherwise; else as
   engrave_save(), with the fault written.
*/
MUST_USE Status
notation_engrave(const Notation* notation,
                 const char*     title,
                 const char*     path,
                 Fault*          fault);

#endif // RESPONDER_RECORD_NOTATION_H
