#include "responder/lesson/warmup_plan.h"

#include "core/sum.h"
#include "responder/lesson/warmup_play.h"

#include <string.h>

static const double most_of_trading = 0.6; // Of all; else it is left out

// Another for each day and person
static uint64_t
seed_of(const int32_t day, const char* const id)
{
  return sum_add(SUM_BEGIN ^ (uint64_t)day, id, strlen(id)) >> 16U;
}

Warmup
warmup_plan(const Setup* const setup,
            const char* const  id,
            const int32_t      day,
            const double       minutes)
{
  const Choices* const choices = &setup->choices;
  const unsigned       count   = warmup_count_in(setup);
  const unsigned       form    = count + setup->chart.chart.n_bars + 1;
  const double         bar_s =
    meter_bar_seconds(setup->chart.chart.meter, choices->tempo_bpm);
  const bool  trades = form * bar_s <= most_of_trading * 60.0 * minutes;
  const Climb climb =
    climb_begin(&choices->plan, choices->rung, choices->budget, choices->skill);
  return warmup_make(&(WarmupRequest){
    .room      = warmup_room(setup),
    .tempo_bpm = choices->tempo_bpm,
    .minutes   = minutes,
    .count_in  = count,
    .trades    = trades,
    .form_bars = setup->chart.chart.n_bars,
    .weakest   = climb_weakest(&climb, &choices->plan),
    .strongest = climb_strongest(&climb),
    .seed      = seed_of(day, id),
  });
}
