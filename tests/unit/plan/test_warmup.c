#include "profiles/plan/warmup.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <string.h>

static Chart chart;
static Drill drill;

static void
load(void)
{
  char              fault[CHART_FAULT_CAPACITY];
  const char* const bars[] = {"C7", "F7", "C7", "G7"};
  Key               key;
  cr_assert_eq(key_parse(&key, "C major"), STATUS_OK);
  chart_begin(&chart, "T", (Meter){4, 4}, key);
  for (unsigned i = 0; i < 4; ++i) {
    cr_assert_eq(chart_add_bar(&chart, bars[i], fault), STATUS_OK);
  }
  cr_assert_eq(chart_set_scale(&chart, CHART_BAR_CAPACITY, "minor blues"), 0);
}

static WarmupRequest
request_of(const double minutes, const unsigned rhythm)
{
  return (WarmupRequest){
    .room      = {.chart = &chart, .lowest = 60, .split = 60, .rhythm = rhythm},
    .tempo_bpm = 92.0,
    .minutes   = minutes,
    .count_in  = 1,
    .choruses  = 1,
    .form_bars = 14,
    .weakest   = DIMENSION_RHYTHM,
    .strongest = DIMENSION_NOTES,
    .seed      = 20000,
  };
}

/// About as long as it is to be: within half of the longest round.
Test(warmup, is_as_long_as_asked_for, .init = load)
{
  for (double minutes = 6.0; minutes <= 30.0; minutes += 0.5) {
    for (unsigned rhythm = 1; rhythm <= N_RHYTHM_RUNGS; ++rhythm) {
      const WarmupRequest request = request_of(minutes, rhythm);
      const Warmup        warmup  = warmup_make(&request);
      double              sum     = 0.0;
      for (unsigned i = 0; i < warmup.n_items; ++i) {
        sum += warmup.items[i].seconds;
        cr_assert_geq(warmup.items[i].rounds, 1);
      }
      cr_assert_float_eq(sum, warmup.seconds, 1e-6);
      cr_assert_float_eq(
        sum, 60.0 * minutes, 15.0, "%f minutes: %f s", minutes, sum);
    }
  }
}

/// An item is its count-in, a bar to breathe, and its rounds, each played and
/// echoed. What is missing at the end is less than half of any round.
Test(warmup, counts_everything_that_takes_time, .init = load)
{
  const double bar = 4 * 60.0 / 92.0;
  for (double minutes = 6.0; minutes <= 30.0; minutes += 0.3) {
    const WarmupRequest request  = request_of(minutes, 3);
    const Warmup        warmup   = warmup_make(&request);
    double              shortest = 1e9;
    for (unsigned i = 0; i < warmup.n_items; ++i) {
      const WarmupItem* const item  = &warmup.items[i];
      const double            round = 2 * item->bars * bar;
      if (item->trades) {
        cr_assert_eq(item->rounds, request.choruses);
        cr_assert_float_eq(item->seconds, 14 * bar, 1e-6);
      } else {
        cr_assert_float_eq(item->seconds, 2 * bar + item->rounds * round, 1e-6);
        shortest = round < shortest ? round : shortest;
      }
    }
    cr_assert_leq(60.0 * minutes - warmup.seconds, shortest / 2 + 1e-6);
  }
}

/// Without trading the drills share an hour, each to within a round. The shares
/// are common practice, no source.
Test(warmup, drills_have_their_shares, .init = load)
{
  static const double shares[] = {0.18, 0.14, 0.2, 0.16, 0.2, 0.12};
  WarmupRequest       request  = request_of(60.0, 3);
  request.choruses             = 0;
  const Warmup warmup          = warmup_make(&request);
  cr_assert_eq(warmup.n_items, 6);
  for (unsigned i = 0; i < warmup.n_items; ++i) {
    cr_assert_float_eq(
      warmup.items[i].seconds / warmup.seconds, shares[i], 0.01, "%u", i);
  }
}

/// The highest rung of rhythm has none above it to work on.
Test(warmup, works_on_no_rhythm_beyond_the_ladder, .init = load)
{
  const WarmupRequest request = request_of(10.0, N_RHYTHM_RUNGS);
  cr_assert_eq(warmup_make(&request).items[4].rhythm, N_RHYTHM_RUNGS);
}

Test(warmup, each_dimension_has_its_drill)
{
  cr_assert_eq(warmup_drill_for(DIMENSION_NOTES), DRILL_LANDING);
  cr_assert_eq(warmup_drill_for(DIMENSION_RHYTHM), DRILL_RHYTHM);
  cr_assert_eq(warmup_drill_for(DIMENSION_SHAPE), DRILL_QUESTION);
  cr_assert_eq(warmup_drill_for(DIMENSION_ORNAMENT), DRILL_CRUSHED);
}

/// From the hands, to the weakest, to trading, to what goes well.
Test(warmup, goes_from_easy_to_where_they_stand, .init = load)
{
  const WarmupRequest request = request_of(10.0, 3);
  const Warmup        warmup  = warmup_make(&request);
  cr_assert_eq(warmup.n_items, 7);
  cr_assert_eq(warmup.items[0].kind, DRILL_SCALE_RIGHT);
  cr_assert_eq(warmup.items[3].kind, DRILL_RHYTHM);
  cr_assert_eq(warmup.items[3].rhythm, 3);
  cr_assert_eq(warmup.items[4].kind, warmup_drill_for(DIMENSION_RHYTHM));
  cr_assert_eq(warmup.items[4].rhythm, 4);
  cr_assert(warmup.items[5].trades);
  cr_assert_eq(warmup.items[6].kind, warmup_drill_for(DIMENSION_NOTES));
}

/// Every drill lies within its bars, in its hand's range, on chord tones and
/// scale tones, and the same seed makes the same one.
Test(warmup, drills_are_what_they_say, .init = load)
{
  for (unsigned kind = 0; kind <= DRILL_CRUSHED; ++kind) {
    for (unsigned rhythm = 1; rhythm <= N_RHYTHM_RUNGS; ++rhythm) {
      const DrillRoom room = {&chart, 60, 60, rhythm};
      const Tick      end  = drill_bars(kind, &room) * 3840;
      for (unsigned round = 0; round < 8; ++round) {
        Rng rng = rng_seed(round, 1);
        drill_make(&drill, kind, &room, round, &rng);
        cr_assert_gt(drill.n_notes, 0);
        Tick last = 0;
        for (unsigned i = 0; i < drill.n_notes; ++i) {
          const DrillNote note = drill.notes[i];
          cr_assert_geq(note.tick, last);
          cr_assert_gt(note.length, 0);
          cr_assert_leq(note.tick + note.length, end, "%u in %u", kind, rhythm);
          cr_assert(kind == DRILL_SCALE_LEFT
                      ? note.pitch >= 36 && note.pitch < 60
                      : note.pitch >= 59 && note.pitch <= 84);
          last = note.tick;
        }
      }
    }
  }
}

Test(warmup, a_rhythm_is_within_its_rung, .init = load)
{
  for (unsigned rhythm = 1; rhythm <= 4; ++rhythm) {
    const DrillRoom room = {&chart, 60, 60, rhythm};
    for (unsigned round = 0; round < 50; ++round) {
      Rng rng = rng_seed(round, 2);
      drill_make(&drill, DRILL_RHYTHM, &room, round, &rng);
      for (unsigned i = 0; i < drill.n_notes; ++i) {
        const Tick tick = drill.notes[i].tick;
        cr_assert_eq(tick % (rhythm == 1 ? 960 : 480), 0);
        cr_assert(rhythm >= 4 || tick % 960 == 0 ||
                  drill.notes[i - 1].tick == tick - 480);
        cr_assert_eq(drill.notes[i].pitch, 60);
      }
    }
  }
}

Test(warmup, landings_are_on_each_chord_of_the_form, .init = load)
{
  static const unsigned roots[] = {0, 5, 7};
  const DrillRoom       room    = {&chart, 60, 60, 3};
  for (unsigned round = 0; round < 6; ++round) {
    Rng rng = rng_seed(1, 1);
    drill_make(&drill, DRILL_LANDING, &room, round, &rng);
    cr_assert_eq(spelling_pitch_class(drill.chord.root), roots[round % 3]);
    cr_assert(
      chord_has_core_tone(&drill.chord, drill.notes[drill.n_notes - 1].pitch));
  }
}
