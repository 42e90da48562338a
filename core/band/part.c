#include "core/band/part.h"

#include "core/music/meter.h"
#include "core/music/swing.h"

#include <assert.h>
#include <math.h>

/// How late a note on the bar's first beat may be.
static const double FIRST_BEAT_MS = 2.0;

static const double TICKS_PER_MS_AND_BPM = TICKS_PER_QUARTER / 60000.0;

/// No note is shorter, whatever the spread.
static const Tick LEAST_LENGTH = 30;

/// Notes that begin so near to each other were written on one place.
static const Tick TOGETHER = 48;

static Tick
clamp_tick(const Tick tick, const Tick low, const Tick high)
{
  return tick < low ? low : tick > high ? high : tick;
}

static uint8_t
clamp_velocity(const double velocity)
{
  const long whole = lround(velocity);
  return (uint8_t)(whole < 1 ? 1 : whole > 127 ? 127 : whole);
}

static Tick
ticks_of_ms(const Cue* const cue, const double ms)
{
  return (Tick)lround(ms * cue->tempo_bpm * TICKS_PER_MS_AND_BPM);
}

/// Return where a written tick of the bar sounds.
static Tick
onset(const Cue* const   cue,
      const Touch* const touch,
      Rng* const         rng,
      const Tick         written)
{
  const Meter meter  = cue->chart->meter;
  const Tick  swung  = swing_place(meter, written, touch->swing_ratio);
  const Tick  spread = ticks_of_ms(cue, part_waver(rng, touch->spread_ms));
  const Tick  latest = written == cue->start
                         ? cue->start + ticks_of_ms(cue, FIRST_BEAT_MS)
                         : cue_end(cue) - 1;
  return clamp_tick(swung + spread, cue->start, latest);
}

Tick
cue_bar_ticks(const Cue* const cue)
{
  return meter_bar_ticks(cue->chart->meter);
}

Tick
cue_end(const Cue* const cue)
{
  return cue->start + cue_bar_ticks(cue);
}

unsigned
cue_form_bar(const Cue* const cue)
{
  const Tick bar = cue->start / cue_bar_ticks(cue);
  return (unsigned)(bar % (Tick)cue->chart->n_bars);
}

void
part_play(const Cue* const     cue,
          const Touch* const   touch,
          Rng* const           rng,
          const Written* const written,
          BandBar* const       bar)
{
  assert(written->tick >= cue->start && written->tick < cue_end(cue));
  assert(written->length > 0 && written->pitch < 128U);

  const Tick begin = onset(cue, touch, rng, written->tick);
  const Tick end   = swing_place(
    cue->chart->meter, written->tick + written->length, touch->swing_ratio);
  const double waver  = part_waver(rng, touch->velocity_spread);
  const int    louder = cue->solo ? cue->solo->louder : 0;

  const Note note = {
    .tick     = begin,
    .length   = end - begin > LEAST_LENGTH ? end - begin : LEAST_LENGTH,
    .pitch    = (uint8_t)written->pitch,
    .velocity = clamp_velocity(written->velocity + louder + waver),
  };
  if (bar->n_notes < BAND_BAR_CAPACITY) {
    bar->notes[bar->n_notes++] = (PartNote){note, (uint8_t)written->part};
  }
}

static void
sort_by_tick(BandBar* const bar)
{
  for (unsigned i = 1; i < bar->n_notes; ++i) {
    const PartNote late = bar->notes[i];
    unsigned       to   = i;
    for (; to > 0 && bar->notes[to - 1].note.tick > late.note.tick; --to) {
      bar->notes[to] = bar->notes[to - 1];
    }
    bar->notes[to] = late;
  }
}

/// Return the index of the next note of the same part and pitch, or n_notes.
static unsigned
next_alike(const BandBar* const bar, const unsigned from)
{
  unsigned next = from + 1;
  while (next < bar->n_notes &&
         (bar->notes[next].part != bar->notes[from].part ||
          bar->notes[next].note.pitch != bar->notes[from].note.pitch)) {
    ++next;
  }
  return next;
}

void
part_settle(BandBar* const bar)
{
  sort_by_tick(bar);
  unsigned n_kept = 0;
  for (unsigned i = 0; i < bar->n_notes; ++i) {
    PartNote       here = bar->notes[i];
    const unsigned next = next_alike(bar, i);
    if (next < bar->n_notes) {
      Note* const after = &bar->notes[next].note;
      if (after->tick - here.note.tick < TOGETHER) { // It stands for both
        if (here.note.velocity > after->velocity) {
          after->velocity = here.note.velocity;
        }
        continue;
      }
      const Tick gap = after->tick - here.note.tick;
      if (here.note.length > gap) {
        here.note.length = gap;
      }
    }
    bar->notes[n_kept++] = here;
  }
  bar->n_notes = n_kept;
}

double
part_waver(Rng* const rng, const double width)
{
  const double up   = rng_unit(rng);
  const double down = rng_unit(rng);
  return width * (up - down);
}
