#include "support/stand.h"

#include <criterion/criterion.h>
#include <stdio.h>

#define CONFIG BARTER_SOURCE_DIR "/config/"

ChartFile chart;
Feel      feel;
Ladder    ladder;
Session   session;

void
load(void)
{
  Faults faults = {.n_faults = 0};
  load_chart("blues");
  cr_assert_eq(feel_file_load(&feel, CONFIG "feels/swing.cfg", &faults), 0);
  cr_assert_eq(ladder_file_load(&ladder, CONFIG "ladder.cfg", &faults), 0);
}

void
load_chart(const char* const name)
{
  Faults faults = {.n_faults = 0};
  char   path[512];
  (void)snprintf(path, sizeof(path), CONFIG "charts/%s.cfg", name);
  cr_assert_eq(chart_file_load(&chart, path, &faults), 0);
}

SessionOptions
usual(void)
{
  return (SessionOptions){
    .chart         = &chart.chart,
    .feel          = &feel,
    .ladder        = &ladder,
    .tempo_bpm     = 120.0,
    .bars_per_turn = 2,
    .choruses      = 2,
    .rung          = {{5, 4, 4, 2}},
    .seed          = 7,
    .split_pitch   = 60,
    .lowest        = 60,
    .highest       = 84,
    .hand_span     = 12,
    .spread_ms     = 20.0,
  };
}

void
advance(Log* const log, const Tick until)
{
  static SessionOut out;
  Tick              reached = 0;
  do {
    reached = session_advance(&session, until, &out);
    for (unsigned i = 0; i < out.n_played; ++i) {
      cr_assert_lt(log->n_notes, STAND_NOTES);
      log->notes[log->n_notes++] = out.played[i];
    }
    for (unsigned i = 0; i < out.n_turns; ++i) {
      cr_assert_lt(log->n_turns, STAND_TURNS);
      log->decided[log->n_turns] = reached;
      log->turns[log->n_turns++] = out.turns[i];
    }
  } while (reached < until);
}
