#include "core/band/band.h"

#include "core/music/spelling.h"

#include <assert.h>
#include <stdbool.h>
#include <string.h>

/// Return the chord to end on: the last one on the tonic that the form has,
/// else the tonic's triad.
static Chord
tonic_chord(const Chart* const chart)
{
  const Spelling tonic = chart->key.tonic;
  for (unsigned i = chart->n_changes; i-- > 0;) {
    const Chord* const chord = &chart->changes[i].chord;
    if (!chord_is_silence(chord) &&
        spelling_pitch_class(chord->root) == spelling_pitch_class(tonic) &&
        spelling_pitch_class(chord->bass) == spelling_pitch_class(tonic)) {
      return *chord;
    }
  }

  Chord             triad  = chord_silence();
  const char* const suffix = chart->key.is_minor ? "m" : "";
  const Status      status = chord_build(&triad, tonic, suffix, strlen(suffix));
  assert(status == STATUS_OK);
  (void)status;
  return triad;
}

static Cue
cue_at(const Band* const band, const Tick start, const BandFullness fullness)
{
  return (Cue){
    .chart     = band->chart,
    .feel      = band->feel,
    .tempo_bpm = band->tempo_bpm,
    .start     = start,
    .fullness  = fullness,
    .solo      = &band->solo,
  };
}

void
band_begin(Band* const        band,
           const Chart* const chart,
           const Feel* const  feel,
           const double       tempo_bpm,
           const Rng          rng)
{
  assert(chart->n_bars > 0 && tempo_bpm > 0.0);
  memset(band, 0, sizeof(*band)); // In place: it is too large for the stack
  band->chart     = chart;
  band->feel      = feel;
  band->tempo_bpm = tempo_bpm;
  band->rng       = rng;
  band->tonic     = tonic_chord(chart);
  band->solo      = solo_silent();
}

void
band_change_tempo(Band* const band, const double tempo_bpm)
{
  band->tempo_bpm = tempo_bpm;
}

void
band_hear(Band* const band, const Solo* const solo)
{
  band->solo = *solo;
}

void
band_play_bar(Band* const        band,
              const Tick         start,
              const BandFullness fullness,
              BandBar* const     bar)
{
  const Cue cue = cue_at(band, start, fullness);
  assert(start >= 0 && start % cue_bar_ticks(&cue) == 0);
  bar->n_notes = 0;
  comping_play(&band->comping, &cue, &band->rng, bar);
  bass_play(&band->bass, &cue, &band->rng, bar);
  drums_play(&band->drums, &cue, &band->rng, bar);
  part_settle(bar);
}

unsigned
band_count_in(const Band* const band, const Tick start, BandBar* const bar)
{
  Cue            cue    = cue_at(band, start, BAND_FULL);
  Rng            rng    = band->rng; // The count is exact: nothing is drawn
  const Tick     length = cue_bar_ticks(&cue);
  const unsigned n_bars = drums_count_bars(&cue);
  bar->n_notes          = 0;
  for (unsigned i = n_bars; i-- > 0;) {
    cue.start = start - (Tick)(i + 1) * length;
    drums_count(&cue, i > 0, &rng, bar);
  }
  return n_bars;
}

void
band_end(Band* const band, const Tick start, BandBar* const bar)
{
  const Cue cue = cue_at(band, start, BAND_FULL);
  bar->n_notes  = 0;
  comping_end(&band->comping, &cue, &band->tonic, &band->rng, bar);
  bass_end(&band->bass, &cue, &band->tonic, &band->rng, bar);
  drums_end(&cue, &band->rng, bar);
  part_settle(bar);
}
