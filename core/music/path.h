/// @file core/music/path.h Exact drawing of a line of pitches.
///
/// A line is a walk over pitches, one for each place of a given rhythm. Its
/// weight is the product of the weights of its pitches and of its intervals;
/// its probability is its weight divided by the sum over all lines. Lines are
/// drawn from exactly that distribution: one pass of backward messages, then
/// forward sampling for each line (as in hidden Markov models; Rabiner 1989).
/// Nothing is rejected, so time is linear in the notes, and a rule with weight
/// 0 is never broken.
///
/// The messages are doubles, scaled at each place, so that any finite weights
/// will do: no sum overflows, and what can follow is never rounded to 0. Only
/// where what follows one pitch weighs under 1e-150 of what follows another at
/// the same place is it drawn as often as if it weighed that much.
///
/// Memory: PathProblem and PathSolver are fixed in size (below 512 KiB
/// together); keep them in place. Nothing is allocated.

#ifndef CORE_MUSIC_PATH_H
#define CORE_MUSIC_PATH_H

#include "core/attributes.h"
#include "core/rng.h"
#include "core/status.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  PATH_NOTE_CAPACITY  = 128,
  PATH_PITCH_CAPACITY = 49, ///< Four octaves
  PATH_LEAP_MAX       = 12, ///< No interval is wider than an octave
  PATH_INTERVALS      = 2 * PATH_LEAP_MAX + 1,
};

/// How a line came to a pitch: what the next interval may depend on.
typedef enum {
  PATH_CAME_FIRST, ///< The first note of all
  PATH_CAME_REPEAT,
  PATH_CAME_STEP_UP, ///< One or two semitones
  PATH_CAME_STEP_DOWN,
  PATH_CAME_SKIP_UP, ///< Three or four
  PATH_CAME_SKIP_DOWN,
  PATH_CAME_LEAP_UP, ///< Five and more
  PATH_CAME_LEAP_DOWN,
} PathCame;

enum { PATH_CAMES = 8 };

/// What must follow a pitch.
typedef enum {
  PATH_LEAVE_FREE,    ///< Anything
  PATH_LEAVE_BY_STEP, ///< One or two semitones, to any pitch
  PATH_LEAVE_TO_REST, ///< One or two semitones, to a pitch marked as rest
  PATH_LEAVE_BY_WAYS, ///< This and on: as the problem's `ways` weigh intervals
} PathLeave;

enum { PATH_WAYS = 8 };

/// What a pitch is worth at one place.
typedef struct {
  float   weight;  ///< 0 forbids it; finite and not negative
  uint8_t leave;   ///< A PathLeave; of no matter at the last place
  uint8_t is_rest; ///< 1 if a PATH_LEAVE_TO_REST may end here, else 0
  uint8_t enter;   ///< 0 freely; else as row `enter - 1` of `ways` weighs it
} PathPitch;

/// Intervals are counted from an octave down: index 0 is -12, 12 is a repeat.
typedef struct {
  unsigned  n_notes;   ///< 1..PATH_NOTE_CAPACITY
  unsigned  n_pitches; ///< 1..PATH_PITCH_CAPACITY
  unsigned  lowest;    ///< MIDI key of the first pitch; none is above 127
  PathPitch pitches[PATH_NOTE_CAPACITY][PATH_PITCH_CAPACITY];
  /// Whether no habit leads to a place: a phrase begins. The first one does.
  bool begins[PATH_NOTE_CAPACITY];
  /// The weight of the interval that leads *to* a place; row 0 is not used.
  float intervals[PATH_NOTE_CAPACITY][PATH_INTERVALS];
  /// The weight of an interval after having come in a certain way.
  float habits[PATH_CAMES][PATH_INTERVALS];
  /// What intervals weigh that leave a pitch, or enter it, in a way of its own;
  /// row n is that of `leave` PATH_LEAVE_BY_WAYS + n, and of `enter` n + 1.
  float ways[PATH_WAYS][PATH_INTERVALS];
} PathProblem;

/// The pitches of a place that weigh more than 0, rising.
typedef struct {
  unsigned n;
  uint8_t  pitches[PATH_PITCH_CAPACITY];
} PathOpen;

/// The messages of a problem, made by path_solve(): for a place, a pitch and
/// how the line came to it, the weight of the pitch and of all that may follow
/// (in a scale of that place's own). Only those of pitches above 0 are there.
typedef struct {
  PathOpen open[PATH_NOTE_CAPACITY];
  double   messages[PATH_NOTE_CAPACITY][PATH_PITCH_CAPACITY][PATH_CAMES];
} PathSolver;

/// Return how an interval of -12..12 semitones comes to its pitch.
PathCame
path_came(int semitones);

/**
   Compute the messages of a problem.

   @return STATUS_OK; STATUS_MISSING if no line has a weight above 0.
*/
MUST_USE Status
path_solve(PathSolver* solver, const PathProblem* problem);

/**
   Draw a line.

   @param solver Made from this very problem by a path_solve() that succeeded.
   @param[out] line The `problem->n_notes` MIDI key numbers.
*/
void
path_draw(const PathSolver*  solver,
          const PathProblem* problem,
          Rng*               rng,
          uint8_t            line[PATH_NOTE_CAPACITY]);

/// Return the weight of a line of `problem->n_notes` keys as a natural
/// logarithm; -INFINITY if it breaks a rule or leaves the range of pitches.
double
path_log_weight(const PathProblem* problem, const uint8_t* line);

#endif // CORE_MUSIC_PATH_H
