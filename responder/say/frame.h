/// @file responder/say/frame.h What an answer must keep to: the turn, the rung,
/// the chords under it.

#ifndef RESPONDER_SAY_FRAME_H
#define RESPONDER_SAY_FRAME_H

#include "core/music/chart.h"
#include "core/music/meter.h"
#include "core/rng.h"
#include "core/tick.h"
#include "profiles/ladder/ladder.h"
#include "responder/say/answer.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  N_PITCH_CLASSES   = 12,
  ROLE_ROW_CAPACITY = 16,
};

/// What kind of place in the bar a tick is.
typedef enum {
  PLACE_STRONG_BEAT, ///< The first beat, or the middle of the bar
  PLACE_BEAT,
  PLACE_EIGHTH, ///< Between beats
  PLACE_FINER,
} FramePlace;

/// The roles of all pitch classes while neither chord nor bar changes.
typedef struct {
  Tick    from;
  Tick    until;
  uint8_t roles[N_PITCH_CLASSES]; ///< Roles; what is foreign to chord and key
                                  ///< is outside, though the chart's scale has
                                  ///< it
  bool    bears[N_PITCH_CLASSES]; ///< Root and chord tones that the rung allows
  bool    own[N_PITCH_CLASSES];   ///< Of the chord's own scale, or the key's
  bool    foreign[N_PITCH_CLASSES]; ///< Of the chart's scale alone
  uint8_t root;                     ///< Pitch class
  uint8_t third; ///< Semitones above the root, of what stands there
  uint8_t fifth;
  uint8_t seventh; ///< The sixth where the chord has no seventh
  bool    is_dominant;
  bool    is_major; ///< A major third, and no minor seventh
} RoleRow;

/// Return how far a pitch stands above the root, 0..11.
static inline unsigned
role_row_degree(const RoleRow* const row, const unsigned pitch)
{
  return (pitch + N_PITCH_CLASSES - row->root) % N_PITCH_CLASSES;
}

/// Whether a degree colours a chord: the ninth or the thirteenth.
static inline bool
degree_is_colour(const unsigned degree)
{
  return degree == 2 || degree == 9;
}

typedef struct {
  const SayRequest* request;
  const Chart*      chart;
  Meter             meter;
  Tick              beat; ///< Lengths in ticks
  Tick              bar;
  Tick              half;  ///< From one strong beat to the next
  Tick              off;   ///< Where the off-beat stands in its beat
  Tick              start; ///< The turn
  Tick              end;
  Tick              from; ///< What the answer may fill of it
  Tick              until;
  unsigned          tonic; ///< Of the key, pitch class
  bool              is_blues;
  double   freedom;    ///< 0 chord tones alone .. 1 all that the ladder has
  unsigned max_onsets; ///< In the whole turn
  Rung     rung;       ///< As it is for this answer
  const NotesRung*    notes;
  RhythmRung          own;
  const RhythmRung*   rhythm; ///< `own`: the rung's, made to fit together
  const OrnamentRung* ornament;
  MoveSet             moves;    ///< On offer
  unsigned            called;   ///< Pitch classes of the call; bits
  unsigned            families; ///< Chord tones besides the root; bits
  bool                must_end_on_root;
  bool                must_end_open; ///< An inner chorus does
  unsigned            n_rows;        ///< Asked for so far
  RoleRow             rows[ROLE_ROW_CAPACITY];
} Frame;

/// Begin; `rng` chooses which chord tones stand for "one more".
void
frame_open(Frame* frame, const SayRequest* request, Rng* rng);

/// Return the roles at a tick; the answer stands until the next question.
const RoleRow*
frame_roles(Frame* frame, Tick chord_tick);

/// Whether nothing was said: the answer is a piece of what was, and simpler.
static inline bool
frame_is_piece(const Frame* const frame)
{
  return frame->request->treatment == TREAT_SIMPLER ||
         frame->request->treatment == TREAT_FRAGMENTS;
}

/// Whether the answer has room for two bars, or less.
static inline bool
frame_is_brief(const Frame* const frame)
{
  return frame->until - frame->from <= 2 * frame->bar;
}

/// Return how many off-beats make a group across the bar: three of simple
/// beats, two of compound ones.
static inline unsigned
frame_across_slots(const Frame* const frame)
{
  return meter_is_compound(frame->meter) ? 2 : 3;
}

/// Whether the rung has chord tones alone.
static inline bool
frame_is_plain(const Frame* const frame)
{
  return frame->freedom <= 0.0;
}

/// Return how far the rung goes beyond scale tones, 0..1.
static inline double
frame_boldness(const Frame* const frame)
{
  return frame->freedom > 0.6 ? (frame->freedom - 0.6) / 0.4 : 0.0;
}

/// Whether the rung has half of what the ladder has, or more.
static inline bool
frame_is_free(const Frame* const frame)
{
  return frame->freedom >= 0.5;
}

/// Whether the rung has notes outside.
static inline bool
frame_goes_outside(const Frame* const frame)
{
  return frame->notes->outside_share > 0.0F;
}

/// Whether the last note of all is to be come to by step.
static inline bool
frame_steps_home(const Frame* const frame)
{
  return frame->must_end_on_root && !frame_is_plain(frame);
}

/// Whether the rung lets a note stand at a tick.
bool
frame_allows(const Frame* frame, Tick tick);

/// Return how many ticks a time lasts at the tempo, at least 1.
Tick
frame_ticks(const Frame* frame, double ms);

/// Return how long a number of ticks lasts.
double
frame_ms(const Frame* frame, Tick ticks);

/// Return how far into its beat a tick is.
Tick
frame_in_beat(const Frame* frame, Tick tick);

/// Whether a note between beats leans: not both beats about it have a note.
bool
frame_leans(const Frame* frame, Tick tick, const Tick* onsets, unsigned n);

FramePlace
frame_place(const Frame* frame, Tick tick);

/// Return the Longuet-Higgins & Lee weight of a tick.
int
frame_weight(const Frame* frame, Tick tick);

#endif // RESPONDER_SAY_FRAME_H
