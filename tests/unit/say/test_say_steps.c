// What an interval is worth, by rung, and where a cell asks for another.

#include "fixture.h"

#include "responder/say/steps.h"
#include "responder/say/weights.h"

#include <criterion/criterion.h>

enum { BEAT = TICKS_PER_QUARTER };

static Fixture fixture;
static Frame   frame;

/// Return the worth of an interval to the second of two crotchets, of which a
/// cell asks for `wish`; 0: nothing is asked.
static double
step_at(const unsigned level, const int wish, const int d)
{
  const uint8_t on    = (uint8_t)level;
  const Rung    rung  = {{on, 4, 4, 1}};
  Draft         draft = {.n_notes = 0};
  Rng           rng   = rng_seed(1, 1);
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 2, rung, 1);
  frame_open(&frame, &fixture.request, &rng);
  draft_add(&draft, frame.start, 0);
  draft_add(&draft, frame.start + BEAT, 0);
  draft_close(&draft, &frame);
  draft.notes[1].interval      = (int16_t)wish;
  draft.notes[1].interval_fall = wish != 0 ? 0.8F : NO_WISH;
  return steps_worth(&frame, &draft, 1, d);
}

/// Up to rungs of scale tones hardly any leap beyond a fourth is made; with
/// notes outside they come.
Test(say_steps, leaps_come_with_the_rung)
{
  for (unsigned level = 2; level <= 6; ++level) {
    for (int d = 7; d <= 12; ++d) {
      cr_expect_lt(step_at(level, 0, d), 0.1 * step_at(level, 0, 4), "%d", d);
    }
  }
  cr_expect_gt(step_at(8, 0, 7), 0.5 * step_at(8, 0, 4));
}

/// A third of the call's is not widened to a sixth, for all that it rises; a
/// sixth of its own may come.
Test(say_steps, a_cell_is_not_widened_to_a_leap)
{
  cr_expect_lt(step_at(4, 4, 8), 0.02 * step_at(4, 4, 5));
  cr_expect_gt(step_at(4, 8, 8), 0.9 * step_at(4, 4, 4));
}

/// A scale tone a semitone above a chord tone clashes with it; over a dominant
/// chord only the fourth (common practice, no source).
Test(say_steps, avoided_tones_clash)
{
  DraftNote note = {.chord = {.root = 0}};
  for (unsigned pc = 0; pc < N_PITCH_CLASSES; ++pc) {
    const bool tone      = pc == 0 || pc == 4 || pc == 7 || pc == 11; // Cmaj7
    note.chord.roles[pc] = tone ? ROLE_CHORD_TONE : ROLE_SCALE_TONE;
  }
  cr_expect(draft_is_avoided(&note, 5));
  cr_expect(draft_is_avoided(&note, 8));
  cr_expect_not(draft_is_avoided(&note, 2));
  cr_expect_not(draft_is_avoided(&note, 9));
  note.chord.is_dominant = true;
  cr_expect(draft_is_avoided(&note, 5));
  cr_expect_not(draft_is_avoided(&note, 8));
}
