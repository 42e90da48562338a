#include "responder/say/pulse.h"

#include "core/music/swing.h"
#include "responder/say/weights.h"

#include <math.h>
#include <stdbool.h>

double
pulse_deviate(Rng* const rng)
{
  double sum = -2.0;
  for (unsigned i = 0; i < 4; ++i) {
    sum += rng_unit(rng);
  }
  return sum * sqrt(3.0);
}

double
pulse_human(const Frame* const frame)
{
  const double steady = time_weights.steady_rung;
  const double level  = frame->rung.level[DIMENSION_RHYTHM];
  const double above  = (level - steady) / (N_RHYTHM_RUNGS - steady);
  return fmin(fmax(above, 0.0), 1.0);
}

/// Return what is usual at the tempo, between the rows of the table.
static TempoHabit
habit_at(const double bpm)
{
  const TempoHabit* const habits = time_weights.habits;
  unsigned                i      = 1;
  while (i + 1 < N_TEMPI && bpm > habits[i].bpm) {
    ++i;
  }
  const TempoHabit a = habits[i - 1];
  const TempoHabit b = habits[i];
  const double along = fmin(fmax((bpm - a.bpm) / (b.bpm - a.bpm), 0.0), 1.0);
  return (TempoHabit){bpm,
                      a.late_ms + along * (b.late_ms - a.late_ms),
                      a.spread_ms + along * (b.spread_ms - a.spread_ms)};
}

static double
ratio_of(const Frame* const frame)
{
  const double feel = frame->request->swing_ratio;
  const double own  = (double)frame->request->call->measures.swing_ratio;
  const double base = frame->rhythm->swing ? feel : 1.0;
  const double lean =
    frame->rhythm->swing ? (double)say_weights.toward_player : 1.0;
  const double ratio = own > 0.0 ? base + lean * (own - base) : base;
  return fmin(fmax(ratio, 1.0), time_weights.widest_swing);
}

/// Return how far a note may fall from its place and still be heard there, in
/// ms: a share of the way to the neighbours.
static double
reach_ms(const Frame* const frame, const Sketch* const sketch, const unsigned i)
{
  const SketchNote* const note = &sketch->notes[i];
  Tick                    near = frame->beat;
  if (i > 0) {
    near = tick_least(near, note->tick - note[-1].tick);
  }
  if (i + 1 < sketch->n_notes) {
    near = tick_least(near, note[1].tick - note->tick);
  }
  return (double)time_weights.reach * frame_ms(frame, near);
}

/// Steady: a few milliseconds either way, never late on the bar's first beat.
static double
steady_ms(const Frame* const frame, const Tick written, Rng* const rng)
{
  const double ms =
    (2.0 * rng_unit(rng) - 1.0) * (double)time_weights.steady_ms;
  const bool one = frame_weight(frame, written) == 0;
  return one ? fmin(ms, 0.0) : ms;
}

/// Return how far off its place a note falls, after one that fell `before` off
/// what is usual.
static double
human_ms(const Frame* const  frame,
         const Sketch* const sketch,
         const unsigned      i,
         double* const       before,
         double* const       phrase,
         Rng* const          rng)
{
  const TimeWeights* const w     = &time_weights;
  const SketchNote* const  note  = &sketch->notes[i];
  const TempoHabit         habit = habit_at(frame->request->ear.tempo_bpm);
  const double             share = (double)w->share * pulse_human(frame);
  const bool begins = i == 0 || note->tick - note[-1].tick - note[-1].length >=
                                  frame->beat - frame->off;
  const bool   after_off = i > 0 && frame_in_beat(frame, note[-1].tick) != 0;
  const double bound = (double)(after_off ? w->after_off_beat : w->after_beat);
  if (begins) {
    *phrase = (double)w->phrase_ms * pulse_deviate(rng);
    *before = 0.0;
  }
  *before = bound * *before +
            sqrt(1.0 - bound * bound) * habit.spread_ms * pulse_deviate(rng);
  const double most = reach_ms(frame, sketch, i);
  const double off  = share * (habit.late_ms + *phrase + *before);
  return fmin(fmax(off, -most), most);
}

void
pulse_place(Tick                ticks[SKETCH_CAPACITY],
            const Frame* const  frame,
            const Sketch* const sketch,
            Rng* const          rng)
{
  Tick         onsets[SKETCH_CAPACITY];
  const double ratio  = ratio_of(frame);
  const bool   steady = pulse_human(frame) <= 0.0;
  Tick         least  = frame->request->earliest;
  double       before = 0.0;
  double       phrase = 0.0;
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    onsets[i] = sketch->notes[i].tick;
  }
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    const Tick   written = onsets[i];
    const double ms      = steady
                             ? steady_ms(frame, written, rng)
                             : human_ms(frame, sketch, i, &before, &phrase, rng);
    const Tick   off     = frame_ticks(frame, fabs(ms));
    const Tick   place =
      swing_place_in(frame->meter, written, ratio, onsets, sketch->n_notes);
    const Tick tick = ms < 0.0 ? place - off : ms > 0.0 ? place + off : place;
    ticks[i]        = tick > least ? tick : least;
    least           = ticks[i] + 1;
  }
}
