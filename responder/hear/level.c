#include "responder/hear/level.h"

#include "core/music/pitch.h"

#include <math.h>
#include <stdlib.h>

/// What the parts of the complexity weigh; they sum to 100. Each part is a
/// share of the measure that counts as full.
static const struct {
  float vocabulary, scale, outside, range, leaps;
  float density, grid, syncopation, ornaments;
} WEIGHT = {16, 8, 12, 10, 6, 14, 14, 12, 8};

static const struct {
  float degrees;     ///< Above the chord's root
  float scale;       ///< Share
  float outside;     ///< Share
  float range;       ///< Semitones
  float leaps;       ///< Share of intervals wider than a third
  float onsets;      ///< A 4/4 bar
  float syncopation; ///< A 4/4 bar
  float ornaments;   ///< A written note
} FULL = {9, 0.5F, 0.3F, 24, 0.4F, 14, 6, 0.25F};

/// How hard a division of the beat is.
static const float grid_weights[N_GRIDS] = {
  [GRID_BEAT]         = 0,
  [GRID_EIGHTH]       = 0.3F,
  [GRID_SWUNG_EIGHTH] = 0.45F,
  [GRID_TRIPLET]      = 0.7F,
  [GRID_SIXTEENTH]    = 1,
};

static float
part_of(const float value, const float full)
{
  return value < full ? value / full : 1;
}

/// The degrees above the chord's root that a phrase uses, as a mask; only
/// those of some roles.
static unsigned
degrees_of(const Phrase* const phrase,
           const Chart* const  chart,
           const Role          most)
{
  unsigned mask = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    if (!heard->is_ornament && heard->role <= most) {
      const Tick         tick  = heard_note_chord_tick(heard, chart);
      const Chord* const chord = chart_chord_at(chart, tick);
      const unsigned     root  = spelling_pitch_class(
        chord_is_silence(chord) ? chart_scale_at(chart, tick).tonic
                                : chord->root);
      mask |= 1U << (heard->note.pitch + 12U - root) % 12U;
    }
  }
  return mask;
}

/// Half the mean difficulty of the beats' grids and half the highest.
static float
grid_difficulty(const Phrase* const phrase)
{
  float    sum  = 0;
  float    most = 0;
  unsigned n    = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    if (!phrase->notes[i].is_ornament) {
      const float weight = grid_weights[phrase->notes[i].grid];
      sum += weight;
      most = weight > most ? weight : most;
      ++n;
    }
  }
  return n > 0 ? (sum / (float)n + most) / 2 : 0;
}

float
level_complexity(const Phrase* const phrase, const Chart* const chart)
{
  const Measures* const m = &phrase->measures;
  if (phrase->n_notes == 0) {
    return 0;
  }
  const float bars =
    (float)meter_bar_ticks(chart->meter) / (4 * TICKS_PER_QUARTER);
  const float degrees =
    (float)pitch_classes_count(degrees_of(phrase, chart, ROLE_OUTSIDE));
  const float n_written = (float)(phrase->n_notes - m->n_ornaments);
  const float ornaments = n_written > 0 ? (float)m->n_ornaments / n_written : 0;

  return WEIGHT.vocabulary * part_of(degrees - 1, FULL.degrees - 1) +
         WEIGHT.scale * part_of(m->scale_share, FULL.scale) +
         WEIGHT.outside * part_of(m->outside_share, FULL.outside) +
         WEIGHT.range * part_of((float)m->range, FULL.range) +
         WEIGHT.leaps * part_of(m->wider, FULL.leaps) +
         WEIGHT.density * part_of(m->onsets_per_bar / bars, FULL.onsets) +
         WEIGHT.grid * grid_difficulty(phrase) +
         WEIGHT.syncopation * part_of(m->syncopation / bars, FULL.syncopation) +
         WEIGHT.ornaments * part_of(ornaments, FULL.ornaments);
}

static unsigned
notes_rung(const Phrase* const phrase,
           const Chart* const  chart,
           const Ladder* const ladder)
{
  const Measures* const m = &phrase->measures;
  const unsigned        n_tones =
    pitch_classes_count(degrees_of(phrase, chart, ROLE_CHORD_TONE));
  unsigned rung = 1;
  for (; rung < N_NOTES_RUNGS; ++rung) {
    const NotesRung* const allows = &ladder->notes[rung - 1];
    if (n_tones <= allows->chord_tones && m->range <= allows->range &&
        (m->scale_share <= 0 || allows->scale_share > 0) &&
        (m->outside_share <= 0 || allows->outside_share > 0)) {
      break;
    }
  }
  return rung;
}

/// What a phrase's rhythm has in it.
typedef struct {
  float onsets; ///< A 4/4 bar
  bool  has_grid[N_GRIDS];
  bool  has_off_beats; ///< Notes off the beat with none on either side
  bool  has_cross_rhythm;
} Rhythm;

/// Whether the notes of two stretches of time stand alike.
static bool
repeats(const Phrase* const phrase, unsigned i, const Tick period)
{
  const Tick begin = phrase->notes[i].grid_tick;
  unsigned   j     = i;
  while (j < phrase->n_notes && phrase->notes[j].grid_tick < begin + period) {
    ++j;
  }
  for (; i < phrase->n_notes && phrase->notes[i].grid_tick < begin + period;
       ++i, ++j) {
    if (j == phrase->n_notes ||
        phrase->notes[j].grid_tick != phrase->notes[i].grid_tick + period) {
      return false;
    }
  }
  return j < phrase->n_notes &&
         phrase->notes[j].grid_tick == begin + 2 * period;
}

/// Whether a group of one or two notes that fills a beat and a half (two thirds
/// of one in compound meters) is said twice, with a bar line inside a group.
static bool
runs_across(const Phrase* const phrase, const Meter meter)
{
  const Tick beat   = meter_beat_ticks(meter);
  const Tick period = meter_is_compound(meter) ? beat * 2 / 3 : beat * 3 / 2;
  const Tick bar    = meter_bar_ticks(meter);
  for (unsigned i = 0; i + 2 < phrase->n_notes; ++i) {
    const Tick begin     = phrase->notes[i].grid_tick;
    const Tick line      = tick_floor(begin, bar) + bar;
    const bool is_sparse = phrase->notes[i + 2].grid_tick >= begin + period;
    if (is_sparse && line < begin + 2 * period && line != begin + period &&
        repeats(phrase, i, period)) {
      return true;
    }
  }
  return false;
}

static bool
has_onset(const Phrase* const phrase, const Tick tick)
{
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    if (phrase->notes[i].grid_tick == tick) {
      return true;
    }
  }
  return false;
}

/// Whether a note off the beat has none on the beat before it, or none on the
/// beat after.
static bool
leans_off_beat(const Phrase* const phrase, const Tick tick, const Tick beat)
{
  const Tick off = tick - tick_floor(tick, beat);
  return off != 0 && (!has_onset(phrase, tick - off) ||
                      !has_onset(phrase, tick - off + beat));
}

static Rhythm
rhythm_of(const Phrase* const phrase, const Meter meter)
{
  const Tick beat   = meter_beat_ticks(meter);
  Rhythm     rhythm = {
        .onsets = phrase->measures.onsets_per_bar * (4 * TICKS_PER_QUARTER) /
                  (float)meter_bar_ticks(meter),
        .has_cross_rhythm = runs_across(phrase, meter),
  };
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    if (!heard->is_ornament) {
      rhythm.has_grid[heard->grid] = true;
      rhythm.has_off_beats =
        rhythm.has_off_beats || leans_off_beat(phrase, heard->grid_tick, beat);
    }
  }
  return rhythm;
}

static unsigned
rhythm_rung(const Rhythm* const rhythm, const Ladder* const ladder)
{
  unsigned rung = 1;
  for (; rung < N_RHYTHM_RUNGS; ++rung) {
    const RhythmRung* const allows = &ladder->rhythm[rung - 1];
    if (rhythm->onsets <= allows->onsets_per_bar &&
        (!rhythm->has_grid[GRID_EIGHTH] || allows->eighths) &&
        (!rhythm->has_grid[GRID_SWUNG_EIGHTH] || allows->swing) &&
        (!rhythm->has_grid[GRID_TRIPLET] || allows->triplets) &&
        (!rhythm->has_grid[GRID_SIXTEENTH] || allows->sixteenths) &&
        (!rhythm->has_off_beats || allows->off_beats) &&
        (!rhythm->has_cross_rhythm || allows->cross_rhythm)) {
      break;
    }
  }
  return rung;
}

/// The most ornaments in a row.
static unsigned
longest_ornament(const Phrase* const phrase)
{
  unsigned longest = 0;
  unsigned run     = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    run     = phrase->notes[i].is_ornament ? run + 1 : 0;
    longest = run > longest ? run : longest;
  }
  return longest;
}

static unsigned
ornament_rung(const Phrase* const phrase, const Ladder* const ladder)
{
  const unsigned longest = longest_ornament(phrase);
  unsigned       rung    = 1;
  for (; rung < N_ORNAMENT_RUNGS; ++rung) {
    const OrnamentRung* const allows = &ladder->ornament[rung - 1];
    if (longest == 0 || (longest == 1 && allows->crushed_share > 0) ||
        (longest > 1 && allows->turns)) {
      break;
    }
  }
  return rung;
}

Rung
level_rung(const Phrase* const phrase,
           const Chart* const  chart,
           const Ladder* const ladder)
{
  const Rhythm rhythm = rhythm_of(phrase, chart->meter);
  return (Rung){{(uint8_t)notes_rung(phrase, chart, ladder),
                 (uint8_t)rhythm_rung(&rhythm, ladder),
                 1,
                 (uint8_t)ornament_rung(phrase, ladder)}};
}
