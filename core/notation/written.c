#include "core/notation/written.h"

// How lengths are rounded, in ticks; common practice, no source
static const struct {
  Tick rest;       // The shortest rest before a note that is written
  Tick slack;      // A note that ends so little after a place ends there
  Tick long_slack; // ... if it is longer than a beat
  Tick held;       // Longer notes end on a beat
  Tick near;       // Up to a note that is no farther ...
  Tick share; // ... lasts one that sounds for a share of the way, one in so
} ROUND = {TICKS_PER_EIGHTH,
           168,
           288,
           2 * (Tick)TICKS_PER_QUARTER,
           TICKS_PER_QUARTER,
           3};

enum { BEAT_COLUMNS = 64 }; // Columns in a beat that are looked at

int
written_compare(const WrittenNote* const a, const WrittenNote* const b)
{
  if (a->staff != b->staff) {
    return a->staff < b->staff ? -1 : 1;
  }
  if (a->tick != b->tick) {
    return a->tick < b->tick ? -1 : 1;
  }
  if (a->is_grace != b->is_grace) {
    return a->is_grace ? -1 : 1;
  }
  if (a->is_grace && a->heard != b->heard) {
    return a->heard < b->heard ? -1 : 1;
  }
  return (int)a->pitch - (int)b->pitch;
}

// Takes out the second of two notes that are written the same, and makes notes
// of grace notes that decorate nothing
static size_t
tidy(WrittenNote* const notes, const size_t n_notes)
{
  size_t n = 0;
  for (size_t i = 0; i < n_notes; ++i) {
    size_t last = i; // Of those that stand at the same place
    while (last + 1 < n_notes && notes[last + 1].tick == notes[i].tick) {
      ++last;
    }
    WrittenNote note          = notes[i];
    note.is_grace             = note.is_grace && !notes[last].is_grace;
    WrittenNote* const before = n ? &notes[n - 1] : NULL;
    if (before && before->tick == note.tick && before->pitch == note.pitch &&
        before->is_grace == note.is_grace) {
      before->sounding =
        before->sounding > note.sounding ? before->sounding : note.sounding;
    } else {
      notes[n++] = note;
    }
  }
  return n;
}

// Gathers the columns of a beat, all on places of one division
static size_t
gather_beat(const Meter        meter,
            WrittenNote* const notes,
            const size_t       first,
            const size_t       n_notes,
            Column* const      columns,
            size_t* const      n_columns)
{
  const Tick beat = tick_floor(notes[first].tick, meter_beat_ticks(meter));
  const Tick end  = beat + meter_beat_ticks(meter);
  Tick       offsets[BEAT_COLUMNS];
  unsigned   n = 0;
  size_t     i = first;
  for (; i < n_notes && notes[i].tick < end; ++i) {
    const Tick offset = notes[i].tick - beat;
    if (n < BEAT_COLUMNS && (n == 0 || offsets[n - 1] != offset)) {
      offsets[n++] = offset;
    }
  }
  const Division* const division = division_find(meter, offsets, n);
  for (size_t k = first; k < i; ++k) {
    const Moment start = MOMENTS_PER_TICK * beat +
                         division_place(division, meter, notes[k].tick - beat);
    if (*n_columns == 0 || columns[*n_columns - 1].start != start) {
      columns[(*n_columns)++] =
        (Column){.start = start, .first = k, .division = division};
    }
    Column* const column = &columns[*n_columns - 1];
    // What falls together only on paper is a chord
    notes[k].is_grace =
      notes[k].is_grace && notes[k].tick == notes[column->first].tick;
    column->n_graces += notes[k].is_grace;
    column->n_notes += !notes[k].is_grace;
  }
  return i;
}

// How long the longest of a column's notes sounded
static Moment
sounding_of(const Column* const column, const WrittenNote* const notes)
{
  Tick                     longest = 0;
  const WrittenNote* const chord   = notes + column->first + column->n_graces;
  for (unsigned i = 0; i < column->n_notes; ++i) {
    longest = chord[i].sounding > longest ? chord[i].sounding : longest;
  }
  return longest * MOMENTS_PER_TICK;
}

// The next place after `at` where a column may end
static Moment
next_end(const Meter         meter,
         const Column* const column,
         const Column* const next,
         const Moment        at)
{
  const Moment    beat_moments = MOMENTS_PER_TICK * meter_beat_ticks(meter);
  const Moment    beat         = tick_floor(at, beat_moments);
  const Division* division     = division_none(meter);
  if (tick_floor(column->start, beat_moments) == beat) {
    division = column->division;
  } else if (next && tick_floor(next->start, beat_moments) == beat) {
    division = next->division;
  }
  const Moment step = division_end_step(division, meter);
  return beat + ((at - beat) / step + 1) * step;
}

// Whether a column lasts until the next one, whatever the touch
static bool
joins(const Column* const column,
      const Column* const next,
      const Moment        end,
      const Moment        sounding)
{
  const Moment way = next->start - column->start;
  return end > next->start - MOMENTS_PER_TICK * ROUND.rest ||
         (way <= MOMENTS_PER_TICK * ROUND.near &&
          ROUND.share * sounding >= way);
}

static Moment
end_of(const Meter         meter,
       const Column* const column,
       const Column* const next,
       const Moment        sounding)
{
  const Moment beat  = MOMENTS_PER_TICK * meter_beat_ticks(meter);
  const Moment stops = column->start + sounding;
  const Tick   slack = sounding > beat ? ROUND.long_slack : ROUND.slack;
  Moment       end   = next_end(meter, column, next, column->start);
  while (end < stops - MOMENTS_PER_TICK * slack) {
    end = next_end(meter, column, next, end);
  }
  if (sounding > MOMENTS_PER_TICK * ROUND.held) {
    end = tick_floor(stops + beat / 2, beat);
  }
  return next && joins(column, next, end, sounding) ? next->start : end;
}

size_t
written_columns(const Meter        meter,
                WrittenNote* const notes,
                size_t* const      n_notes,
                const Tick         end,
                Column* const      columns)
{
  *n_notes         = tidy(notes, *n_notes);
  size_t n_columns = 0;
  for (size_t i = 0; i < *n_notes;) {
    i = gather_beat(meter, notes, i, *n_notes, columns, &n_columns);
  }
  for (size_t c = 0; c < n_columns; ++c) {
    columns[c].end = end_of(meter,
                            &columns[c],
                            c + 1 < n_columns ? &columns[c + 1] : NULL,
                            sounding_of(&columns[c], notes));
  }
  Column* const last = n_columns ? &columns[n_columns - 1] : NULL;
  if (last && last->end > end * MOMENTS_PER_TICK) {
    last->end = end * MOMENTS_PER_TICK;
  }
  return n_columns;
}
