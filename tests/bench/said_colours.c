#include "said_colours.h"

#include "said_sums.h"

#include <stdlib.h>

#define TONES(a, b, c, d, e, f, g)                                             \
  (1U << (a) | 1U << (b) | 1U << (c) | 1U << (d) | 1U << (e) | 1U << (f) |     \
   1U << (g))

enum {
  EIGHTH      = SAID_QUARTER / 2,
  GROUP       = 3 * EIGHTH,
  RUN_NOTES   = 5,
  RUN_STEP    = 3,
  TRITONE     = 6,
  FAST_MS     = 300,
  N_CLASSES   = 12,
  ALL_CLASSES = 0xFFF,
};

/// Scales over the root; common practice, no source. A dominant chord has the
/// blue third as well.
static const unsigned ionian     = TONES(0, 2, 4, 5, 7, 9, 11);
static const unsigned mixolydian = TONES(0, 2, 4, 5, 7, 9, 10) | 1U << 3;
static const unsigned dorian     = TONES(0, 2, 3, 5, 7, 9, 10);
static const unsigned locrian    = TONES(0, 2, 3, 5, 6, 8, 10) | 1U << 1;
// A diminished triad is written for the seventh chord: its seventh is a sixth
static const unsigned diminished = TONES(0, 2, 3, 5, 6, 8, 9) | 1U << 11;
static const unsigned minor_key  = TONES(0, 2, 3, 5, 7, 8, 10) | 1U << 11;

static unsigned
turned(const unsigned scale, const unsigned root)
{
  const unsigned moved = scale << root;
  return (moved | moved >> N_CLASSES) & ALL_CLASSES;
}

static unsigned
scale_of(const SaidChord* const chord)
{
  const int  root = (int)chord->root;
  const bool minor =
    said_chord_has(chord, root + 3) && !said_chord_has(chord, root + 4);
  const bool fifth         = said_chord_has(chord, root + 7);
  const bool minor_seventh = said_chord_has(chord, root + 10);
  return turned(minor && !fifth && !minor_seventh ? diminished
                : minor && !fifth                 ? locrian
                : minor                           ? dorian
                : minor_seventh                   ? mixolydian
                                                  : ionian,
                chord->root);
}

static bool
is_outside(const Said* const said, const SaidNote* const note)
{
  const SaidChord* const chord = said_chord_at(said, note->grid);
  if (!chord || sums_is_tone(said, note->grid, note->pitch)) {
    return false;
  }
  const unsigned key = turned(said->is_minor ? minor_key : ionian, said->tonic);
  const unsigned home = key | scale_of(chord);
  return !(home >> (unsigned)(note->pitch % N_CLASSES) & 1U);
}

/// Whether a note is the blue fifth on its way to the fourth or the fifth.
static bool
is_blue_fifth(const Said* const said, const Line* const line, const unsigned i)
{
  const SaidChord* const chord = said_chord_at(said, line->notes[i]->grid);
  return i + 1 < line->n && chord &&
         said_chord_degree(chord, line->notes[i]->pitch) == TRITONE &&
         abs(line_interval(line, i)) == 1 && line_step(line, i) <= SAID_QUARTER;
}

/// Whether note `to` is a chord tone a step away from note `from`.
static bool
leads(const Said* const said,
      const Line* const line,
      const unsigned    from,
      const unsigned    to)
{
  if (to >= line->n) {
    return false;
  }
  const SaidNote* const next = line->notes[to];
  const int             step = abs(next->pitch - line->notes[from]->pitch);
  const long            wait = next->grid - line->notes[from]->grid;
  return step > 0 && step <= 2 && wait <= SAID_QUARTER &&
         (sums_is_tone(said, next->grid, next->pitch) ||
          sums_is_tone(said, next->grid + EIGHTH, next->pitch));
}

static unsigned
count_outside(const Said* const said, const bool only_hanging)
{
  const Line line = line_of(said);
  unsigned   n    = 0;
  for (unsigned i = 0; i < line.n; ++i) {
    const bool led = leads(said, &line, i, i + 1) ||
                     leads(said, &line, i, i + 2) ||
                     is_blue_fifth(said, &line, i);
    n += is_outside(said, line.notes[i]) && !line_anticipates(said, &line, i) &&
         !(only_hanging && led);
  }
  return n;
}

unsigned
colours_outside(const Said* const said)
{
  return count_outside(said, false);
}

unsigned
colours_hanging(const Said* const said)
{
  return count_outside(said, true);
}

bool
colours_has_run(const Said* const said)
{
  const Line line = line_of(said);
  unsigned   n    = 1;
  for (unsigned i = 0; i + 1 < line.n && n < RUN_NOTES; ++i) {
    const int  way     = line_direction(&line, i);
    const bool steps   = way != 0 && abs(line_interval(&line, i)) <= RUN_STEP;
    const bool goes_on = n > 1 && i > 0 && line_direction(&line, i - 1) == way;
    n                  = !steps ? 1 : goes_on ? n + 1 : 2;
  }
  return n >= RUN_NOTES;
}

bool
colours_has_pair(const Said* const said)
{
  const Line line = line_of(said);
  bool       has  = false;
  for (unsigned i = 0; i + 1 < line.n; ++i) {
    has = has || line_step(&line, i) == EIGHTH / 2;
  }
  return has;
}

/// Return the index of the main note written at a tick; n if there is none.
static unsigned
note_at(const Line* const line, const long grid)
{
  unsigned i = 0;
  while (i < line->n && line->notes[i]->grid != grid) {
    ++i;
  }
  return i;
}

/// Whether two full groups that begin with notes i and j move alike.
static bool
moves_alike(const Line* const line, const unsigned i)
{
  const unsigned j = i + 3;
  return line_direction(line, i) == line_direction(line, j) &&
         line_direction(line, i + 1) == line_direction(line, j + 1) &&
         line_direction(line, i + 2) != line_direction(line, i + 1);
}

static bool
is_three(const Line* const line, const unsigned i)
{
  const long     at    = line->notes[i]->grid;
  const long     bar   = (at + SAID_BAR) / SAID_BAR;
  const long     last  = at + 2 * GROUP;
  const unsigned third = note_at(line, last);
  const unsigned other = note_at(line, at + GROUP);
  if ((last + SAID_BAR) / SAID_BAR == bar || third == line->n ||
      other == line->n || third - other != other - i) {
    return false;
  }
  for (unsigned k = 1; i + k < other; ++k) {
    const long place = line->notes[i + k]->grid - at;
    if (place % EIGHTH != 0 ||
        line->notes[other + k]->grid - at - GROUP != place) {
      return false;
    }
  }
  return other - i < 3 || moves_alike(line, i);
}

bool
colours_has_threes(const Said* const said)
{
  const Line line = line_of(said);
  bool       has  = false;
  for (unsigned i = 0; i < line.n; ++i) {
    has = has || is_three(&line, i);
  }
  return has;
}

unsigned
colours_stretches(const Said* const said,
                  const double      tempo_bpm,
                  const int         hand)
{
  const double ms = 60000.0 / tempo_bpm / SAID_QUARTER;
  unsigned     n  = 0;
  for (unsigned i = 0; i + 1 < said->n_notes; ++i) {
    const SaidNote* const note = &said->notes[i];
    n += abs(note[1].pitch - note->pitch) > hand &&
         ms * (double)(note[1].tick - note->tick) < FAST_MS;
  }
  return n;
}

unsigned
colours_out_of_range(const Said* const said,
                     const int         lowest,
                     const int         highest)
{
  unsigned n = 0;
  for (unsigned i = 0; i < said->n_notes; ++i) {
    n += said->notes[i].pitch < lowest || said->notes[i].pitch > highest;
  }
  return n;
}

unsigned
colours_out_of_turn(const Said* const said)
{
  unsigned n     = 0;
  long     until = -GROUP;
  for (unsigned i = 0; i < said->n_notes; ++i) {
    const SaidNote* const note = &said->notes[i];
    n += note->tick < until || note->tick + note->length > said->turn;
    until = note->tick + note->length;
  }
  return n;
}

double
colours_at_home(const Said* const said, const Said* const call)
{
  const Line line = line_of(said);
  unsigned   used = 0;
  unsigned   n    = 0;
  for (unsigned i = 0; i < call->n_notes; ++i) {
    used |= 1U << (unsigned)(call->notes[i].pitch % N_CLASSES);
  }
  for (unsigned i = 0; i < line.n; ++i) {
    const SaidNote* const note = line.notes[i];
    n += sums_is_tone(said, note->grid, note->pitch) ||
         line_anticipates(said, &line, i) ||
         (used >> (unsigned)(note->pitch % N_CLASSES) & 1U);
  }
  return line.n > 0 ? (double)n / line.n : 1.0;
}
