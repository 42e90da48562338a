#include "fixture.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/// The rungs of the trade as config/ladder.cfg begins with them, as far as the
/// listener asks.
static const Ladder usual_ladder = {
  .notes =
    {
      {.chord_tones = 1, .range = 12},
      {.chord_tones = 2, .range = 12},
      {.chord_tones = 3, .range = 12},
      {.chord_tones = 4, .range = 12},
      {.chord_tones = 4, .range = 12, .scale_share = 0.25F},
      {.chord_tones = 4, .range = 16, .scale_share = 0.35F},
      {.chord_tones   = 4,
       .range         = 19,
       .scale_share   = 0.35F,
       .outside_share = 0.12F},
      {.chord_tones   = 4,
       .range         = 24,
       .scale_share   = 0.35F,
       .outside_share = 0.12F},
    },
  .rhythm =
    {
      {.onsets_per_bar = 3},
      {.onsets_per_bar = 4.5F, .eighths = true},
      {.onsets_per_bar = 5.5F, .eighths = true, .swing = true},
      {.onsets_per_bar = 6, .eighths = true, .swing = true, .off_beats = true},
      {.onsets_per_bar = 7,
       .eighths        = true,
       .swing          = true,
       .off_beats      = true,
       .triplets       = true},
      {.onsets_per_bar = 8.5F,
       .eighths        = true,
       .swing          = true,
       .off_beats      = true,
       .triplets       = true,
       .sixteenths     = true},
      {.onsets_per_bar = 9,
       .eighths        = true,
       .swing          = true,
       .off_beats      = true,
       .triplets       = true,
       .sixteenths     = true,
       .cross_rhythm   = true},
    },
  .ornament =
    {
      {.crushed_share = 0},
      {.crushed_share = 0.06F},
      {.crushed_share = 0.08F, .approaches = true},
      {.crushed_share = 0.1F, .approaches = true, .turns = true},
    },
};

static void
add_bars(Chart* const chart, const char* bars)
{
  char fault[CHART_FAULT_CAPACITY];
  while (*bars) {
    char         bar[64];
    const size_t n = strcspn(bars, "|");
    assert(n < sizeof(bar));
    memcpy(bar, bars, n);
    bar[n]              = '\0';
    const Status status = chart_add_bar(chart, bar, fault);
    assert(status == STATUS_OK);
    (void)status;
    bars += n + (bars[n] == '|');
  }
}

void
fixture_open(Fixture* const    fixture,
             const char* const meter,
             const char* const bars,
             const char* const scale,
             const double      tempo_bpm)
{
  Meter  read   = {4, 4};
  Status status = meter_parse(&read, meter);
  assert(status == STATUS_OK);
  chart_begin(&fixture->chart, "test", read, (Key){{0, 0}, false});
  add_bars(&fixture->chart, bars);
  status = chart_set_scale(&fixture->chart, CHART_BAR_CAPACITY, scale);
  assert(status == STATUS_OK);
  (void)status;
  fixture->ladder  = usual_ladder;
  fixture->ear     = ear_usual(&fixture->chart, &fixture->ladder, tempo_bpm);
  fixture->n_notes = 0;
}

void
fixture_add(Fixture* const fixture,
            const Tick     tick,
            const Tick     length,
            const unsigned pitch)
{
  assert(fixture->n_notes < FIXTURE_NOTE_CAPACITY);
  fixture->notes[fixture->n_notes]  = (Note){tick, length, (uint8_t)pitch, 80};
  fixture->places[fixture->n_notes] = tick;
  fixture->ornaments[fixture->n_notes] = false;
  ++fixture->n_notes;
}

const Phrase*
fixture_hear(Fixture* const fixture, const unsigned n_bars)
{
  hear_phrase(&fixture->phrase,
              &fixture->work,
              &fixture->ear,
              fixture->notes,
              fixture->n_notes,
              0,
              (Tick)n_bars * meter_bar_ticks(fixture->chart.meter));
  return &fixture->phrase;
}

const Phrase*
fixture_hear_written(Fixture* const fixture, const unsigned n_bars)
{
  hear_written(&fixture->phrase,
               &fixture->ear,
               fixture->notes,
               fixture->places,
               fixture->ornaments,
               fixture->n_notes,
               0,
               (Tick)n_bars * meter_bar_ticks(fixture->chart.meter));
  return &fixture->phrase;
}

Tick
fixture_ticks(const Fixture* const fixture, const double ms)
{
  return (Tick)lround(ms * fixture->ear.tempo_bpm * TICKS_PER_QUARTER / 60000);
}

double
fixture_gauss(Rng* const rng)
{
  // Box & Muller 1958
  const double u = 1.0 - rng_unit(rng);
  return sqrt(-2.0 * log(u)) * cos(2.0 * 3.14159265358979 * rng_unit(rng));
}
