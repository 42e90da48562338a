/// @file responder/hear/hear.h From notes to a phrase.

#ifndef RESPONDER_HEAR_HEAR_H
#define RESPONDER_HEAR_HEAR_H

#include "core/music/chart.h"
#include "core/music/note.h"
#include "responder/hear/acquaintance.h"
#include "responder/hear/hear_work.h"
#include "responder/hear/phrase.h"

/// What the listener knows before it listens.
typedef struct {
  const Chart*  chart;
  const Ladder* ladder;
  double        tempo_bpm;   ///< Quarters a minute, 20..400
  unsigned      split_pitch; ///< Notes below, struck together, are chords
  double        spread_ms;   ///< The player's usual timing error, 1..100
  /// The player's usual lateness; may be negative. It is one of several tried,
  /// so one taken from a turn that was misheard does not lead astray.
  double lag_ms;
  double swing_ratio; ///< Of the feel; 0: by tempo, 1: it is straight
  const Acquaintance* acquaintance; ///< Of the player's turns; NULL: a stranger
} Ear;

/// The usual ear for a stranger: split at middle C, 20 ms of spread.
Ear
ear_usual(const Chart* chart, const Ladder* ladder, double tempo_bpm);

/**
   Hear a turn.

   Finds the hands, ornaments, the grid of every beat with lag and swing, roles,
   resolutions, phrase beginnings, the target, the measures, the rung.

   @param notes Those that belong to the turn, rising by tick; pick-ups may
   begin up to half a beat before `start`. Lengths beyond `end` are cut for
   hearing.
   @param[out] phrase Written whole.
*/
void
hear_phrase(Phrase*     phrase,
            HearWork*   work,
            const Ear*  ear,
            const Note* notes,
            unsigned    n_notes,
            Tick        start,
            Tick        end);

/**
   Credit a phrase with a landing after its turn's end, as soon as it is known.

   The first note after the end is one if it comes within half a beat of it and
   within a beat of the last written note, and nothing follows it at once. Where
   it is none, and comes half a beat after that note or sooner, the line runs
   on.

   @param[in,out] phrase As heard; its `landing` and `runs_on` are written.
   @param after Notes that are not the turn's, rising by tick: all that begin
   within a beat of its end, and the pick-ups of the turn that comes.
*/
void
hear_landing(Phrase*     phrase,
             const Ear*  ear,
             const Note* after,
             unsigned    n_after);

/// Learn from a player's turn that was heard, for the turns to come.
void
hear_learn(Acquaintance* acquaintance, const Ear* ear, const Phrase* phrase);

/**
   Hear notes whose written places are known: a candidate of the partner's.

   As hear_phrase(), but grid, lag and swing are taken, not found, and what is
   left hanging is so, however the phrase ends.

   @param grid_ticks The written place of each note.
*/
void
hear_written(Phrase*     phrase,
             const Ear*  ear,
             const Note* notes,
             const Tick* grid_ticks,
             const bool* is_ornament,
             unsigned    n_notes,
             Tick        start,
             Tick        end);

/**
   Return the tick whose chord a written note belongs to: its own, or that of a
   change within half a beat that it is held into, with no note on the change
   (anticipation).

   A note that stops before the change belongs to where it sounds, but when
   hear_phrase() and hear_written() hear one that is the last before the change
   and a tone of the coming chord only, they take it for an anticipation too.
   (Solos: of 256 notes held into a change half are tones of the coming chord,
   .43 of the chord there; of 102 cut short before it .31 and .49.)

   @param next_tick The next written onset; INT64_MAX if there is none.
*/
Tick
hear_chord_tick(const Chart* chart,
                Tick         grid_tick,
                Tick         length,
                Tick         next_tick);

/// Return the role of a pitch at a tick of the chart. A ninth or above that the
/// chord names is a scale tone; where there is no chord the scale's tonic is
/// the root.
Role
hear_role(const Chart* chart, Tick chord_tick, unsigned pitch);

#endif // RESPONDER_HEAR_HEAR_H
