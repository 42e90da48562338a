// What a drawn line gains and loses, one rule at a time (by taste; no
// source). Lines are compared that differ in nothing else.

#include "fixture.h"

#include "responder/say/worth.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

enum {
  BEAT      = TICKS_PER_QUARTER,
  EIGHTH    = BEAT / 2,
  SIXTEENTH = BEAT / 4,
  MOST      = 16,
};

static Fixture fixture;
static Frame   frame;
static Prompt  call;
static Draft   draft;
static Source  asked;  // What is answered; nothing, if not told
static bool    leans;  // Whether it is an answer that does
static Tick    waited; // Before it begins

/// Return the worth of a line over bars of C7, `gaps` ticks apart; a rest
/// follows those of a minim.
static double
worth_in(const unsigned       bars,
         const Rung           rung,
         const uint8_t* const pitches,
         const Tick* const    gaps,
         const unsigned       n)
{
  const Intent intent = {.notes = n, .appoggiaturas = leans};
  Rng          rng    = rng_seed(1, 1);
  unsigned     phrase = 0;
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, bars, rung, 1);
  frame_open(&frame, &fixture.request, &rng);
  prompt_open(&call, &frame, &asked);
  draft     = (Draft){.n_notes = 0};
  Tick tick = frame.start + waited;
  for (unsigned i = 0; i < n; ++i) {
    draft_add(&draft, tick, phrase);
    tick += i + 1 < n ? gaps[i] : 0;
    phrase += i + 1 < n && gaps[i] >= 2 * BEAT ? 1 : 0;
  }
  draft_close(&draft, &frame);
  const double alike = worth_alike(&draft, &call);
  return worth_of(&(Candidate){&frame, &call, &intent, &draft, pitches, alike});
}

static double
worth_at(const Rung           rung,
         const uint8_t* const pitches,
         const Tick* const    gaps,
         const unsigned       n)
{
  return worth_in(2, rung, pitches, gaps, n);
}

static double
worth(const uint8_t* const pitches, const Tick* const gaps, const unsigned n)
{
  return worth_at((Rung){{8, 7, 6, 4}}, pitches, gaps, n);
}

Test(say_worth, the_quickest_notes_run_one_way)
{
  static const uint8_t straight[] = {60, 62, 64, 65, 67, 64};
  static const uint8_t turning[]  = {60, 62, 65, 64, 67, 64};
  static const Tick    quick[]    = {
          BEAT, SIXTEENTH, SIXTEENTH, SIXTEENTH, SIXTEENTH};
  static const Tick even[] = {BEAT, EIGHTH, EIGHTH, EIGHTH, EIGHTH};
  const double      slow   = worth(straight, even, 6) - worth(turning, even, 6);
  const double      fast = worth(straight, quick, 6) - worth(turning, quick, 6);
  cr_expect_gt(fast, slow + 0.5);
}

Test(say_worth, sixteenths_do_not_follow_crotchets)
{
  static const uint8_t run[]    = {60, 64, 67, 69, 70, 72, 67};
  static const Tick    sudden[] = {
       BEAT, BEAT, SIXTEENTH, SIXTEENTH, SIXTEENTH, SIXTEENTH};
  static const Tick led[] = {
    BEAT + EIGHTH, EIGHTH, SIXTEENTH, SIXTEENTH, SIXTEENTH, SIXTEENTH};
  cr_expect_gt(worth(run, led, 7), worth(run, sudden, 7) + 0.5);
}

Test(say_worth, a_passing_note_does_not_stand)
{
  static const uint8_t home[]    = {60, 62, 64, 64, 67, 60};
  static const uint8_t passing[] = {60, 62, 62, 64, 67, 60};
  static const uint8_t onward[]  = {60, 62, 64, 65, 67, 60};
  static const Tick    even[]    = {EIGHTH, EIGHTH, EIGHTH, EIGHTH, BEAT};
  cr_expect_gt(worth(home, even, 6), worth(passing, even, 6));
  cr_expect_gt(worth(onward, even, 6), worth(home, even, 6));
}

/// The fourth stands on the third beat and falls to the third, or passes.
Test(say_worth, an_answer_that_leans_gains_by_it)
{
  static const uint8_t leaning[] = {60, 62, 64, 67, 65, 64, 62, 60};
  static const uint8_t late[]    = {60, 62, 64, 65, 67, 64, 62, 60};
  static const Tick    even[]    = {
          EIGHTH, EIGHTH, EIGHTH, EIGHTH, EIGHTH, EIGHTH, BEAT};
  const double usual = worth(leaning, even, 8) - worth(late, even, 8);
  leans              = true;
  const double gain  = worth(leaning, even, 8) - worth(late, even, 8);
  leans              = false;
  cr_expect_gt(gain, usual + 0.5);
}

enum { ASKED = 8 };

// In an order of gaps that is nothing else's, and a fourth and a quarter away
static const Tick gaps_asked[] =
  {EIGHTH, BEAT, EIGHTH, BEAT + EIGHTH, EIGHTH, BEAT, BEAT};
static const uint8_t line_asked[] = {60, 64, 67, 65, 64, 67, 62, 64};

/// Return the worth of that line as an answer to a call that has `n` of its
/// notes running, and up to `gaps` of its gaps; beyond them it goes by minims.
static double
worth_after(const unsigned n, const unsigned gaps)
{
  asked = (Source){.n_notes = ASKED};
  for (unsigned i = 0; i < ASKED; ++i) {
    const bool rises = i > 0 && line_asked[i] > line_asked[i - 1];
    const int  by    = rises == (i < n) ? 2 : -2;
    asked.ticks[i] =
      i == 0 ? SIXTEENTH
             : asked.ticks[i - 1] + (i <= gaps ? gaps_asked[i - 1] : 2 * BEAT);
    asked.lengths[i] = SIXTEENTH;
    asked.pitches[i] = (uint8_t)(i == 0 ? 78 : asked.pitches[i - 1] + by);
  }
  const double is = worth(line_asked, gaps_asked, ASKED);
  asked           = (Source){.n_notes = 0};
  return is;
}

/// The more notes running are the call's, beyond four and up to eight, the
/// better a call is known again.
Test(say_worth, what_is_taken_up_is_known_by_its_length)
{
  cr_expect_float_eq(worth_after(4, 7), worth_after(3, 7), 0.3);
  cr_expect_gt(worth_after(6, 7), worth_after(4, 7) + 2.0);
  cr_expect_gt(worth_after(8, 7), worth_after(6, 7) + 2.0);
}

/// Its whole rhythm again is no answer; some of it costs nothing.
Test(say_worth, not_the_whole_rhythm_again)
{
  cr_expect_float_eq(worth_after(1, 2), worth_after(1, 0), 0.1);
  cr_expect_gt(worth_after(1, 2), worth_after(1, 7) + 2.0);
}

/// A second bar with the first one's places is charged where lines are free,
/// more than at a rung of chord tones.
Test(say_worth, bars_of_a_free_line_differ)
{
  static const uint8_t line[] = {60, 64, 67, 65, 64, 62, 60, 64};
  static const Tick    same[] = {
       BEAT + EIGHTH, EIGHTH, BEAT, BEAT, BEAT + EIGHTH, EIGHTH, BEAT};
  static const Tick others[] = {
    BEAT + EIGHTH, EIGHTH, BEAT, BEAT + EIGHTH, EIGHTH, BEAT + EIGHTH, BEAT};
  const Rung   plain   = {{4, 7, 6, 4}};
  const double charged = worth(line, others, 8) - worth(line, same, 8);
  const double uncharged =
    worth_at(plain, line, others, 8) - worth_at(plain, line, same, 8);
  cr_expect_gt(charged, uncharged + 1.0, "%.2f, %.2f", charged, uncharged);
}

/// Return the worth of four bars, of which the last ones, after the first, have
/// a note on their first beat; the others have it an eighth before or after. No
/// two bars running have another place in common.
static double
worth_begun(const Rung rung, const unsigned n_begun)
{
  static const uint8_t line[] = {
    60, 62, 64, 67, 65, 64, 60, 62, 64, 67, 69, 67};
  static const Tick places[2][3] = {{0, 2, 5}, {0, 3, 6}};
  enum { N = sizeof(line) };
  Tick gaps[N] = {0};
  Tick before  = 0;
  for (unsigned i = 1; i < N; ++i) {
    const unsigned bar   = i / 3;
    const Tick     moved = i % 3 || bar + n_begun > 3 ? 0 : bar % 2 ? 1 : -1;
    const Tick     at    = 8 * (Tick)bar + places[bar % 2][i % 3] + moved;
    gaps[i - 1]          = (at - before) * EIGHTH;
    before               = at;
  }
  return worth_in(4, rung, line, gaps, N);
}

/// One of the bars after the first may be begun, each further one is charged,
/// where lines are free.
Test(say_worth, not_each_bar_of_a_free_line_is_begun)
{
  const Rung free   = {{8, 7, 6, 4}};
  const Rung bound  = {{5, 7, 6, 4}};
  double     before = 0.0;
  for (unsigned n = 0; n <= 3; ++n) {
    const double is   = worth_begun(free, n) - worth_begun(bound, n);
    const double more = n > 0 ? is - before : 0.0;
    cr_expect_gt(more, n > 1 ? -0.7 : -0.1, "%u: %.2f", n, more);
    cr_expect_lt(more, n > 1 ? -0.3 : 0.1, "%u: %.2f", n, more);
    before = is;
  }
}

typedef struct {
  char     name[40];
  unsigned n;
  uint8_t  better[8];
  uint8_t  worse[8];
  Tick     gaps[8];
  double   least; ///< What it makes
} PlainRow;

/// What weighs at rungs of chord tones.
ParameterizedTestParameters(say_worth, plain_lines)
{
  static PlainRow rows[] = {
    {"a tritone",
     5,
     {60, 64, 67, 70, 72},
     {60, 64, 70, 67, 72},
     {EIGHTH, EIGHTH, BEAT, BEAT},
     8.7},
    {"a sixth that runs on",
     5,
     {60, 64, 67, 64, 60},
     {60, 69, 72, 67, 64},
     {EIGHTH, EIGHTH, BEAT, BEAT},
     4.5},
    {"skips to and fro",
     5,
     {60, 64, 67, 72, 70},
     {60, 64, 60, 67, 64},
     {EIGHTH, EIGHTH, BEAT, BEAT},
     4.5},
    {"phrases far apart",
     6,
     {60, 64, 67, 70, 67, 64},
     {60, 64, 67, 76, 72, 70},
     {EIGHTH, EIGHTH, 2 * BEAT, EIGHTH, EIGHTH},
     1.6},
    {"the third undone",
     5,
     {60, 63, 64, 67, 60},
     {60, 64, 63, 67, 60},
     {EIGHTH, EIGHTH, BEAT, BEAT},
     7.0},
    {"one pitch again",
     5,
     {60, 64, 67, 70, 72},
     {60, 64, 64, 67, 72},
     {EIGHTH, EIGHTH, BEAT, BEAT},
     4.2},
    {"an end by third",
     5,
     {60, 64, 67, 64, 60},
     {60, 64, 67, 65, 60},
     {EIGHTH, EIGHTH, BEAT, BEAT},
     2.5},
    {"a leap of its own",
     5,
     {60, 64, 67, 64, 60},
     {60, 67, 64, 62, 60},
     {EIGHTH, EIGHTH, BEAT, BEAT},
     0.5},
    {"to and fro",
     6,
     {60, 64, 67, 70, 67, 64},
     {60, 64, 67, 64, 67, 64},
     {EIGHTH, EIGHTH, BEAT, EIGHTH, EIGHTH},
     9.0},
    {"an end that rises",
     5,
     {60, 64, 67, 65, 64},
     {60, 64, 67, 62, 64},
     {EIGHTH, EIGHTH, BEAT, BEAT},
     0.2},
    {"thirds for steps",
     5,
     {60, 62, 64, 65, 64},
     {60, 64, 67, 67, 64},
     {EIGHTH, EIGHTH, BEAT, BEAT},
     0.5},
    {"semitones that lead",
     6,
     {60, 63, 64, 67, 64, 60},
     {60, 62, 64, 67, 64, 60},
     {EIGHTH, EIGHTH, BEAT, EIGHTH, EIGHTH},
     0.0},
    {"a line that turns",
     6,
     {60, 64, 67, 70, 67, 64},
     {64, 60, 70, 67, 72, 67},
     {EIGHTH, EIGHTH, BEAT, EIGHTH, EIGHTH},
     18.0},
    {"the same to the end",
     6,
     {64, 67, 72, 70, 67, 72},
     {64, 67, 72, 64, 67, 72},
     {EIGHTH, EIGHTH, BEAT, EIGHTH, EIGHTH},
     8.0},
  };
  return cr_make_param_array(PlainRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const PlainRow* row, say_worth, plain_lines)
{
  const Rung   plain = {{4, 4, 4, 1}};
  const double more  = worth_at(plain, row->better, row->gaps, row->n) -
                      worth_at(plain, row->worse, row->gaps, row->n);
  cr_expect_gt(more, row->least, "%s: %.2f", row->name, more);
}

static const Rung chord_tones = {{4, 4, 4, 1}};

/// Five notes and more of one length are an exercise.
Test(say_worth, plain_lengths_differ)
{
  static const uint8_t line[]  = {60, 64, 67, 70, 67, 64, 60};
  static const Tick    even[]  = {EIGHTH, EIGHTH, EIGHTH, EIGHTH, EIGHTH, BEAT};
  static const Tick    mixed[] = {EIGHTH, EIGHTH, BEAT, EIGHTH, EIGHTH, EIGHTH};
  const double         more    = worth_at(chord_tones, line, mixed, 7) -
                      worth_at(chord_tones, line, even, 7);
  cr_expect_gt(more, 0.0, "%.2f", more);
}

/// Four steps one way and one back, or three and two; with notes outside a line
/// may turn as it likes.
Test(say_worth, a_plain_line_goes_somewhere)
{
  static const uint8_t four[]  = {60, 64, 67, 70, 72, 67};
  static const uint8_t three[] = {60, 64, 67, 72, 70, 67};
  static const Tick    even[]  = {EIGHTH, EIGHTH, EIGHTH, EIGHTH, BEAT};
  const Rung           free    = {{8, 7, 6, 1}};
  const double         here    = worth_at(chord_tones, four, even, 6) -
                      worth_at(chord_tones, three, even, 6);
  const double there =
    worth_at(free, four, even, 6) - worth_at(free, three, even, 6);
  cr_expect_gt(here, there - 0.4, "%f %f", here, there);
}

/// Where there is little to say it is said at once.
Test(say_worth, a_plain_answer_does_not_wait)
{
  static const uint8_t line[] = {60, 64, 67, 70, 72};
  static const Tick    gaps[] = {EIGHTH, EIGHTH, BEAT, BEAT};
  const Rung           free   = {{8, 7, 6, 1}};
  const double         here   = worth_at(chord_tones, line, gaps, 5);
  const double         there  = worth_at(free, line, gaps, 5);
  waited                      = 3 * BEAT;
  const double here_lost      = here - worth_at(chord_tones, line, gaps, 5);
  const double there_lost     = there - worth_at(free, line, gaps, 5);
  waited                      = 0;
  cr_expect_gt(here_lost, there_lost + 0.5, "%f %f", here_lost, there_lost);
}

/// Six notes are a sentence; what lacks one lacks more than its tone.
Test(say_worth, a_plain_answer_says_something)
{
  static const uint8_t line[] = {60, 64, 67, 70, 72, 67, 64};
  static const Tick    gaps[] = {EIGHTH, BEAT, EIGHTH, BEAT, EIGHTH, BEAT};
  const double         four   = worth_at(chord_tones, line, gaps, 4);
  const double         six    = worth_at(chord_tones, line, gaps, 6);
  cr_expect_gt(six, four, "%f", six - four);
}

/// Not every bar in one rhythm.
Test(say_worth, plain_bars_differ)
{
  static const uint8_t line[] = {60, 64, 67, 70, 67, 64};
  static const Tick    same[] = {
       BEAT + EIGHTH, EIGHTH, 2 * BEAT, BEAT + EIGHTH, EIGHTH};
  static const Tick others[] = {
    BEAT + EIGHTH, EIGHTH, 2 * BEAT, EIGHTH, BEAT + EIGHTH};
  const double more = worth_at(chord_tones, line, others, 6) -
                      worth_at(chord_tones, line, same, 6);
  cr_expect_gt(more, 0.0, "%.2f", more);
}

/// What the player used weighs.
Test(say_worth, what_the_player_used_is_known)
{
  static const uint8_t line[]  = {60, 64, 67, 70, 67, 64};
  static const Tick    gaps[]  = {EIGHTH, EIGHTH, BEAT, EIGHTH, EIGHTH};
  const uint8_t        tones[] = {67, 53};
  double               is[2];
  for (unsigned k = 0; k < 2; ++k) {
    asked            = (Source){.n_notes = 1};
    asked.lengths[0] = BEAT;
    asked.pitches[0] = tones[k];
    is[k]            = worth_at(chord_tones, line, gaps, 6);
  }
  asked = (Source){.n_notes = 0};
  cr_expect_gt(is[0], is[1], "%.2f, %.2f", is[0], is[1]);
}

/// Return the worth of a line after a call of so many tones, none of which it
/// has, the last one always the same.
static double
worth_leaving_out(const Rung rung, const unsigned n)
{
  static const uint8_t line[]  = {60, 64, 67, 70, 67, 64};
  static const Tick    gaps[]  = {EIGHTH, EIGHTH, BEAT, EIGHTH, EIGHTH};
  static const uint8_t tones[] = {71, 61, 68, 66, 62, 65};
  asked                        = (Source){.n_notes = n};
  for (unsigned i = 0; i < n; ++i) {
    asked.lengths[i] = SIXTEENTH;
    asked.pitches[i] = tones[6 - n + i];
  }
  const double is = worth_at(rung, line, gaps, 6);
  asked           = (Source){.n_notes = 0};
  return is;
}

/// Each tone of the call that is left out, up to five; with notes outside a
/// line is free to leave it.
Test(say_worth, the_tones_of_the_call_come_again)
{
  const Rung free = {{8, 7, 6, 1}};
  for (unsigned n = 2; n <= 6; ++n) {
    const double here =
      worth_leaving_out(chord_tones, n - 1) - worth_leaving_out(chord_tones, n);
    const double there =
      worth_leaving_out(free, n - 1) - worth_leaving_out(free, n);
    cr_expect_eq(here > 1.0, n <= 5, "%u: %f", n, here);
    cr_expect_lt(there, 0.5, "%u: %f", n, there);
  }
}

/// Steps that go one way may be quick at rungs of scale tones; skips may not.
Test(say_worth, what_is_quick_goes_by_step)
{
  static const uint8_t steps[] = {60, 64, 65, 67, 69, 67, 64};
  static const uint8_t skips[] = {60, 64, 67, 70, 74, 72, 70};
  static const Tick    even[]  = {BEAT, EIGHTH, EIGHTH, EIGHTH, BEAT, BEAT};
  static const Tick    quick[] = {
       BEAT, SIXTEENTH, SIXTEENTH, SIXTEENTH, BEAT, BEAT};
  const Rung   scale = {{6, 6, 6, 1}};
  const double lost =
    worth_at(scale, skips, even, 7) - worth_at(scale, skips, quick, 7);
  const double usual =
    worth_at(scale, steps, even, 7) - worth_at(scale, steps, quick, 7);
  cr_expect_gt(lost, usual + 1.0, "%f %f", lost, usual);
}
