#include "said_sums.h"

#include <stdlib.h>

enum {
  EIGHTH     = SAID_QUARTER / 2,
  HALF_BAR   = 2 * SAID_QUARTER,
  STEP_MOST  = 2,
  THIRD_MOST = 4,
  TRITONE    = 6,
};

Line
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

int
line_interval(const Line* const line, const unsigned i)
{
  return line->notes[i + 1]->pitch - line->notes[i]->pitch;
}

int
line_direction(const Line* const line, const unsigned i)
{
  const int up = line_interval(line, i);
  return (up > 0) - (up < 0);
}

long
line_step(const Line* const line, const unsigned i)
{
  return line->notes[i + 1]->grid - line->notes[i]->grid;
}

static bool
same_step(const Line* const a,
          const unsigned    i,
          const Line* const b,
          const unsigned    j)
{
  return line_step(a, i) == line_step(b, j) &&
         line_direction(a, i) == line_direction(b, j);
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

bool
sums_is_copy(const Said* const a, const Said* const b)
{
  const Line one  = line_of(a);
  const Line two  = line_of(b);
  bool       same = one.n == two.n;
  for (unsigned i = 0; same && i < one.n; ++i) {
    same = one.notes[i]->grid == two.notes[i]->grid &&
           one.notes[i]->pitch == two.notes[i]->pitch;
  }
  return same;
}

double
sums_rhythm_likeness(const Said* const a, const Said* const b)
{
  const Line one = line_of(a);
  const Line two = line_of(b);
  if (one.n < 2 || two.n < 2) {
    return one.n == two.n ? 1.0 : 0.0;
  }
  unsigned edits[SAID_NOTES]; // Of the steps so far to the first j
  for (unsigned j = 0; j < two.n; ++j) {
    edits[j] = j;
  }
  for (unsigned i = 1; i < one.n; ++i) {
    unsigned diagonal = edits[0];
    edits[0]          = i;
    for (unsigned j = 1; j < two.n; ++j) {
      const bool     same = line_step(&one, i - 1) == line_step(&two, j - 1);
      const unsigned replaced = diagonal + !same;
      const unsigned either =
        (edits[j] < edits[j - 1] ? edits[j] : edits[j - 1]) + 1;
      diagonal = edits[j];
      edits[j] = replaced < either ? replaced : either;
    }
  }
  const unsigned longer = one.n > two.n ? one.n : two.n;
  return 1.0 - (double)edits[two.n - 1] / (longer - 1);
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

bool
sums_is_tone(const Said* const said, const long tick, const int pitch)
{
  const SaidChord* const chord = said_chord_at(said, tick);
  return !chord || said_chord_has(chord, pitch) ||
         (tick >= said->turn && (unsigned)pitch % 12 == said->tonic);
}

bool
line_anticipates(const Said* const said,
                 const Line* const line,
                 const unsigned    i)
{
  const SaidNote* const note = line->notes[i];
  return sums_is_tone(said, note->grid + EIGHTH, note->pitch) &&
         (i + 1 == line->n || line_step(line, i) >= EIGHTH);
}

bool
sums_last_is_chord_tone(const Said* const said)
{
  const Line line = line_of(said);
  if (line.n == 0) {
    return false;
  }
  const SaidNote* const last = line.notes[line.n - 1];
  return sums_is_tone(said, last->grid, last->pitch) ||
         sums_is_tone(said, last->grid + EIGHTH, last->pitch);
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
    same = line_direction(&one, i) == line_direction(&two, i);
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
  const SaidChord* const chord = said_chord_at(said, grid);
  if (!chord || !said_chord_is_dominant(chord) ||
      said_chord_degree(chord, line->notes[i]->pitch) != TRITONE ||
      sums_is_tone(said, grid, line->notes[i]->pitch) ||
      line_anticipates(said, line, i)) {
    return;
  }
  ++counts->n_flat_fives;
  if (i == 0 || i + 1 == line->n) {
    return;
  }
  const int before = abs(line_interval(line, i - 1));
  const int after  = abs(line_interval(line, i));
  counts->n_flat_fives_taught += before == 1 && after == 1 &&
                                 grid % SAID_QUARTER != 0 &&
                                 line_step(line, i) <= EIGHTH;
  counts->n_flat_fives_led += (before == 1 || after == 1) && before > 0 &&
                              after > 0 && before <= THIRD_MOST &&
                              after <= THIRD_MOST && grid % HALF_BAR != 0;
}

void
sums_count(Counts* const counts, const Said* const said)
{
  const Line line = line_of(said);
  for (unsigned i = 0; i < line.n; ++i) {
    const SaidNote* const note = line.notes[i];
    const bool            on   = note->grid % SAID_QUARTER == 0;
    const bool            tone = sums_is_tone(said, note->grid, note->pitch);
    counts->n_on += on;
    counts->n_on_tones += on && tone;
    counts->n_off += !on;
    counts->n_off_tones += !on && tone;
    counts->n_triplets += note->grid % (SAID_QUARTER / 3) == 0 && !on;
    counts->n_sixteenths += note->grid % EIGHTH == EIGHTH / 2;
    count_flat_five(counts, said, &line, i);
    if (i + 1 < line.n) {
      count_interval(counts, abs(line_interval(&line, i)));
    }
    if (i + 2 < line.n) {
      ++counts->n_pairs;
      counts->n_turns +=
        line_direction(&line, i) * line_direction(&line, i + 1) < 0;
    }
  }
}
