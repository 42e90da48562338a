#include "responder/lesson/drills.h"

#include "responder/lesson/warmup_play.h"

#include <string.h>

SessionOptions
drills_session(const Setup* const  setup,
               const Chart* const  chart,
               const unsigned      bars,
               const Script* const script)
{
  SessionOptions session = setup_session(setup);
  session.chart          = chart;
  session.bars_per_turn  = bars;
  session.choruses       = 1;
  session.plays_back     = false;
  session.way            = WAY_ANSWER;
  session.partner_begins = true;
  session.makes_room     = false;
  session.plan           = (ClimbPlan){.success_step = 0.0};
  session.script         = script;
  return session;
}

Scale
drills_scale(const Chart* const form, const Chord* const chord)
{
  unsigned i = 0;
  while (i + 1 < form->n_changes &&
         !chord_equals(&form->changes[i].chord, chord)) {
    ++i;
  }
  return chart_scale_at(form, form->changes[i].tick);
}

static void
add_bars(Chart* const       chart,
         const Chord* const chord,
         const Scale        scale,
         const unsigned     bars)
{
  for (unsigned i = 0; i < bars; ++i) {
    const Tick tick                    = chart_ticks(chart);
    chart->changes[chart->n_changes++] = (ChordChange){tick, *chord, {0}, {0}};
    chart->scales[chart->n_bars]       = scale;
    chart->scale_by_chord[chart->n_bars] = false;
    ++chart->n_bars;
  }
}

// As many rounds as a form can have
static unsigned
rounds_at_once(const WarmupItem* const item, const unsigned done)
{
  const unsigned most = CHART_BAR_CAPACITY / (2 * item->bars);
  const unsigned left = item->rounds - done;
  return left < most ? left : most;
}

static void
lay_rounds(Drills* const drills, const unsigned n)
{
  const Setup* const      setup = drills->setup;
  const WarmupItem* const item  = drills->item;
  const Chart* const      form  = &setup->chart.chart;
  DrillRoom               room  = warmup_room(setup);
  room.rhythm                   = item->rhythm;
  chart_begin(&drills->chart, form->title, form->meter, form->key);
  for (unsigned i = 0; i < n; ++i) {
    Drill drill;
    drill_make(&drill, item->kind, &room, drills->done + i, &drills->rng);
    warmup_script(&drills->turns[i], item, setup, &drill);
    add_bars(&drills->chart,
             &drill.chord,
             drills_scale(form, &drill.chord),
             2 * item->bars);
  }
}

void
drills_begin(Drills* const           drills,
             const Setup* const      setup,
             const WarmupItem* const item)
{
  memset(drills, 0, sizeof(*drills));
  drills->setup = setup;
  drills->item  = item;
  drills->rng   = rng_seed(item->seed, 1);
}

bool
drills_next(Drills* const drills)
{
  const WarmupItem* const item = drills->item;
  if (drills->done >= item->rounds) {
    return false;
  }
  const unsigned n = rounds_at_once(item, drills->done);
  lay_rounds(drills, n);
  drills->script = (Script){n, drills->turns, false};
  drills->session =
    drills_session(drills->setup, &drills->chart, item->bars, &drills->script);
  drills->session.split_pitch = 0; // All of it is melody, in either hand
  drills->session.seed        = item->seed;
  drills->done += n;
  return true;
}

void
drills_trading(Setup* const            trading,
               const Setup* const      setup,
               const WarmupItem* const item)
{
  Choices choices    = setup->choices;
  choices.way        = item->way;
  choices.bars       = way_bars(item->way) ? way_bars(item->way) : choices.bars;
  choices.plays_back = false; // It would take its own time
  choices.choruses   = item->rounds;
  choices.partner_begins = true;
  choices.seed           = item->seed & INT32_MAX;
  *trading               = *setup;
  setup_again(trading, &choices);
}
