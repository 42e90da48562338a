#include "core/time/beat_clock.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

typedef struct {
  char    name[40];
  double  tempo_bpm;
  Tick    tick;
  int64_t ns; ///< By hand: tick x 60e9 / (960 x bpm), rounded down
} Row;

ParameterizedTestParameters(beat_clock, ns)
{
  static Row rows[] = {
    {"a quarter at 120 is half a second", 120.0, 960, 500000000},
    {"a tick at 120", 120.0, 1, 520833},
    {"a quarter at 60 is a second", 60.0, 960, 1000000000},
    {"three quarters at 90 are two seconds", 90.0, 2880, 2000000000},
    {"a quarter at 7 is 8 4/7 s", 7.0, 960, INT64_C(8571428571)},
    {"before bar 1", 120.0, -960, -500000000},
    {"a tick before, rounded down", 120.0, -1, -520834},
    {"ten hours at 320", 320.0, 184320000, INT64_C(36000000000000)},
    {"ten hours at 30", 30.0, 17280000, INT64_C(36000000000000)},
    {"ten hours at 112.5", 112.5, 64800000, INT64_C(36000000000000)},
  };
  return cr_make_param_array(Row, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const Row* row, beat_clock, ns)
{
  const BeatClock clock = beat_clock_at(1000, row->tempo_bpm);
  cr_assert_eq(
    beat_clock_ns(&clock, row->tick), 1000 + row->ns, "%s", row->name);
}

// From either side: the tick of a moment is the last that has begun
Test(beat_clock, tick_is_the_last_that_has_begun)
{
  static const double tempos[] = {30.0, 66.6, 97.3333, 120.0, 208.0, 320.0};
  for (unsigned i = 0; i < sizeof(tempos) / sizeof(*tempos); ++i) {
    const BeatClock clock = beat_clock_at(INT64_C(987654321987), tempos[i]);
    for (Tick tick = -5000; tick < 200000000; tick += 1 + tick * tick / 7919) {
      const int64_t ns = beat_clock_ns(&clock, tick);
      cr_assert_eq(beat_clock_tick(&clock, ns), tick);
      cr_assert_eq(beat_clock_tick(&clock, ns - 1), tick - 1);
    }
  }
}
