#include "responder/hear/measures.h"

#include "responder/hear/syncopation.h"
#include "responder/hear/timing.h"

#include <math.h>
#include <stdlib.h>

enum { THIRD_MOST = 4 };

/// The melody without its ornaments.
typedef struct {
  unsigned n;
  Tick     ticks[PHRASE_CAPACITY];
  uint8_t  pitches[PHRASE_CAPACITY];
} Line;

static void
line_of(const Phrase* const phrase, Line* const line)
{
  line->n = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    if (!heard->is_ornament) {
      line->ticks[line->n]   = heard->grid_tick;
      line->pitches[line->n] = heard->note.pitch;
      ++line->n;
    }
  }
}

float
measures_evenness(const Tick* const durations, const unsigned n)
{
  double sum = 0;
  for (unsigned i = 0; i + 1 < n; ++i) {
    const double a = (double)durations[i];
    const double b = (double)durations[i + 1];
    sum += a + b > 0 ? fabs(a - b) / ((a + b) / 2) : 0;
  }
  return n > 1 ? (float)(100 * sum / (n - 1)) : 0;
}

void
measures_contour(const uint8_t* const pitches,
                 const unsigned       n,
                 char* const          code)
{
  for (unsigned i = 0; i < n; ++i) {
    code[i] = i == 0                        ? '*'
              : pitches[i] > pitches[i - 1] ? 'u'
              : pitches[i] < pitches[i - 1] ? 'd'
                                            : 'r';
  }
  code[n] = '\0';
}

/// The grid that most divided beats use, the plain beat if none is divided;
/// of equals the finer.
static Grid
usual_grid(const Phrase* const phrase, const Tick beat)
{
  unsigned beats[N_GRIDS] = {0};
  Tick     last           = INT64_MIN;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    const Tick             line  = tick_floor(heard->grid_tick, beat);
    if (!heard->is_ornament && line != last) {
      ++beats[heard->grid];
      last = line;
    }
  }
  Grid most = GRID_BEAT;
  for (unsigned g = GRID_EIGHTH; g < N_GRIDS; ++g) {
    const bool is_more =
      most == GRID_BEAT ? beats[g] > 0 : beats[g] >= beats[most];
    most = is_more ? (Grid)g : most;
  }
  return most;
}

static void
take_rhythm(Measures* const     measures,
            const Phrase* const phrase,
            const Line* const   line,
            const Meter         meter)
{
  const Tick  bar = meter_bar_ticks(meter);
  const float n_bars =
    (float)(phrase->end_tick - phrase->start_tick) / (float)bar;
  const float syncopation = syncopation_sum(
    line->ticks, line->n, meter, phrase->start_tick, phrase->end_tick);
  Tick gaps[PHRASE_CAPACITY];
  for (unsigned i = 0; i + 1 < line->n; ++i) {
    gaps[i] = line->ticks[i + 1] - line->ticks[i];
  }

  measures->grid           = usual_grid(phrase, meter_beat_ticks(meter));
  measures->onsets_per_bar = (float)line->n / n_bars;
  measures->syncopation    = syncopation / n_bars;
  measures->evenness = line->n > 1 ? measures_evenness(gaps, line->n - 1) : 0;
}

static void
take_time(Measures* const     measures,
          const Phrase* const phrase,
          const Meter         meter,
          const double        ms_per_tick)
{
  const Timing timing   = timing_measure(phrase, meter);
  measures->swing_ratio = (float)timing.swing_ratio;
  measures->offset_ms   = (float)(timing.offset * ms_per_tick);
  measures->spread_ms   = (float)(timing.spread * ms_per_tick);
}

/// Count a gap in the sound; a breath shorter than an eighth is none.
static void
count_rest(Measures* const measures, Tick* const silent, const Tick rest)
{
  if (rest >= TICKS_PER_EIGHTH) {
    *silent += rest;
    measures->longest_rest =
      rest > measures->longest_rest ? rest : measures->longest_rest;
  }
}

static void
take_space(Measures* const measures, const Phrase* const phrase)
{
  Tick silent   = 0;
  Tick sounding = phrase->start_tick; // Until when
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const Note* const note = &phrase->notes[i].note;
    count_rest(measures, &silent, note->tick - sounding);
    const Tick end = note->tick + note->length;
    sounding       = end > sounding ? end : sounding;
  }
  count_rest(measures, &silent, phrase->end_tick - sounding);
  measures->space =
    (float)silent / (float)(phrase->end_tick - phrase->start_tick);
}

static void
take_intervals(Measures* const measures, const Line* const line)
{
  unsigned repeats = 0;
  unsigned wider   = 0;
  for (unsigned i = 1; i < line->n; ++i) {
    const int move = line->pitches[i] - line->pitches[i - 1];
    const int size = abs(move);
    repeats += size == 0;
    wider += size > THIRD_MOST;
  }
  if (line->n < 2) {
    return;
  }
  const float n     = (float)(line->n - 1);
  measures->repeats = (float)repeats / n;
  measures->wider   = (float)wider / n;
}

static void
take_range(Measures* const measures, const Line* const line)
{
  unsigned lowest  = 127;
  unsigned highest = 0;
  for (unsigned i = 0; i < line->n; ++i) {
    const unsigned pitch = line->pitches[i];
    lowest               = pitch < lowest ? pitch : lowest;
    highest              = pitch > highest ? pitch : highest;
  }
  measures->range = highest > lowest ? highest - lowest : 0;
}

static void
take_roles(Measures* const     measures,
           const Phrase* const phrase,
           const unsigned      n_line)
{
  unsigned roles[ROLE_OUTSIDE + 1] = {0};
  unsigned left                    = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    if (heard->is_ornament) {
      ++measures->n_ornaments;
      continue;
    }
    ++roles[heard->role];
    left += heard->role == ROLE_OUTSIDE && heard->resolution == RESOLUTION_LEFT;
  }
  if (n_line == 0) {
    return;
  }
  const float    n        = (float)n_line;
  const unsigned chord    = roles[ROLE_ROOT] + roles[ROLE_CHORD_TONE];
  measures->chord_share   = (float)chord / n;
  measures->scale_share   = (float)roles[ROLE_SCALE_TONE] / n;
  measures->outside_share = (float)roles[ROLE_OUTSIDE] / n;
  measures->left_share    = (float)left / n;
}

void
measures_take(Phrase* const phrase, const Meter meter, const double ms_per_tick)
{
  Line line;
  line_of(phrase, &line);
  Measures* const measures = &phrase->measures;
  *measures                = (Measures){.grid = GRID_BEAT};
  take_rhythm(measures, phrase, &line, meter);
  take_time(measures, phrase, meter, ms_per_tick);
  take_space(measures, phrase);
  take_intervals(measures, &line);
  take_range(measures, &line);
  take_roles(measures, phrase, line.n);
  measures_contour(line.pitches, line.n, phrase->contour);
}
