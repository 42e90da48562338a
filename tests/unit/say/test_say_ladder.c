// The ladder: every rung allows what it says and no more, and is harder than
// the one below it.

#include "fixture.h"

#include <criterion/criterion.h>

#include <stdlib.h>

enum {
  SEEDS     = 10,
  BRIEFLY   = 8,  // Slices of thinking
  AT_LENGTH = 60, // ... long enough for other intents
  PER_RUNG  = N_FIXTURE_CHARTS * N_FIXTURE_CALLS * SEEDS,
};

// Answers of one rung differ by 5 and more; so do means of PER_RUNG by .5
static const double CHANCE  = 0.5;
static const double PLAINLY = 1.0;

static Fixture fixture;

static void
answer_at(const Rung     rung,
          const unsigned chart,
          const unsigned style,
          const unsigned seed,
          const unsigned slices)
{
  fixture_open(&fixture, chart, style, seed % 2 ? 4 : 2, rung, seed);
  fixture.request.turn_in_chorus = seed % 4;
  fixture_answer(&fixture, slices, rng_seed(seed * 131 + style * 7 + chart, 5));
}

/// Return the mean complexity, as the listener has it, of many answers.
static double
mean_complexity(const Rung rung)
{
  double sum = 0.0;
  for (unsigned chart = 0; chart < N_FIXTURE_CHARTS; ++chart) {
    for (unsigned style = 0; style < N_FIXTURE_CALLS; ++style) {
      for (unsigned seed = 0; seed < SEEDS; ++seed) {
        answer_at(rung, chart, style, seed, AT_LENGTH);
        sum += (double)fixture.answer.heard.measures.complexity;
      }
    }
  }
  return sum / PER_RUNG;
}

/// Return a rung of one dimension, beside others that stay. With one or two
/// notes the rhythm has a rung more than is asked: one less is asked there.
static Rung
rung_of(const Dimension dimension, const unsigned level)
{
  Rung rung             = {{4, 4, 4, 2}};
  rung.level[dimension] = (uint8_t)level;
  if (dimension == DIMENSION_NOTES && level <= 2) {
    --rung.level[DIMENSION_RHYTHM];
  }
  return rung;
}

/// Each rung is harder than the one below, but for what chance does to a mean,
/// and all of them together are plainly harder than the first.
static void
check_rising(const Dimension dimension, const unsigned top)
{
  double first  = 0.0;
  double before = 0.0;
  for (unsigned level = 1; level <= top; ++level) {
    const double mean = mean_complexity(rung_of(dimension, level));
    cr_assert_gt(mean,
                 before - CHANCE,
                 "%s %u: %.2f after %.2f",
                 dimension_name(dimension),
                 level,
                 mean,
                 before);
    before = mean;
    first  = level == 1 ? mean : first;
  }
  cr_assert_gt(before, first + PLAINLY, "%.2f after %.2f", before, first);
}

Test(say_ladder, more_notes_are_harder)
{
  check_rising(DIMENSION_NOTES, N_NOTES_RUNGS);
}

Test(say_ladder, more_rhythm_is_harder)
{
  check_rising(DIMENSION_RHYTHM, N_RHYTHM_RUNGS - 1);
}

static bool
begins_at(const Answer* const answer, const Tick tick)
{
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    if (answer->grid_ticks[i] == tick) {
      return true;
    }
  }
  return false;
}

/// Whether three notes, or pairs of halves, follow a beat and a half apart; a
/// line of halves is no such thing.
static bool
goes_across(const Answer* const answer)
{
  enum { EIGHTH = TICKS_PER_EIGHTH };
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    const Tick from = answer->grid_ticks[i];
    if (begins_at(answer, from + 3 * EIGHTH) &&
        begins_at(answer, from + 6 * EIGHTH) &&
        !begins_at(answer, from + 2 * EIGHTH) &&
        !begins_at(answer, from + 5 * EIGHTH) &&
        begins_at(answer, from + EIGHTH) ==
          begins_at(answer, from + 4 * EIGHTH)) {
      return true;
    }
  }
  return false;
}

static unsigned
count_across(const unsigned level)
{
  unsigned n = 0;
  for (unsigned seed = 0; seed < 240; ++seed) {
    const Rung rung = {{4, (uint8_t)level, 4, 2}};
    answer_at(rung, seed % 3, seed % N_FIXTURE_CALLS, seed, BRIEFLY);
    n += goes_across(&fixture.answer);
  }
  return n;
}

/// The last rung of rhythm brings three against two, which the measure of
/// complexity does not know.
Test(say_ladder, the_last_rung_of_rhythm_goes_across_the_beat)
{
  const unsigned without = count_across(N_RHYTHM_RUNGS - 1);
  const unsigned with    = count_across(N_RHYTHM_RUNGS);
  cr_assert_gt(with, 2 * without, "%u after %u", with, without);
}

Test(say_ladder, more_shape_is_harder)
{
  check_rising(DIMENSION_SHAPE, N_SHAPE_RUNGS);
}

Test(say_ladder, more_ornament_is_harder)
{
  check_rising(DIMENSION_ORNAMENT, N_ORNAMENT_RUNGS);
}

/// Whether the player used a pitch class: what they did may come back.
static bool
was_called(const unsigned pitch)
{
  for (unsigned i = 0; i < fixture.call.n_notes; ++i) {
    if (fixture.call.notes[i].note.pitch % 12 == pitch % 12) {
      return true;
    }
  }
  return false;
}

static void
check_notes(const NotesRung* const allows)
{
  cr_assert_leq(fixture.answer.heard.measures.range, allows->range);
  for (unsigned i = 0; i < fixture.answer.heard.n_notes; ++i) {
    const HeardNote* const note = &fixture.answer.heard.notes[i];
    if (note->is_ornament || was_called(note->note.pitch)) {
      continue;
    }
    cr_assert(allows->scale_share > 0.0F || note->role != ROLE_SCALE_TONE);
    cr_assert(allows->outside_share > 0.0F || note->role != ROLE_OUTSIDE);
    cr_assert(allows->chord_tones > 1 || note->role == ROLE_ROOT);
  }
}

/// At the fifth rung scale tones lead by step, seldom by a third.
typedef struct {
  unsigned n;
  unsigned n_step;
  unsigned n_third;
} Leading;

static void
add_leading(Leading* const leading)
{
  const HeardNote* before = NULL;
  for (unsigned i = 0; i < fixture.answer.heard.n_notes; ++i) {
    const HeardNote* const note = &fixture.answer.heard.notes[i];
    if (note->is_ornament) {
      continue;
    }
    if (before && before->role == ROLE_SCALE_TONE && !before->is_anticipation) {
      const int size = abs(note->note.pitch - before->note.pitch);
      ++leading->n;
      leading->n_step += size > 0 && size <= 2;
      leading->n_third += size == 3 || size == 4;
    }
    before = note;
  }
}

Test(say_ladder, notes_are_of_the_rung)
{
  Leading leading = {0, 0, 0};
  for (unsigned level = 1; level <= N_NOTES_RUNGS; ++level) {
    const Rung rung = {{(uint8_t)level, 5, 6, 3}};
    for (unsigned seed = 0; seed < 60; ++seed) {
      answer_at(rung, seed % 3, seed % N_FIXTURE_CALLS, seed, BRIEFLY);
      check_notes(&fixture.ladder.notes[level - 1]);
      if (level == 5) {
        add_leading(&leading);
      }
    }
  }
  cr_assert_gt(leading.n, 50);
  cr_assert_gt(leading.n_step, 0.75 * leading.n);
  cr_assert_gt(leading.n_step + leading.n_third, 0.9 * leading.n);
}

/// Whether a place in the beat is one of those that a rung allows.
static bool
is_allowed(const RhythmRung* const allows, const Tick in_beat)
{
  return in_beat == 0 || (allows->eighths && in_beat == 480) ||
         (allows->triplets && in_beat % 320 == 0) ||
         (allows->sixteenths && in_beat % 240 == 0);
}

/// Before the fourth rung a note off the beat has one on each side, but for
/// what the call did.
static void
check_off_beats(const RhythmRung* const allows, const Answer* const answer)
{
  for (unsigned i = 0; i < answer->n_notes && !allows->off_beats; ++i) {
    const Tick tick = answer->grid_ticks[i];
    const Tick beat = tick - tick % 960;
    cr_assert(tick == beat || fixture_call_leans(&fixture) ||
              (begins_at(answer, beat) && begins_at(answer, beat + 960)));
  }
}

Test(say_ladder, rhythm_is_of_the_rung)
{
  for (unsigned level = 1; level <= N_RHYTHM_RUNGS; ++level) {
    const Rung rung = {{5, (uint8_t)level, 6, 3}};
    for (unsigned seed = 0; seed < 60; ++seed) {
      answer_at(rung, seed % 3, seed % N_FIXTURE_CALLS, seed, BRIEFLY);
      const RhythmRung* const allows = &fixture.ladder.rhythm[level - 1];
      const Answer* const     answer = &fixture.answer;
      cr_assert_leq(answer->heard.measures.onsets_per_bar,
                    allows->onsets_per_bar + 0.01F);
      for (unsigned i = 0; i < answer->n_notes; ++i) {
        cr_assert(is_allowed(allows, answer->grid_ticks[i] % 960));
      }
      check_off_beats(allows, answer);
    }
  }
}

Test(say_ladder, moves_are_of_the_rung)
{
  for (unsigned level = 1; level <= N_SHAPE_RUNGS; ++level) {
    const Rung rung = {{5, 5, (uint8_t)level, 1}};
    for (unsigned seed = 0; seed < 60; ++seed) {
      answer_at(rung, seed % 3, 1 + seed % 4, seed, BRIEFLY);
      const unsigned moves = fixture.ladder.shape[level - 1].moves;
      cr_assert(moves >> (unsigned)fixture.answer.move & 1U);
    }
  }
}

Test(say_ladder, plain_notes_without_the_rung_of_ornaments)
{
  unsigned ornaments = 0;
  for (unsigned seed = 0; seed < 60; ++seed) {
    answer_at((Rung){{5, 5, 5, 1}}, seed % 3, 1 + seed % 4, seed, BRIEFLY);
    cr_assert_eq(fixture.answer.heard.measures.n_ornaments, 0);
    cr_assert_neq(fixture.answer.move, MOVE_ORNAMENT);
    answer_at((Rung){{5, 5, 5, 4}}, seed % 3, 1 + seed % 4, seed, BRIEFLY);
    ornaments += fixture.answer.heard.measures.n_ornaments;
  }
  cr_assert_gt(ornaments, 20);
}

/// The move that is about them has one at least.
Test(say_ladder, the_ornament_move_ornaments)
{
  for (unsigned seed = 0; seed < 60; ++seed) {
    fixture_open(&fixture, seed % 3, seed % 3, 2, (Rung){{4, 4, 4, 2}}, seed);
    Rng rng = rng_seed(seed, 1);
    if (say_by_move(&fixture.answer,
                    &fixture.work,
                    &fixture.request,
                    MOVE_ORNAMENT,
                    &rng)) {
      cr_assert_geq(fixture.answer.heard.measures.n_ornaments, 1);
    }
  }
}
