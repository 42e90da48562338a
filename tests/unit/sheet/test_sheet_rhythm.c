#include "profiles/sheet/rhythm.h"

#include "profiles/files/ladder_file.h"
#include "support/ladders.h"

#include <criterion/criterion.h>

#include <math.h>

static const Meter meters[] = {{2, 4}, {3, 4}, {4, 4}, {5, 4}, {6, 8}, {12, 8}};

enum { N_METERS = sizeof(meters) / sizeof(*meters) };

static void
load(Ladder* const ladder)
{
  Faults faults = {.n_faults = 0};
  cr_assert_eq(
    ladder_file_load(ladder, BARTER_SOURCE_DIR "/config/ladder.cfg", &faults),
    STATUS_OK);
}

/// A note or rest that is held over from before begins nothing.
static unsigned
onsets_of(const SheetRhythm* const rhythm)
{
  unsigned n    = 0;
  bool     held = false;
  for (unsigned i = 0; i < rhythm->n_marks; ++i) {
    n += !rhythm->marks[i].is_rest && !held;
    held = rhythm->marks[i].ties_on;
  }
  return n;
}

static bool
has_length(const SheetRhythm* const rhythm, const Tick length)
{
  for (unsigned i = 0; i < rhythm->n_marks; ++i) {
    if (rhythm->marks[i].length == length && !rhythm->marks[i].is_rest) {
      return true;
    }
  }
  return false;
}

// Arithmetic: two bars are filled, nothing crosses the line between them but by
// a tie, and a tie leads to a note
Test(sheet_rhythm, fills_two_bars)
{
  static Ladder ladder;
  load(&ladder);
  for (unsigned m = 0; m < N_METERS; ++m) {
    const Tick bar = meter_bar_ticks(meters[m]);
    for (unsigned rung = 0; rung < N_RHYTHM_RUNGS; ++rung) {
      const SheetRhythm rhythm = sheet_rhythm(meters[m], &ladder.rhythm[rung]);
      Tick              tick   = 0;
      for (unsigned i = 0; i < rhythm.n_marks; ++i) {
        const SheetMark* const mark = &rhythm.marks[i];
        cr_assert_eq(mark->tick, tick, "meter %u rung %u", m, rung);
        cr_assert(tick / bar == (tick + mark->length - 1) / bar,
                  "meter %u rung %u crosses",
                  m,
                  rung);
        cr_assert(!mark->ties_on ||
                    (i + 1 < rhythm.n_marks && !rhythm.marks[i + 1].is_rest),
                  "meter %u rung %u ties",
                  m,
                  rung);
        tick += mark->length;
      }
      cr_assert_eq(tick, 2 * bar, "meter %u rung %u", m, rung);
    }
  }
}

static void
hold(const RhythmRung* const rung, const Meter meter, const unsigned seed)
{
  const SheetRhythm rhythm = sheet_rhythm(meter, rung);
  const double quarters    = (double)meter_bar_ticks(meter) / TICKS_PER_QUARTER;
  const double most        = ceil(rung->onsets_per_bar * quarters / 4.0 * 2.0);
  cr_assert_leq(onsets_of(&rhythm), most, "ladder %u", seed);
  cr_assert_geq(onsets_of(&rhythm), 2);
  cr_assert(rung->eighths || !has_length(&rhythm, TICKS_PER_QUARTER / 2));
  cr_assert(rung->triplets || !has_length(&rhythm, TICKS_PER_QUARTER / 3));
  cr_assert(rung->sixteenths || !has_length(&rhythm, TICKS_PER_QUARTER / 4));
  for (unsigned i = 0; i < rhythm.n_marks; ++i) {
    cr_assert(rung->off_beats || !rhythm.marks[i].ties_on, "ladder %u", seed);
  }
}

// What the ladder says a rung holds: no more onsets, and nothing finer
Test(sheet_rhythm, keeps_to_its_rung)
{
  static Ladder ladder;
  load(&ladder);
  for (unsigned seed = 0; seed <= 200; ++seed) {
    for (unsigned m = 0; m < N_METERS; ++m) {
      for (unsigned i = 0; i < N_RHYTHM_RUNGS; ++i) {
        hold(&ladder.rhythm[i], meters[m], seed);
      }
    }
    Rng rng = rng_seed(seed, 3); // Ours first, then any
    ladder  = ladders_draw(&rng);
  }
}

// ... and shows the newest of it
Test(sheet_rhythm, shows_what_is_new)
{
  static Ladder ladder;
  load(&ladder);
  for (unsigned m = 0; m < N_METERS; ++m) {
    const bool is_compound = meter_is_compound(meters[m]);
    for (unsigned i = 0; i < N_RHYTHM_RUNGS; ++i) {
      const RhythmRung* const rung   = &ladder.rhythm[i];
      const SheetRhythm       rhythm = sheet_rhythm(meters[m], rung);
      bool                    ties   = false;
      for (unsigned k = 0; k < rhythm.n_marks; ++k) {
        ties |= rhythm.marks[k].ties_on;
      }
      if (rung->cross_rhythm) {
        cr_assert(ties);
      } else if (rung->sixteenths) {
        cr_assert(has_length(&rhythm, TICKS_PER_QUARTER / 4));
      } else if (rung->triplets && !is_compound) {
        cr_assert(has_length(&rhythm, TICKS_PER_QUARTER / 3));
      } else if (rung->off_beats && !rung->triplets) {
        cr_assert(ties);
      } else if (rung->eighths) {
        cr_assert(has_length(&rhythm, TICKS_PER_QUARTER / 2));
      }
    }
  }
}

// Drawn by a seed

static void
fill_two_bars(const SheetRhythm* const rhythm, const Meter meter)
{
  const Tick bar  = meter_bar_ticks(meter);
  Tick       tick = 0;
  for (unsigned i = 0; i < rhythm->n_marks; ++i) {
    const SheetMark* const mark = &rhythm->marks[i];
    cr_assert_eq(mark->tick, tick);
    cr_assert_eq(tick / bar, (tick + mark->length - 1) / bar);
    cr_assert(!mark->ties_on ||
              (i + 1 < rhythm->n_marks && !rhythm->marks[i + 1].is_rest &&
               !mark->is_rest));
    tick += mark->length;
  }
  cr_assert_eq(tick, 2 * bar);
}

static bool
are_alike(const SheetRhythm* const a, const SheetRhythm* const b)
{
  bool alike = a->n_marks == b->n_marks;
  for (unsigned i = 0; alike && i < a->n_marks; ++i) {
    alike = a->marks[i].tick == b->marks[i].tick &&
            a->marks[i].is_rest == b->marks[i].is_rest &&
            a->marks[i].ties_on == b->marks[i].ties_on;
  }
  return alike;
}

enum { DRAWN = 12, SHEET_MOST = 24 };

Test(sheet_rhythm, drawn_ones_keep_to_the_rung)
{
  static Ladder ladder;
  load(&ladder);
  for (unsigned seed = 0; seed < 60; ++seed) {
    for (unsigned m = 0; m < N_METERS; ++m) {
      for (unsigned i = 0; i < N_RHYTHM_RUNGS; ++i) {
        const RhythmRung* const rung = &ladder.rhythm[i];
        const double            quarters =
          (double)meter_bar_ticks(meters[m]) / TICKS_PER_QUARTER;
        const double   most = ceil(rung->onsets_per_bar * quarters / 4.0 * 2.0);
        SheetRhythm    rhythms[DRAWN];
        const unsigned n = sheet_rhythms(meters[m], rung, seed, DRAWN, rhythms);
        cr_assert(n >= 1 && n <= DRAWN);
        for (unsigned k = 0; k < n; ++k) {
          const SheetRhythm* const one = &rhythms[k];
          fill_two_bars(one, meters[m]);
          cr_assert_leq(onsets_of(one), most);
          cr_assert(rung->eighths || !has_length(one, TICKS_PER_QUARTER / 2));
          cr_assert(rung->triplets || !has_length(one, TICKS_PER_QUARTER / 3));
          cr_assert(rung->sixteenths ||
                    !has_length(one, TICKS_PER_QUARTER / 4));
        }
      }
    }
    Rng rng = rng_seed(seed, 4); // Ours first, then any
    ladder  = ladders_draw(&rng);
  }
}

// A page of them is worth reading: all differ on every rung, few end alike, and
// two seeds give two pages
Test(sheet_rhythm, drawn_ones_differ)
{
  static Ladder ladder;
  load(&ladder);
  const Meter meter = {4, 4};
  for (unsigned i = 0; i < N_RHYTHM_RUNGS; ++i) {
    SheetRhythm rhythms[SHEET_MOST];
    SheetRhythm again[SHEET_MOST];
    SheetRhythm others[SHEET_MOST];
    unsigned    n_alike = 0;
    unsigned    n_rests = 0;
    cr_assert_eq(
      sheet_rhythms(meter, &ladder.rhythm[i], 5, SHEET_MOST, rhythms),
      SHEET_MOST);
    (void)sheet_rhythms(meter, &ladder.rhythm[i], 5, SHEET_MOST, again);
    (void)sheet_rhythms(meter, &ladder.rhythm[i], 6, SHEET_MOST, others);
    for (unsigned k = 0; k < SHEET_MOST; ++k) {
      cr_assert(are_alike(&rhythms[k], &again[k]));
      n_alike += are_alike(&rhythms[k], &others[k]);
      n_rests += rhythms[k].marks[rhythms[k].n_marks - 1].is_rest;
      for (unsigned l = 0; l < k; ++l) {
        cr_assert_not(are_alike(&rhythms[k], &rhythms[l]), "rung %u", i + 1);
      }
    }
    cr_assert_lt(n_alike, SHEET_MOST / 3);
    cr_assert(n_rests > SHEET_MOST / 5 && n_rests < SHEET_MOST * 4 / 5,
              "rung %u: %u",
              i + 1,
              n_rests);
  }
}
