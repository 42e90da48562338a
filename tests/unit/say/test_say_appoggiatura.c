// Tones that lean on strong beats (common practice, no source).

#include "fixture.h"

#include "responder/say/melody.h"

#include <criterion/criterion.h>

#include <stdlib.h>

enum {
  BEAT  = TICKS_PER_QUARTER,
  NOTES = 14,
  SEEDS = 200,
};

static Fixture fixture;
static Frame   frame;
static Prompt  call;
static Draft   draft;
static Melody  melody;

/// Draw a line of quavers over C7, or of crotchets with a rest after each of
/// them, at the top rung.
static void
draw_line(const bool     leans,
          const bool     rests,
          const unsigned seed,
          uint8_t        line[PATH_NOTE_CAPACITY])
{
  static const Source nothing = {.n_notes = 0};
  const Rung          rung    = {{8, 7, 6, 1}};
  const Intent intent = {.lowest = 58, .highest = 80, .appoggiaturas = leans};
  Rng          rng    = rng_seed(seed, 1);
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 4, rung, 1);
  frame_open(&frame, &fixture.request, &rng);
  prompt_open(&call, &frame, &nothing);
  draft = (Draft){.n_notes = 0};
  for (unsigned i = 0; i < NOTES; ++i) {
    const Tick at = (Tick)i * (rests ? BEAT : BEAT / 2);
    draft_add(&draft, frame.start + at, rests ? i : 0);
  }
  draft_close(&draft, &frame);
  melody_open(&melody, &frame, &call, MANNER_LINE);
  cr_assert(
    melody_solve(&melody, &frame, &draft, &call, &intent, CONTOUR_ARCH, &rng));
  path_draw(&melody.solver, &melody.problem, &rng, line);
}

/// What stands on strong beats over many lines.
typedef struct {
  unsigned n;
  unsigned leaning; ///< On the next note, by step to a chord tone
  unsigned outside; ///< Without doing so
} Strong;

static Strong
count(const bool leans, const bool rests)
{
  Strong strong = {0};
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    uint8_t line[PATH_NOTE_CAPACITY];
    draw_line(leans, rests, seed, line);
    for (unsigned i = 0; i + 1 < NOTES; ++i) {
      const DraftNote* const note = &draft.notes[i];
      const bool             led =
        abs(line[i + 1] - line[i]) <= 2 && draft_is_home(&note[1], line[i + 1]);
      if (note->place == PLACE_STRONG_BEAT) {
        const bool away = !draft_is_home(note, line[i]);
        ++strong.n;
        strong.leaning += away && led;
        strong.outside +=
          note->chord.roles[line[i] % N_PITCH_CLASSES] == ROLE_OUTSIDE && !led;
      }
    }
  }
  return strong;
}

Test(say_appoggiatura, an_answer_that_leans_does_so_on_strong_beats)
{
  const Strong leaning = count(true, false);
  const Strong plain   = count(false, false);
  cr_expect_gt(leaning.leaning,
               plain.leaning + leaning.n / 16,
               "%u, %u of %u",
               leaning.leaning,
               plain.leaning,
               leaning.n);
  cr_expect_eq(leaning.outside, 0);
  cr_expect_eq(plain.outside, 0);
}

/// What has no note after it in its phrase has nothing to lean on.
Test(say_appoggiatura, nothing_leans_into_a_rest)
{
  const Strong leaning = count(true, true);
  const Strong plain   = count(false, true);
  cr_expect_eq(leaning.leaning, plain.leaning);
}

/// The blue fifth only passes.
Test(say_appoggiatura, no_blue_fifth_leans)
{
  enum { F_SHARP = 6 };
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    uint8_t line[PATH_NOTE_CAPACITY];
    draw_line(true, false, seed, line);
    for (unsigned i = 0; i < NOTES; i += 4) {
      cr_assert_neq(line[i] % N_PITCH_CLASSES, F_SHARP, "seed %u", seed);
    }
  }
}
