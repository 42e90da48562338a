#include "core/time/tempo_clock.h"

#include <criterion/criterion.h>

// By hand: at 120 a quarter (960 ticks) lasts 0.5 s, at 60 a second
#define MS INT64_C(1000000)

Test(tempo_clock, goes_on_at_another_tempo)
{
  TempoClock clock = tempo_clock_at(0, 120.0);
  tempo_clock_change(&clock, 1920, 60.0);
  cr_assert_eq(tempo_clock_ns(&clock, 960), 500 * MS);
  cr_assert_eq(tempo_clock_ns(&clock, 1920), 1000 * MS);
  cr_assert_eq(tempo_clock_ns(&clock, 2880), 2000 * MS);
  cr_assert_eq(tempo_clock_tick(&clock, 500 * MS), 960);
  cr_assert_eq(tempo_clock_tick(&clock, 1000 * MS - 1), 1919);
  cr_assert_eq(tempo_clock_tick(&clock, 1000 * MS), 1920);
  cr_assert_eq(tempo_clock_tick(&clock, 1500 * MS), 2400);
}

Test(tempo_clock, changes_again)
{
  TempoClock clock = tempo_clock_at(0, 120.0);
  tempo_clock_change(&clock, 1920, 60.0);
  tempo_clock_change(&clock, 3840, 120.0);
  cr_assert_eq(tempo_clock_ns(&clock, 2880), 2000 * MS);
  cr_assert_eq(tempo_clock_ns(&clock, 3840), 3000 * MS);
  cr_assert_eq(tempo_clock_ns(&clock, 4800), 3500 * MS);
}

Test(tempo_clock, is_later_on_both_sides_of_a_change)
{
  TempoClock clock = tempo_clock_at(0, 120.0);
  tempo_clock_change(&clock, 960, 60.0);
  tempo_clock_delay(&clock, 250 * MS);
  cr_assert_eq(tempo_clock_ns(&clock, 0), 250 * MS);
  cr_assert_eq(tempo_clock_ns(&clock, 960), 750 * MS);
  cr_assert_eq(tempo_clock_ns(&clock, 1920), 1750 * MS);
}
