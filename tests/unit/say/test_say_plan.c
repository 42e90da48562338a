// Where an answer's phrases stand, and how full it is (by taste; no source).

#include "fixture.h"

#include "responder/say/plan.h"
#include "responder/say/prompt.h"

#include <criterion/criterion.h>

enum {
  BEAT  = TICKS_PER_QUARTER,
  BAR   = 4 * BEAT,
  SEEDS = 400,
  BARS  = 4,
};

static const Rung plain = {{4, 4, 4, 1}};
static const Rung top   = {{8, 7, 6, 4}};

static Fixture fixture;
static Frame   frame;
static Prompt  call;

static const Cell cell = {.n_notes = 3, .offsets = {0, BEAT / 2, BEAT}};

static void
open_bars(const unsigned bars,
          const Rung     rung,
          const unsigned seed,
          Rng* const     rng)
{
  static const Source nothing = {.n_notes = 0};
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, bars, rung, 1);
  *rng = rng_seed(seed, 3);
  frame_open(&frame, &fixture.request, rng);
  prompt_open(&call, &frame, &nothing);
  call.per_bar = 3.0;
}

static void
open(const Rung rung, const unsigned seed, Rng* const rng)
{
  open_bars(BARS, rung, seed, rng);
}

/// Return the longest rest between two phrases over many plans.
static Tick
longest_rest(const Rung rung)
{
  Tick most = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng  rng;
    Plan plan;
    open(rung, seed, &rng);
    const Intent intent =
      plan_intent(&frame, &call, MANNER_LINE, MOVE_NEW_NOTES, &rng);
    cr_assert(plan_draw(&plan, &frame, &call, &intent, &cell, &rng));
    for (unsigned i = 1; i < plan.n_spans; ++i) {
      const Tick rest = plan.spans[i].from - plan.spans[i - 1].goal;
      most            = rest > most ? rest : most;
    }
  }
  return most;
}

/// After silence half of the turn is filled, after more of it one bar, and the
/// bar that its last note stands in.
Test(say_plan, silence_leaves_room)
{
  static const struct {
    Treatment treatment;
    Tick      bars;
  } rows[] = {{TREAT_ANSWER, 4}, {TREAT_SIMPLER, 3}, {TREAT_FRAGMENTS, 2}};
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    Rng rng = rng_seed(1, 3);
    fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, BARS, plain, 1);
    fixture.request.treatment = rows[i].treatment;
    frame_open(&frame, &fixture.request, &rng);
    cr_expect_eq(frame.until - frame.start, rows[i].bars * BAR, "row %u", i);
    cr_expect_eq(frame.from, frame.start);
  }
}

/// A bar without a note breaks the thread; yet there are rests.
Test(say_plan, a_rest_does_not_break_the_thread)
{
  cr_assert_leq(longest_rest(plain), 3 * BEAT);
  cr_assert_leq(longest_rest(top), 2 * BEAT + BEAT / 2);
  cr_assert_geq(longest_rest(top), 2 * BEAT);
}

/// No place has more than a third of the ends; some are before the last bar,
/// and some on its second beat.
Test(say_plan, ends_stand_in_many_places)
{
  unsigned counts[2 * BAR / (BEAT / 2)] = {0};
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng rng;
    open(top, seed, &rng);
    const Tick goal =
      plan_intent(&frame, &call, MANNER_LINE, MOVE_NEW_NOTES, &rng).goal;
    const Tick from = frame.end - 2 * BAR;
    cr_assert(goal >= from && goal < frame.end);
    ++counts[(goal - from) / (BEAT / 2)];
  }
  unsigned before = 0;
  for (unsigned i = 0; i < 2 * BAR / (BEAT / 2); ++i) {
    cr_assert_lt(counts[i], SEEDS / 3, "place %u: %u", i, counts[i]);
    before += i < BAR / (BEAT / 2) ? counts[i] : 0;
  }
  cr_assert_gt(before, SEEDS / 12);
  cr_assert_gt(counts[(BAR + BEAT) / (BEAT / 2)], 0);
}

static double
notes_after(const double per_bar)
{
  double sum = 0.0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng rng;
    open(plain, seed, &rng);
    call.per_bar = per_bar;
    sum += plan_intent(&frame, &call, MANNER_LINE, MOVE_NEW_NOTES, &rng).notes;
  }
  return sum / SEEDS;
}

/// Who plays little at a plain rung is answered with little.
Test(say_plan, a_sparse_call_is_answered_sparsely)
{
  cr_assert_lt(notes_after(1.5), notes_after(5.0) - BARS / 2.0);
}

/// A piece has the length asked for where the call has one so short.
Test(say_plan, a_piece_is_as_short_as_asked)
{
  Rng rng;
  open(top, 1, &rng);
  call.n_cells = 2;
  for (unsigned i = 0; i < 2; ++i) {
    call.cells[i] = (Cell){.n_notes = 3, .offsets = {0, BEAT, (2 - i) * BEAT}};
    call.weights[i] = i == 0 ? 9.0F : 0.1F;
  }
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    cr_assert_eq(prompt_choose_cell(&call, BEAT, CELL_NOTES, &rng),
                 &call.cells[1]);
    cr_assert_not_null(prompt_choose_cell(&call, BEAT / 2, CELL_NOTES, &rng));
  }
}

/// In two bars there is no time to wait: few begin after the second beat.
Test(say_plan, a_short_answer_does_not_wait)
{
  unsigned late = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng  rng;
    Plan plan;
    open_bars(2, top, seed, &rng);
    const Intent intent =
      plan_intent(&frame, &call, MANNER_LINE, MOVE_NEW_NOTES, &rng);
    cr_assert(plan_draw(&plan, &frame, &call, &intent, &cell, &rng));
    late += plan.spans[0].from > frame.start + BEAT + BEAT / 2;
  }
  cr_assert_gt(late, 0);
  cr_assert_lt(late, SEEDS / 6, "%u", late);
}

/// Of two bars none stays empty: half an answer is none.
Test(say_plan, a_short_answer_reaches_its_last_bar)
{
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng rng;
    open_bars(2, seed % 2 == 1 ? top : plain, seed, &rng);
    const Tick goal =
      plan_intent(&frame, &call, MANNER_LINE, MOVE_NEW_NOTES, &rng).goal;
    cr_assert_geq(goal, frame.end - BAR - BEAT / 2);
  }
}

/// Groups across the one bar line of two bars have the whole of them to
/// themselves, and go on after it; a cell that is to come twice leaves none.
Test(say_plan, groups_across_the_bar_have_room)
{
  unsigned n = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng        rng;
    const Move move = seed % 2 == 1 ? MOVE_FRAGMENT : MOVE_NEW_NOTES;
    open_bars(2, top, seed, &rng);
    const Intent intent = plan_intent(&frame, &call, MANNER_LINE, move, &rng);
    const Tick   after  = intent.goal - frame.start - BAR;
    const bool   across = intent.texture == TEXTURE_ACROSS;
    cr_assert(!across || (intent.form == FORM_LINE &&
                          after >= BEAT + BEAT / 2 && move == MOVE_NEW_NOTES));
    n += across;
  }
  cr_assert_gt(n, SEEDS / 5, "%u", n);
}

/// Most notes of the call are sixteenths: so are the answer's, oftener.
Test(say_plan, sixteenths_answer_sixteenths)
{
  unsigned fine[2] = {0, 0};
  for (unsigned seed = 0; seed < 2 * SEEDS; ++seed) {
    Rng rng;
    open(top, seed, &rng);
    call.is_fine = seed % 2 == 1;
    fine[seed % 2] +=
      plan_intent(&frame, &call, MANNER_LINE, MOVE_NEW_NOTES, &rng).texture ==
      TEXTURE_SIXTEENTHS;
  }
  cr_assert_gt(fine[1], fine[0] * 3 / 2, "%u, %u", fine[0], fine[1]);
}

/// Return how many answers to a closed call close.
static unsigned
closes_after_close(const Rung rung)
{
  unsigned n = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng rng;
    open(rung, seed, &rng);
    call.is_open = false;
    n += plan_intent(&frame, &call, MANNER_LINE, MOVE_NEW_NOTES, &rng).closes;
  }
  return n;
}

/// A beginner's partner comes home oftener than not.
Test(say_plan, plain_answers_close)
{
  cr_assert_gt(closes_after_close(plain), SEEDS * 55 / 100);
  cr_assert_lt(closes_after_close(top), SEEDS / 2);
}

/// Return whether the third and the seventh of C7 bear weight in an answer of
/// two tones to a call of two pitches.
static unsigned
guides_after(const uint8_t pitch, const unsigned seed)
{
  static const Rung two = {{2, 2, 1, 1}};
  Rng               rng = rng_seed(seed, 3);
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 2, two, 1);
  fixture.call.n_notes = 2;
  for (unsigned i = 0; i < 2; ++i) {
    fixture.call.notes[i].is_ornament = false;
    fixture.call.notes[i].note.pitch  = i == 0 ? 60 : pitch;
  }
  frame_open(&frame, &fixture.request, &rng);
  const RoleRow* const row = frame_roles(&frame, frame.start);
  return (row->bears[4] ? 1U : 0U) + (row->bears[10] ? 2U : 0U);
}

/// The partner brings the guide tone that the player has not.
Test(say_plan, two_tones_add_what_the_call_lacks)
{
  unsigned thirds = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    cr_assert_eq(guides_after(64, seed), 3);
    cr_assert_eq(guides_after(70, seed), 3);
    thirds += guides_after(67, seed) == 1;
  }
  cr_assert_gt(thirds, SEEDS * 7 / 10);
  cr_assert_lt(thirds, SEEDS * 9 / 10);
}
