// How free answers speak: by what the call is, and each in its own form (by
// taste; no source).

#include "fixture.h"

#include "responder/say/manner.h"
#include "responder/say/planting.h"
#include "responder/say/treat.h"
#include "responder/say/worth.h"

#include <criterion/criterion.h>

enum {
  BEAT  = TICKS_PER_QUARTER,
  BAR   = 4 * BEAT,
  SEEDS = 400,
};

static const Rung five = {{5, 5, 5, 4}};
static const Rung top  = {{8, 7, 6, 4}};

static const Cell cell = {.n_notes = 4,
                          .offsets = {0, BEAT / 2, BEAT, 2 * BEAT}};

// What would have room where few notes are said
static const Cell brief = {.n_notes = 3, .offsets = {0, BEAT / 4, BEAT / 2}};

static Fixture fixture;
static Frame   frame;
static Prompt  call;

static void
open(const Rung rung, const unsigned bars, const unsigned seed, Rng* const rng)
{
  static const Source nothing = {.n_notes = 0};
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, bars, rung, 1);
  *rng = rng_seed(seed, 3);
  frame_open(&frame, &fixture.request, rng);
  prompt_open(&call, &frame, &nothing);
  call.per_bar = 4.0;
}

/// What is told of a call.
typedef struct {
  double per_bar;
  bool   is_riff;
  bool   stays;
} Told;

/// Return how many of the answers to a call have a manner.
static unsigned
count_in(const unsigned bars,
         const Rung     rung,
         const Told     told,
         const Move     move,
         const Manner   manner)
{
  unsigned n = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng rng;
    open(rung, bars, seed, &rng);
    call.per_bar = told.per_bar;
    call.is_riff = told.is_riff;
    call.stays   = told.stays;
    n += manner_draw(&frame, &call, move, &rng) == manner;
  }
  return n;
}

static unsigned
count(const Rung rung, const Told told, const Move move, const Manner manner)
{
  return count_in(4, rung, told, move, manner);
}

/// Lower rungs have lines, of notes or of rhythm, and two bars have them
/// oftener than four.
Test(say_manner, lower_rungs_have_lines)
{
  static const Rung few   = {{8, 5, 6, 4}};
  const Told        thin  = {.per_bar = 1.0, .is_riff = true, .stays = true};
  const Told        usual = {.per_bar = 4.0};
  const Move        move  = MOVE_SEQUENCE;
  cr_expect_eq(count(five, thin, move, MANNER_LINE), SEEDS);
  cr_expect_eq(count(few, thin, move, MANNER_LINE), SEEDS);
  cr_expect_lt(count(top, thin, move, MANNER_LINE), SEEDS / 2);
  cr_expect_gt(count_in(2, top, usual, move, MANNER_LINE),
               count(top, usual, move, MANNER_LINE) * 5 / 4);
}

Test(say_manner, the_call_decides)
{
  const Told usual = {.per_bar = 4.0};
  const Told thin  = {.per_bar = 2.0};
  const Told riff  = {.per_bar = 4.0, .is_riff = true};
  const Told stays = {.per_bar = 4.0, .stays = true};
  const Move move  = MOVE_SEQUENCE;
  cr_expect_gt(count(top, usual, move, MANNER_LINE), SEEDS / 4);
  cr_expect_gt(count(top, thin, move, MANNER_SPARE), SEEDS / 2);
  cr_expect_lt(count(top, usual, move, MANNER_SPARE), SEEDS / 4);
  cr_expect_gt(count(top, riff, move, MANNER_RIFF),
               count(top, usual, move, MANNER_RIFF) * 3 / 2);
  cr_expect_gt(count(top, stays, move, MANNER_TALK),
               count(top, usual, move, MANNER_TALK) * 5 / 4);
}

/// What begins with the player's cell does not begin with anything else, and
/// few notes have no room for it twice.
Test(say_manner, a_move_has_its_room)
{
  const Told usual = {.per_bar = 4.0};
  const Told thin  = {.per_bar = 2.0};
  const Move opens = MOVE_QUESTION_AND_ANSWER;
  cr_expect_eq(count(top, usual, opens, MANNER_TALK), 0);
  cr_expect_eq(count(top, thin, opens, MANNER_SPARE), 0);
  cr_expect_eq(count(top, thin, MOVE_FRAGMENT, MANNER_SPARE), 0);
  cr_expect_gt(count(top, usual, MOVE_FRAGMENT, MANNER_TALK), 0);
}

/// A few long notes and one gesture want more than two bars.
Test(say_manner, two_bars_are_not_spare)
{
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng rng;
    open(top, 2, seed, &rng);
    call.per_bar = 1.0;
    cr_expect_neq(manner_draw(&frame, &call, MOVE_NEW_NOTES, &rng),
                  MANNER_SPARE);
  }
}

/// Draw a plan of a manner in four bars or two.
static Plan
draw(const Manner manner, const unsigned bars, const unsigned seed)
{
  Rng  rng;
  Plan plan;
  open(top, bars, seed, &rng);
  const Intent intent =
    plan_intent(&frame, &call, manner, MOVE_NEW_NOTES, &rng);
  unsigned tries = 0; // What has no room is drawn again
  while (!plan_draw(&plan, &frame, &call, &intent, &cell, &rng)) {
    cr_assert_lt(++tries, 5);
  }
  return plan;
}

/// A riff comes three times, never at its own place in the bar the next time;
/// the last time it goes on, and lets go.
Test(say_manner, a_riff_is_displaced_and_let_go)
{
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    const Plan plan = draw(MANNER_RIFF, 4, seed);
    cr_assert_eq(plan.n_stated, 3);
    cr_assert_gt(plan.n_spans, plan.n_stated);
    for (unsigned i = 0; i < plan.n_stated; ++i) {
      const Span span = plan.spans[i];
      cr_assert_eq(span.goal - span.from, i < 2 ? BEAT : 2 * BEAT);
      cr_assert(i == 0 || (span.from - plan.spans[i - 1].from) % BAR != 0);
    }
    cr_assert_geq(plan.spans[plan.n_spans - 1].goal -
                    plan.spans[plan.n_stated].from,
                  2 * BEAT);
  }
}

/// Three beats later it would stand at its own place in a waltz.
Test(say_manner, a_riff_is_displaced_in_three)
{
  enum { WALTZ = 3 };
  unsigned n = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng  rng  = rng_seed(seed, 3);
    Plan plan = {.n_spans = 0};
    fixture_open(&fixture, WALTZ, 1, 4, top, 1);
    frame_open(&frame, &fixture.request, &rng);
    const Tick goal = frame.end - frame.beat;
    if (manner_lay_riff(&plan, &frame, &cell, frame.start, goal, &rng)) {
      const Tick apart = plan.spans[1].from - plan.spans[0].from;
      cr_assert_neq(apart % frame.bar, 0);
      ++n;
    }
  }
  cr_assert_gt(n, SEEDS / 20, "%u", n);
}

/// It is planted where the plan states it, and nowhere else.
Test(say_manner, statements_are_the_cell)
{
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    const Plan     plan   = draw(MANNER_RIFF, 4, seed);
    const Planting wanted = {.cell = &cell, .twice = true};
    Rng            rng    = rng_seed(seed, 1);
    Plants         plants;
    cr_assert(planting_draw(&plants, &frame, &plan, &wanted, &rng));
    cr_assert_eq(plants.n, plan.n_stated);
    for (unsigned i = 0; i < plants.n; ++i) {
      cr_assert_eq(plants.plants[i].tick, plan.spans[i].from);
      cr_assert_eq(plants.plants[i].cell->n_notes, i < 2 ? 3 : 4);
    }
  }
}

/// Few notes come first, with a bar's room and more about them at times; then
/// one gesture.
Test(say_manner, spare_answers_wait)
{
  unsigned holes = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    const Plan plan = draw(MANNER_SPARE, 4, seed);
    cr_assert(plan.spans[0].bare);
    cr_assert_not(plan.spans[plan.n_spans - 1].bare);
    cr_assert_geq(plan.spans[plan.n_spans - 1].goal - frame.start, 2 * BAR);
    for (unsigned i = 1; i < plan.n_spans && plan.spans[i - 1].bare; ++i) {
      const Tick hole = plan.spans[i].from - plan.spans[i - 1].goal;
      cr_assert_geq(hole, BEAT);
      holes += hole >= 5 * BEAT / 2;
    }
    Rng            rng    = rng_seed(seed, 1);
    const Planting wanted = {.cell = &brief, .twice = true};
    Plants         plants;
    cr_assert(planting_draw(&plants, &frame, &plan, &wanted, &rng));
    for (unsigned i = 0; i < plants.n; ++i) {
      cr_assert_not(plan.spans[plants.plants[i].phrase].bare);
    }
    open(top, 4, seed, &rng);
    const double few =
      plan_intent(&frame, &call, MANNER_SPARE, MOVE_NEW_NOTES, &rng).notes;
    open(top, 4, seed, &rng);
    const double many =
      plan_intent(&frame, &call, MANNER_LINE, MOVE_NEW_NOTES, &rng).notes;
    cr_assert_lt(few, many * 0.75);
  }
  cr_assert_gt(holes, SEEDS / 2);
}

/// A talk leaves its note and comes back to it; its rhythm is not even, and the
/// cell stands elsewhere.
Test(say_manner, a_talk_comes_back)
{
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    const Plan     plan   = draw(MANNER_TALK, 4, seed);
    const Planting wanted = {.cell = &cell};
    Rng            rng    = rng_seed(seed, 1);
    Plants         plants;
    cr_assert_eq(plan.n_said, 2);
    cr_assert_geq(plan.said[1].at - plan.said[0].at, 2 * BEAT);
    for (unsigned i = 0; i < plan.n_said; ++i) {
      const Cell* const said = &plan.said[i];
      cr_assert(said->n_notes >= 2 && said->n_notes <= 4);
      cr_assert(said->n_notes == 2 ||
                said->offsets[2] - said->offsets[1] != said->offsets[1] ||
                said->offsets[3] - said->offsets[2] != said->offsets[1]);
    }
    if (planting_draw(&plants, &frame, &plan, &wanted, &rng)) {
      const Plant* const own = &plants.plants[plan.n_said];
      for (unsigned i = 0; i < plan.n_said; ++i) {
        const Plant* const said = &plants.plants[i];
        cr_assert(said->id >= PLANT_SAID && said->id != NO_PLANT);
        cr_assert(own->tick >
                    said->tick + said->cell->offsets[said->cell->n_notes - 1] ||
                  own->tick + 2 * BEAT < said->tick);
      }
    }
  }
}

static Draft
said_draft(const unsigned first)
{
  Draft draft = {.n_notes = 0};
  for (unsigned i = 0; i < 6; ++i) {
    DraftNote* const note =
      draft_add(&draft, frame.start + (Tick)i * BEAT / 2, 0);
    note->plant = i >= first && i < first + 3 ? PLANT_SAID : NO_PLANT;
    note->nth   = (uint8_t)(i >= first && i < first + 3 ? i - first : 0);
  }
  draft_close(&draft, &frame);
  return draft;
}

/// One note is one note, and it bears it: of the chord, if there is one near.
Test(say_manner, what_is_said_again_is_one_note)
{
  static const uint8_t one[]   = {67, 67, 67, 70, 67, 64};
  static const uint8_t other[] = {67, 65, 67, 70, 67, 64};
  unsigned             home    = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng rng;
    open(top, 2, seed, &rng);
    Draft        draft = said_draft(0);
    const Intent intent =
      plan_intent(&frame, &call, MANNER_TALK, MOVE_NEW_NOTES, &rng);
    cr_assert(manner_holds(&draft, one));
    cr_assert_not(manner_holds(&draft, other));
    manner_wish(&draft, &intent, &call, &cell, MOVE_SEQUENCE, &rng);
    cr_assert_lt(draft.notes[0].pitch_fall, NO_WISH);
    cr_assert_eq(draft.notes[0].pitch, draft.notes[2].pitch);
    cr_assert_eq(draft.notes[2].interval, 0);
    cr_assert_lt(draft.notes[2].interval_fall, NO_WISH);
    cr_assert_geq(draft.notes[3].pitch_fall, NO_WISH);
    home += draft_is_home(&draft.notes[0], draft.notes[0].pitch);
  }
  cr_assert_gt(home, SEEDS / 2);
}

/// Not the fourth over a dominant chord, however near it lies.
Test(say_manner, what_clashes_is_not_said_again)
{
  enum { FOURTH = 65 }; // Over C7
  unsigned n = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng rng;
    open(top, 2, seed, &rng);
    Draft        draft = said_draft(0);
    const Intent intent =
      plan_intent(&frame, &call, MANNER_TALK, MOVE_NEW_NOTES, &rng);
    call.last_pitch = FOURTH;
    manner_wish(&draft, &intent, &call, &cell, MOVE_SEQUENCE, &rng);
    n += draft.notes[0].pitch == FOURTH ? 1 : 0;
  }
  cr_assert_lt(n, SEEDS / 40, "%u", n);
}

/// The judge does not punish what is meant: the same notes by chance lose.
Test(say_manner, what_is_meant_is_no_monotony)
{
  static const uint8_t line[] = {67, 67, 67, 70, 67, 64};
  const Intent         intent = {.manner = MANNER_TALK, .notes = 6};
  Rng                  rng;
  open(top, 2, 1, &rng);
  const Draft said   = said_draft(0);
  Draft       chance = said;
  for (unsigned i = 0; i < 3; ++i) {
    chance.notes[i].plant = NO_PLANT;
  }
  cr_assert_gt(
    worth_of(&(Candidate){&frame, &call, &intent, &said, line, 0.0}),
    worth_of(&(Candidate){&frame, &call, &intent, &chance, line, 0.0}) + 3.0);
}

/// Two octaves are shown in nearly all answers, however they speak.
Test(say_manner, the_last_rung_shows_its_range)
{
  unsigned wide = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng rng;
    open(top, 4, seed, &rng);
    wide += plan_intent(
              &frame, &call, (Manner)(seed % N_MANNERS), MOVE_NEW_NOTES, &rng)
              .shows_range;
  }
  cr_expect_gt(wide, SEEDS * 9 / 10);
}

/// Where others leave room a line runs on: it begins fewer phrases, and falls
/// short of its notes less lightly.
Test(say_manner, a_line_makes_up_for_room)
{
  static const Rung    six     = {{6, 6, 6, 4}};
  static const uint8_t line[]  = {67, 65, 64, 62, 60, 64};
  unsigned             more[2] = {0, 0};
  Rng                  rng;
  for (unsigned seed = 0; seed < 2 * SEEDS; ++seed) {
    Plan plan;
    open(seed % 2 == 1 ? top : six, 4, seed, &rng);
    const Intent intent =
      plan_intent(&frame, &call, MANNER_LINE, MOVE_NEW_NOTES, &rng);
    cr_assert_eq(intent.runs_on, seed % 2 == 1);
    cr_assert(plan_draw(&plan, &frame, &call, &intent, &cell, &rng));
    more[seed % 2] += plan.n_spans;
  }
  cr_expect_lt(more[1], more[0] * 9 / 10, "%u, %u", more[1], more[0]);
  open(top, 2, 1, &rng);
  const Draft  draft   = said_draft(6);
  const Intent lightly = {.notes = 12};
  const Intent runs    = {.notes = 12, .runs_on = true};
  cr_expect_lt(
    worth_of(&(Candidate){&frame, &call, &runs, &draft, line, 0.0}),
    worth_of(&(Candidate){&frame, &call, &lightly, &draft, line, 0.0}) - 3.0);
}

/// Whether an answer has a pitch three times running.
static bool
stays(const Answer* const answer)
{
  bool stays = false;
  for (unsigned i = 2; i < answer->n_notes; ++i) {
    const uint8_t pitch = answer->notes[i].pitch;
    stays               = stays || (answer->notes[i - 1].pitch == pitch &&
                      answer->notes[i - 2].pitch == pitch);
  }
  return stays;
}

/// A pitch comes three times running where it is the point, and nowhere else.
Test(say_manner, some_answers_talk)
{
  unsigned n[2] = {0, 0};
  for (unsigned seed = 0; seed < SEEDS / 2; ++seed) {
    const bool free = seed % 2 == 1;
    fixture_open(&fixture, 2, seed / 2 % 3, 4, free ? top : five, seed);
    fixture_answer(&fixture, 40, rng_seed(seed, 5));
    n[free] += stays(&fixture.answer);
  }
  cr_expect_lt(n[0], n[1], "%u, %u", n[0], n[1]);
  cr_expect_gt(n[1], SEEDS / 40, "%u", n[1]);
  cr_expect_lt(n[1], SEEDS / 8);
}
