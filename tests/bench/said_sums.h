/// @file tests/bench/said_sums.h The tests' own ear: plain arithmetic on
/// written ticks, pitches and a table of chords. Ornaments are left out of
/// every figure but their own.

#ifndef TESTS_BENCH_SAID_SUMS_H
#define TESTS_BENCH_SAID_SUMS_H

#include "said.h"

/// The main notes of a turn: without its ornaments.
typedef struct {
  unsigned        n;
  const SaidNote* notes[SAID_NOTES];
} Line;

Line
line_of(const Said* said);

/// Return semitones from note i to the next; its sign; the ticks between.
int
line_interval(const Line* line, unsigned i);
int
line_direction(const Line* line, unsigned i);
long
line_step(const Line* line, unsigned i);

/// Return whether a note is a tone of the chord that comes within half a beat,
/// before any other note does: an anticipation (common practice, no source).
bool
line_anticipates(const Said* said, const Line* line, unsigned i);

/// Return how many notes the longest cell has that stands in both turns with
/// the same steps in time and the same directions; 0 or 2 and more.
unsigned
sums_cell(const Said* call, const Said* answer);

/// Whether two turns have the same main notes at the same places.
bool
sums_is_copy(const Said* a, const Said* b);

/// Return 1 less the edit distance of the steps in time over the longer row of
/// them, 0..1: as players' pairs of four bars were counted.
double
sums_rhythm_likeness(const Said* a, const Said* b);

/// Return the share of onsets that two turns have in common, of all that one or
/// the other has.
double
sums_onsets_shared(const Said* a, const Said* b);

/// Whether a turn begins where another does.
bool
sums_starts_alike(const Said* a, const Said* b);

/// Whether the first note stands before the turn.
bool
sums_has_pickup(const Said* said);

/// Whether the last note stands on beat 1 or 3 of four, or half a beat before.
bool
sums_arrives(const Said* said);

/// Whether the last note is at least as long as the one before it.
bool
sums_rests_last(const Said* said);

/// Whether an eighth or more of rest follows the last note.
bool
sums_rest_follows(const Said* said);

/// Whether a pitch is a tone of the chord at a tick, or of one that the bench
/// cannot read; past the turn's end the tonic is one, too.
bool
sums_is_tone(const Said* said, long tick, int pitch);

/// Whether the last note is a tone of the chord there, or half a beat later.
bool
sums_last_is_chord_tone(const Said* said);

/// Return the share of the turn in which nothing sounds.
double
sums_silence(const Said* said);

/// Return semitones from the lowest to the highest note.
int
sums_range(const Said* said);

unsigned
sums_notes(const Said* said);

unsigned
sums_graces(const Said* said);

/// Whether the directions of two turns are the same, note for note.
bool
sums_contour_alike(const Said* a, const Said* b);

/// What the notes of turns come to; zeroed at first, added to by sums_count.
typedef struct {
  unsigned n_on, n_on_tones;   ///< On a beat, and chord tones of these
  unsigned n_off, n_off_tones; ///< Off the beat
  unsigned n_intervals, n_repeats, n_steps, n_thirds, n_wider;
  unsigned n_pairs, n_turns; ///< Pairs of intervals, and those that turn round
  unsigned n_flat_fives;     ///< Over dominants, as main notes
  unsigned n_flat_fives_taught; ///< Semitones on both sides, off the beat,
                                ///< gone in half a beat
  unsigned n_flat_fives_led;    ///< A semitone on one side, a third at most on
                                ///< the other, off beats 1 and 3
  unsigned n_triplets, n_sixteenths; ///< Notes off the grid of eighths
} Counts;

void
sums_count(Counts* counts, const Said* said);

#endif // TESTS_BENCH_SAID_SUMS_H
