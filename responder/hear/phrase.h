/// @file responder/hear/phrase.h A turn as the listener hears it.
///
/// Phrase is a plain value of fixed size, about 20 KiB. It is written by
/// hear_phrase() (hear.h) for the player's turns and the partner's alike.

#ifndef RESPONDER_HEAR_PHRASE_H
#define RESPONDER_HEAR_PHRASE_H

#include "core/music/chart.h"
#include "core/music/note.h"
#include "core/tick.h"
#include "profiles/ladder/ladder.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  PHRASE_CAPACITY  = 256, ///< Melody notes in a turn; later ones are not heard
  PHRASE_NO_TARGET = PHRASE_CAPACITY,
  N_LATENESSES     = 5, ///< Beside the usual one that a turn is tried with
};

/// How a note stands to its chord and scale.
typedef enum {
  ROLE_ROOT,
  ROLE_CHORD_TONE, ///< Any other tone that bears weight
  ROLE_SCALE_TONE,
  ROLE_OUTSIDE,
} Role;

/// Whether a scale tone or a note outside was led home.
typedef enum {
  RESOLUTION_NONE, ///< A root or chord tone: nothing to resolve
  RESOLUTION_LED,  ///< By step, within a beat, to a chord tone or root
  RESOLUTION_LEFT, ///< Left hanging
  // Of a player's turn only, instead of being left hanging
  RESOLUTION_LANDED, ///< Its phrase lands on the root
  RESOLUTION_AGAIN,  ///< Outside, and said before at that place of the bar
} Resolution;

/// How a beat is divided, told by the places that its notes stand on. Whatever
/// is finer than a sixteenth counts as one. In compound meters a beat is three
/// eighths, and duplets and quadruplets against them count as triplets.
typedef enum {
  GRID_BEAT,
  GRID_EIGHTH,
  GRID_SWUNG_EIGHTH,
  GRID_TRIPLET,
  GRID_SIXTEENTH,
} Grid;

enum { N_GRIDS = 5 };

/// One note of the melody.
typedef struct {
  Note    note;      ///< As it sounded
  Tick    grid_tick; ///< As it is written; an ornament's: the decorated note's
  Tick    grid_length; ///< To the next written note or to where it stops
  uint8_t role;        ///< A Role
  uint8_t resolution;  ///< A Resolution
  uint8_t grid;        ///< The Grid of its beat
  bool    is_ornament;
  bool    begins_phrase;   ///< The first note after a breath
  bool    is_anticipation; ///< Belongs to the chord that comes
} HeardNote;

/// What can be counted in a phrase. Ornaments count only as ornaments.
typedef struct {
  Grid     grid;           ///< The one that most divided beats use
  float    swing_ratio;    ///< Long : short; 0 if no beat tells
  float    offset_ms;      ///< Mean lateness; early is negative
  float    spread_ms;      ///< Standard deviation about it
  float    syncopation;    ///< Longuet-Higgins & Lee, sum a bar
  float    evenness;       ///< nPVI of the times between onsets; 0 is even
  float    onsets_per_bar; ///< Of the turn's bars
  float    space;          ///< Share of the turn with nothing sounding
  Tick     longest_rest;   ///< Ticks
  unsigned range;          ///< Highest less lowest, semitones
  float    repeats;        ///< Share of the intervals
  float    wider;          ///< ... that are wider than a third
  unsigned n_ornaments;
  float    chord_share; ///< Root and chord tones, share of notes
  float    scale_share;
  float    outside_share;
  float    left_share; ///< Notes outside left hanging
  float    complexity; ///< 0..100
} Measures;

/// What a turn tells of its player beside what was heard in it: what hearing it
/// otherwise would have cost, in nats.
typedef struct {
  float later[N_LATENESSES]; ///< More than as late as usual: see search.h
  float swung;               ///< More than straight
} Evidence;

/// Where a line that ran over the turn's end came to rest.
typedef struct {
  bool    is_there; ///< Else nothing else means anything
  Note    note;
  Tick    grid_tick; ///< The turn's end, or half a beat later
  uint8_t role;      ///< A Role
} Landing;

typedef struct {
  Tick      start_tick; ///< The turn
  Tick      end_tick;
  unsigned  n_notes;
  HeardNote notes[PHRASE_CAPACITY]; ///< Rising by onset
  unsigned  n_comping; ///< Notes of the player's own chords, kept apart
  unsigned  n_dropped; ///< Melody notes beyond the capacity
  unsigned  target;    ///< Index of the note aimed at, or PHRASE_NO_TARGET
  Landing   landing;   ///< Beyond the end: see hear_landing()
  Measures  measures;
  Evidence  evidence;
  Rung      rung; ///< The lowest rungs that allow what is there
  char      contour[PHRASE_CAPACITY + 1]; ///< Parsons code; `*` first
} Phrase;

/// Return the tick whose chord a note belongs to: its own, or the coming
/// change's if it is an anticipation.
Tick
heard_note_chord_tick(const HeardNote* note, const Chart* chart);

/// Return the last note that is no ornament; the first one if all are. The
/// phrase holds 1 note or more.
const HeardNote*
phrase_last_written(const Phrase* phrase);

const char*
role_name(Role role);

const char*
grid_name(Grid grid);

/// Return how a note was resolved; NULL where there is nothing to resolve.
const char*
resolution_name(Resolution resolution);

#endif // RESPONDER_HEAR_PHRASE_H
