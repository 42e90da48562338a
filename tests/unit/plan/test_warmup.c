#include "profiles/plan/warmup.h"

#include "profiles/files/ladder_file.h"
#include "support/ladders.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <string.h>

static Chart  chart;
static Ladder ladder;
static Drill  drill;

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
  Faults faults = {.n_faults = 0};
  cr_assert_eq(
    ladder_file_load(&ladder, BARTER_SOURCE_DIR "/config/ladder.cfg", &faults),
    STATUS_OK);
}

static DrillRoom
room_at(const unsigned rhythm, const unsigned notes)
{
  return (DrillRoom){.chart  = &chart,
                     .ladder = &ladder,
                     .lowest = 60,
                     .split  = 60,
                     .rhythm = rhythm,
                     .notes  = notes};
}

static WarmupRequest
request_of(const double minutes, const unsigned rhythm)
{
  return (WarmupRequest){
    .room      = room_at(rhythm, 4),
    .tempo_bpm = 92.0,
    .minutes   = minutes,
    .count_in  = 1,
    .trades    = true,
    .form_bars = 12,
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
/// echoed. What is missing at the end is less than half of any round that there
/// may be more of.
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
        cr_assert_float_eq(item->seconds, (2 + 12 * item->rounds) * bar, 1e-6);
      } else {
        cr_assert_float_eq(item->seconds, 2 * bar + item->rounds * round, 1e-6);
        shortest = item->rounds < 12 && round < shortest ? round : shortest;
      }
    }
    cr_assert_leq(60.0 * minutes - warmup.seconds, shortest / 2 + 1e-6);
  }
}

/// Without trading the drills share a time that none of them fills, each to
/// within two rounds. The shares are common practice, no source.
Test(warmup, drills_have_their_shares, .init = load)
{
  static const double shares[] = {0.18, 0.08, 0.1, 0.16, 0.16, 0.2, 0.12};
  WarmupRequest       request  = request_of(5.0, 3);
  request.trades               = false;
  const Warmup warmup          = warmup_make(&request);
  cr_assert_eq(warmup.n_items, 7);
  for (unsigned i = 0; i < warmup.n_items; ++i) {
    const double round = 2 * warmup.items[i].bars * 4 * 60.0 / 92.0;
    cr_assert_float_eq(warmup.items[i].seconds,
                       shares[i] * warmup.seconds,
                       2.0 * round,
                       "%u",
                       i);
  }
}

static double
traded(const Warmup* const warmup)
{
  double sum = 0.0;
  for (unsigned i = 0; i < warmup->n_items; ++i) {
    sum += warmup->items[i].trades ? warmup->items[i].seconds : 0.0;
  }
  return sum;
}

/// Nothing goes on for more than twelve rounds, from twenty minutes on a third
/// is trading, some of it in other ways than usual, and all of an hour is
/// filled, whatever form and tempo (common practice, no source).
Test(warmup, tires_nobody_and_trades_a_third_of_a_long_one, .init = load)
{
  static const double tempos[] = {50.0, 92.0, 140.0, 220.0};
  for (unsigned i = 0; i < 4 * 8 * 58; ++i) {
    WarmupRequest request = request_of(3.0 + i / 32, 1 + i % 7);
    request.tempo_bpm     = tempos[i % 4];
    request.form_bars     = 8U << i / 4 % 3;
    request.seed          = 20000 + i;
    request.trades        = request.form_bars * 240.0 / request.tempo_bpm <
                     0.5 * 60.0 * request.minutes;
    const Warmup warmup  = warmup_make(&request);
    const bool   is_long = request.minutes >= 20.0;
    unsigned     n_ways  = 0;
    cr_assert_leq(warmup.n_items, WARMUP_CAPACITY);
    for (unsigned k = 0; k < warmup.n_items; ++k) {
      cr_assert_leq(warmup.items[k].rounds, 12);
      n_ways += warmup.items[k].trades && warmup.items[k].way != WAY_ANSWER;
    }
    if (is_long) {
      cr_assert_geq(traded(&warmup), 20.0 * request.minutes);
      cr_assert_geq(n_ways, 1);
    }
    cr_assert_geq(warmup.seconds,
                  60.0 * request.minutes * (request.trades ? 0.9 : 0.3),
                  "%g minutes at %g over %u bars: %g s",
                  request.minutes,
                  request.tempo_bpm,
                  request.form_bars,
                  warmup.seconds);
  }
}

/// One who hands over, or counts notes from one to three, has three choruses
Test(warmup, gives_a_way_the_choruses_that_it_needs, .init = load)
{
  for (uint64_t seed = 0; seed < 50; ++seed) {
    WarmupRequest request = request_of(20.0, 3);
    request.seed          = seed;
    const Warmup warmup   = warmup_make(&request);
    for (unsigned i = 0; i < warmup.n_items; ++i) {
      const WarmupItem* const item = &warmup.items[i];
      if (item->trades) {
        cr_assert_geq(item->rounds, way_choruses(item->way));
      }
    }
  }
}

/// The highest rung of rhythm has none above it to work on.
Test(warmup, works_on_no_rhythm_beyond_the_ladder, .init = load)
{
  const WarmupRequest request = request_of(10.0, N_RHYTHM_RUNGS);
  cr_assert_eq(warmup_make(&request).items[5].rhythm, N_RHYTHM_RUNGS);
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
  cr_assert_eq(warmup.n_items, 8);
  cr_assert_eq(warmup.items[0].kind, DRILL_SCALE_RIGHT);
  cr_assert_eq(warmup.items[2].kind, DRILL_LEFT_CHORDS);
  cr_assert_eq(warmup.items[4].kind, DRILL_RHYTHM);
  cr_assert_eq(warmup.items[4].rhythm, 3);
  cr_assert_eq(warmup.items[5].kind, warmup_drill_for(DIMENSION_RHYTHM));
  cr_assert_eq(warmup.items[5].rhythm, 4);
  cr_assert(warmup.items[6].trades);
  cr_assert_eq(warmup.items[7].kind, warmup_drill_for(DIMENSION_NOTES));
}

/// Every drill lies within its bars, in its hand's range, on chord tones and
/// scale tones, and the same seed makes the same one.
Test(warmup, drills_are_what_they_say, .init = load)
{
  for (unsigned kind = 0; kind < N_DRILLS; ++kind) {
    for (unsigned rhythm = 1; rhythm <= N_RHYTHM_RUNGS; ++rhythm) {
      const DrillRoom room = room_at(rhythm, 4);
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
          cr_assert(
            kind == DRILL_SCALE_LEFT    ? note.pitch >= 36 && note.pitch < 60
            : kind == DRILL_LEFT_CHORDS ? note.pitch >= 44 && note.pitch <= 66
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
    const DrillRoom room = room_at(rhythm, 4);
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
  const DrillRoom       room    = room_at(3, 4);
  for (unsigned round = 0; round < 6; ++round) {
    Rng rng = rng_seed(1, 1);
    drill_make(&drill, DRILL_LANDING, &room, round, &rng);
    cr_assert_eq(spelling_pitch_class(drill.chord.root), roots[round % 3]);
    cr_assert(
      chord_has_core_tone(&drill.chord, drill.notes[drill.n_notes - 1].pitch));
  }
}

// What the teacher's ladder says, whatever it says

static bool
divides(const Tick tick, const Tick part)
{
  return tick % TICKS_PER_QUARTER != 0 && tick % part == 0;
}

/// Hold the onsets of a drill against a rung: how beats are divided, and how
/// many begin in a bar of four.
static void
hold_rhythm(const RhythmRung* const rung, const unsigned seed)
{
  enum { EIGHTH = TICKS_PER_QUARTER / 2, TRIPLET = TICKS_PER_QUARTER / 3 };
  unsigned in_bar[2] = {0, 0};
  for (unsigned i = 0; i < drill.n_notes; ++i) {
    const Tick tick = drill.notes[i].tick;
    ++in_bar[tick / 3840];
    cr_assert(tick % TICKS_PER_QUARTER == 0 ||
                (divides(tick, EIGHTH) && rung->eighths) ||
                (divides(tick, TRIPLET) && rung->triplets),
              "ladder %u: %d",
              seed,
              (int)tick);
    cr_assert(tick % TICKS_PER_QUARTER != EIGHTH || rung->off_beats ||
                (i > 0 && drill.notes[i - 1].tick == tick - EIGHTH),
              "ladder %u: %d off the beat",
              seed,
              (int)tick);
  }
  cr_assert_leq(in_bar[0], (double)rung->onsets_per_bar, "ladder %u", seed);
  cr_assert_leq(in_bar[1], (double)rung->onsets_per_bar, "ladder %u", seed);
}

static unsigned
count_pitch_classes(void)
{
  unsigned set = 0;
  unsigned n   = 0;
  for (unsigned i = 0; i < drill.n_notes; ++i) {
    const unsigned bit = 1U << drill.notes[i].pitch % 12;
    n += !(set & bit);
    set |= bit;
  }
  return n;
}

Test(warmup, drills_hold_to_any_ladder, .init = load)
{
  static const DrillKind phrases[] = {
    DRILL_RHYTHM, DRILL_QUESTION, DRILL_LANDING};
  bool had_limit = false;
  for (unsigned seed = 0; seed < 200; ++seed) {
    Rng rng = rng_seed(seed, 7);
    ladder  = ladders_draw(&rng);
    for (unsigned rhythm = 1; rhythm <= N_RHYTHM_RUNGS; ++rhythm) {
      const RhythmRung* const rung  = &ladder.rhythm[rhythm - 1];
      const unsigned          notes = 1 + rhythm % N_NOTES_RUNGS;
      const DrillRoom         room  = room_at(rhythm, notes);
      for (unsigned k = 0; k < 3; ++k) {
        drill_make(&drill, phrases[k], &room, seed, &rng);
        hold_rhythm(rung, seed);
        cr_assert(phrases[k] != DRILL_QUESTION ||
                  count_pitch_classes() <= ladder.notes[notes - 1].chord_tones);
      }
      drill_make(&drill, DRILL_SCALE_RIGHT, &room, seed, &rng);
      cr_assert(rung->eighths || drill.notes[1].tick == TICKS_PER_QUARTER);
      had_limit = had_limit || rung->onsets_per_bar < 3.0F;
    }
  }
  cr_assert(had_limit); // Some ladders were narrow
}
