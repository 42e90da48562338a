#include "core/band/feel.h"

#include "core/music/swing.h"

/// The shortest note that the drums' extra swing may make (Friberg & Sundström
/// 2002 have it near 100 ms over all tempi, with 84 ms as the least of their
/// line).
static const double SHORT_NOTE_MS = 80.0;

/// The most uneven that swing_place() takes.
static const double RATIO_MAX = 4.0;

static const double MS_PER_MINUTE = 60000.0;

static double
least(const double a, const double b)
{
  return a < b ? a : b;
}

static bool
is_meter(const Meter a, const Meter b)
{
  return a.numerator == b.numerator && a.denominator == b.denominator;
}

/// Whether a part is empty or has a pattern for a meter.
static bool
part_fits(const FeelPart* const part, const Meter meter)
{
  bool fits = part->n_patterns == 0;
  for (unsigned i = 0; i < part->n_patterns; ++i) {
    fits = fits || feel_pattern_fits(&part->patterns[i], meter);
  }
  return fits;
}

double
feel_swing_ratio(const Feel* const feel, const double tempo_bpm)
{
  return feel->swing_by_tempo ? swing_ratio_by_tempo(tempo_bpm)
                              : feel->swing_ratio;
}

double
feel_drum_ratio(const Feel* const feel, const double tempo_bpm)
{
  const double others   = feel_swing_ratio(feel, tempo_bpm);
  const double shortest = MS_PER_MINUTE / tempo_bpm / SHORT_NOTE_MS - 1.0;
  const double wished   = least(others + feel->ride_swing_extra, RATIO_MAX);
  const double ratio    = least(wished, shortest);
  return ratio > others ? ratio : others;
}

bool
feel_fits(const Feel* const feel, const Meter meter)
{
  bool is_named = false;
  for (unsigned i = 0; i < feel->n_meters; ++i) {
    is_named = is_named || is_meter(feel->meters[i], meter);
  }
  const bool has_bass =
    feel->bass_line != BASS_LINE_PATTERN || part_fits(&feel->bass, meter);
  return is_named && has_bass && part_fits(&feel->chords, meter) &&
         part_fits(&feel->drums, meter);
}

bool
feel_pattern_fits(const FeelPattern* const pattern, const Meter meter)
{
  return pattern->meter.numerator == 0 || is_meter(pattern->meter, meter);
}
