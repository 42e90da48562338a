#include "core/band/walk_plan.h"

#include "core/band/pitch_set.h"
#include "core/music/chart.h"
#include "core/music/spelling.h"

#include <assert.h>

/// Chance of an approach on the last beat, in two.
static const double PICKUP = 0.3;

/// Whether a beat is one of the halves of a bar, or the first of any.
static bool
begins_half(const Meter meter, const Tick tick)
{
  const int weight = meter_weight(meter, tick);
  return weight == 0 || (weight == -1 && meter_beats_per_bar(meter) != 3);
}

/// Whether a chord that must be said comes at a tick: a new one, or the first
/// of the form.
static bool
arrives(const Chart* const chart, const Tick tick)
{
  return tick % chart_ticks(chart) == 0 ||
         !chord_equals(chart_chord_at(chart, tick - 1),
                       chart_chord_at(chart, tick));
}

static void
add_place(WalkPlan* const    plan,
          const Chart* const chart,
          const Tick         tick,
          const WalkRole     role)
{
  const Chord* const chord = chart_chord_at(chart, tick);
  const unsigned     root  = spelling_pitch_class(chord->root);
  plan->places[plan->n++]  = (WalkPlace){
     .tick          = tick,
     .role          = role,
     .is_first_beat = tick % meter_bar_ticks(chart->meter) == 0,
     .chord         = chord,
     .root          = root,
     .bass          = spelling_pitch_class(chord->bass),
     .fifth         = (root + pitch_set_fifth(chord)) % PITCH_CLASSES,
     .core          = pitch_set_core(chord),
     .scale         = pitch_set_scale(chord),
  };
}

/// Return what a beat within a chord is there for.
static WalkRole
inner_role(const Chart* const chart, const Tick tick)
{
  const Tick next = tick + meter_beat_ticks(chart->meter);
  if (chord_is_silence(chart_chord_at(chart, next))) {
    return WALK_STRONG; // Nothing would lead on a passing note
  }
  if (arrives(chart, next)) {
    return WALK_APPROACH;
  }
  const bool is_long = meter_beats_per_bar(chart->meter) > 3;
  return tick % meter_bar_ticks(chart->meter) == 0 ||
             (is_long && begins_half(chart->meter, tick))
           ? WALK_STRONG
           : WALK_WEAK;
}

/// Add the place that a beat makes, if it makes one.
static void
add_beat(WalkPlan* const    plan,
         const Chart* const chart,
         const Tick         tick,
         const bool         has_pickup)
{
  if (chord_is_silence(chart_chord_at(chart, tick))) {
    return;
  }
  if (arrives(chart, tick)) {
    add_place(plan, chart, tick, WALK_ARRIVE);
    return;
  }

  const WalkRole role = inner_role(chart, tick);
  if (plan->line == BASS_LINE_WALKING) {
    add_place(plan, chart, tick, role);
  } else if (begins_half(chart->meter, tick)) {
    add_place(plan, chart, tick, WALK_STRONG);
  } else if (role == WALK_APPROACH && has_pickup) {
    add_place(plan, chart, tick, role);
  }
}

void
walk_plan_lay_out(WalkPlan* const  plan,
                  const Cue* const cue,
                  const BassLine   line,
                  Rng* const       rng)
{
  assert(line != BASS_LINE_PATTERN);
  const Chart* const chart = cue->chart;
  const Tick         beat  = meter_beat_ticks(chart->meter);
  const Tick         bar   = meter_bar_ticks(chart->meter);
  const Tick         end   = cue->start + WALK_BARS_AHEAD * bar;
  plan->line               = line;
  plan->key                = pitch_set_of_key(chart->key);
  plan->n                  = 0;

  bool has_pickup = false;
  for (Tick tick = cue->start; tick <= end; tick += beat) {
    if (tick % bar == 0) {
      has_pickup = rng_unit(rng) < PICKUP;
    }
    add_beat(plan, chart, tick, has_pickup);
  }
  if (plan->n > 0 && plan->places[plan->n - 1].role == WALK_APPROACH) {
    plan->places[plan->n - 1].role = WALK_STRONG; // Its root is out of sight
  }
}
