#include "said_sums.h"

#include <stdlib.h>

enum {
  EIGHTH     = SAID_QUARTER / 2,
  HALF_BAR   = 2 * SAID_QUARTER,
  STEP_MOST  = 2,
  THIRD_MOST = 4,
  TRITONE    = 6,
  MINOR_7TH  = 10,
};

typedef struct {
  unsigned        n;
  const SaidNote* notes[SAID_NOTES];
} Line;

static Line
line_of(const Said* const said)
{
  Line line = {.n = 0};
  for (unsigned i = 0; i < said->n_notes; ++i) {
    if (!said->notes[i].is_ornament) {
      line.notes[line.n++] = &said->notes[i];
    }
  }
  return line;
}

static int
sign(const int x)
{
  return (x > 0) - (x < 0);
}

static int
interval(const Line* const line, const unsigned i)
{
  return line->notes[i + 1]->pitch - line->notes[i]->pitch;
}

static bool
same_step(const Line* const a,
          const unsigned    i,
          const Line* const b,
          const unsigned    j)
{
  return a->notes[i + 1]->grid - a->notes[i]->grid ==
           b->notes[j + 1]->grid - b->notes[j]->grid &&
         sign(interval(a, i)) == sign(interval(b, j));
}

unsigned
sums_cell(const Said* const call, const Said* const answer)
{
  const Line a    = line_of(call);
  const Line b    = line_of(answer);
  unsigned   most = 0;
  for (unsigned i = 0; i + 1 < a.n; ++i) {
    for (unsigned j = 0; j + 1 < b.n; ++j) {
      unsigned n = 0;
      while (i + n + 1 < a.n && j + n + 1 < b.n &&
             same_step(&a, i + n, &b, j + n)) {
        ++n;
      }
      most = n > most ? n : most;
    }
  }
  return most > 0 ? most + 1 : 0;
}

double
sums_onsets_shared(const Said* const a, const Said* const b)
{
  const Line one    = line_of(a);
  const Line two    = line_of(b);
  unsigned   shared = 0;
  for (unsigned i = 0; i < one.n; ++i) {
    bool is_there = false;
    for (unsigned j = 0; j < two.n; ++j) {
      is_there = is_there || one.notes[i]->grid == two.notes[j]->grid;
    }
    shared += is_there;
  }
  const unsigned all = one.n + two.n - shared;
  return all > 0 ? (double)shared / all : 0.0;
}

bool
sums_starts_alike(const Said* const a, const Said* const b)
{
  const Line one = line_of(a);
  const Line two = line_of(b);
  return one.n > 0 && two.n > 0 && one.notes[0]->grid == two.notes[0]->grid;
}

bool
sums_has_pickup(const Said* const said)
{
  const Line line = line_of(said);
  return line.n > 0 && line.notes[0]->grid < 0;
}

bool
sums_arrives(const Said* const said)
{
  const Line line = line_of(said);
  if (line.n == 0) {
    return false;
  }
  const long place = line.notes[line.n - 1]->grid % HALF_BAR;
  return place == 0 || place == HALF_BAR - EIGHTH;
}

bool
sums_rests_last(const Said* const said)
{
  const Line line = line_of(said);
  return line.n == 1 || (line.n > 1 && line.notes[line.n - 1]->length >=
                                         line.notes[line.n - 2]->length);
}

bool
sums_rest_follows(const Said* const said)
{
  const Line line = line_of(said);
  return line.n > 0 && line.notes[line.n - 1]->tick +
                           line.notes[line.n - 1]->length + EIGHTH <=
                         said->turn;
}

static bool
is_tone(const Said* const said, const long tick, const int pitch)
{
  const SaidChord* const chord = said_chord_at(said, tick < 0 ? 0 : tick);
  return chord && (chord->tones >> (unsigned)(pitch % 12) & 1U);
}

bool
sums_last_is_chord_tone(const Said* const said)
{
  const Line line = line_of(said);
  if (line.n == 0) {
    return false;
  }
  const SaidNote* const last = line.notes[line.n - 1];
  return is_tone(said, last->grid, last->pitch) ||
         is_tone(said, last->grid + EIGHTH, last->pitch);
}

double
sums_silence(const Said* const said)
{
  long sounding = 0;
  long until    = 0;
  for (unsigned i = 0; i < said->n_notes; ++i) {
    const SaidNote* const note = &said->notes[i];
    const long            from = note->tick > until ? note->tick : until;
    long                  end  = note->tick + note->length;
    end                        = end < said->turn ? end : said->turn;
    if (end > from) {
      sounding += end - from;
      until = end;
    }
  }
  return 1.0 - (double)sounding / (double)said->turn;
}

int
sums_range(const Said* const said)
{
  int lowest  = 127;
  int highest = 0;
  for (unsigned i = 0; i < said->n_notes; ++i) {
    lowest  = said->notes[i].pitch < lowest ? said->notes[i].pitch : lowest;
    highest = said->notes[i].pitch > highest ? said->notes[i].pitch : highest;
  }
  return said->n_notes > 0 ? highest - lowest : 0;
}

unsigned
sums_notes(const Said* const said)
{
  return line_of(said).n;
}

unsigned
sums_graces(const Said* const said)
{
  return said->n_notes - sums_notes(said);
}

bool
sums_contour_alike(const Said* const a, const Said* const b)
{
  const Line one  = line_of(a);
  const Line two  = line_of(b);
  bool       same = one.n == two.n;
  for (unsigned i = 0; same && i + 1 < one.n; ++i) {
    same = sign(interval(&one, i)) == sign(interval(&two, i));
  }
  return same;
}

static void
count_interval(Counts* const counts, const int size)
{
  ++counts->n_intervals;
  counts->n_repeats += size == 0;
  counts->n_steps += size > 0 && size <= STEP_MOST;
  counts->n_thirds += size > STEP_MOST && size <= THIRD_MOST;
  counts->n_wider += size > THIRD_MOST;
}

static void
count_flat_five(Counts* const     counts,
                const Said* const said,
                const Line* const line,
                const unsigned    i)
{
  const long             grid  = line->notes[i]->grid;
  const SaidChord* const chord = said_chord_at(said, grid < 0 ? 0 : grid);
  const unsigned         degree =
    chord ? ((unsigned)line->notes[i]->pitch + 12 - chord->root) % 12 : 0;
  if (degree != TRITONE || !(chord->tones >> (chord->root + 4) % 12 & 1U) ||
      !(chord->tones >> (chord->root + MINOR_7TH) % 12 & 1U) ||
      (chord->tones >> (chord->root + TRITONE) % 12 & 1U)) {
    return;
  }
  ++counts->n_flat_fives;
  counts->n_flat_fives_led +=
    i > 0 && i + 1 < line->n && abs(interval(line, i - 1)) == 1 &&
    abs(interval(line, i)) == 1 && grid % HALF_BAR != 0;
}

void
sums_count(Counts* const counts, const Said* const said)
{
  const Line line = line_of(said);
  for (unsigned i = 0; i < line.n; ++i) {
    const SaidNote* const note = line.notes[i];
    const bool            on   = note->grid % SAID_QUARTER == 0;
    const bool            tone = is_tone(said, note->grid, note->pitch);
    counts->n_on += on;
    counts->n_on_tones += on && tone;
    counts->n_off += !on;
    counts->n_off_tones += !on && tone;
    counts->n_triplets += note->grid % (SAID_QUARTER / 3) == 0 && !on;
    counts->n_sixteenths += note->grid % EIGHTH == EIGHTH / 2;
    count_flat_five(counts, said, &line, i);
    if (i + 1 < line.n) {
      count_interval(counts, abs(interval(&line, i)));
    }
    if (i + 2 < line.n) {
      ++counts->n_pairs;
      counts->n_turns += interval(&line, i) * interval(&line, i + 1) < 0;
    }
  }
}
