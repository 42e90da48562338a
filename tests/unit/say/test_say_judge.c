// What is refused, and what is only found fault with.

#include "fixture.h"

#include "responder/say/frame.h"
#include "responder/say/judge.h"

#include <criterion/criterion.h>

static Fixture fixture;
static Frame   frame;
static Sketch  sketch;

/// Write an answer over C7 in C mixolydian: quarters from the turn's beginning.
static void
say(const uint8_t* const pitches, const unsigned n, const Move move)
{
  Answer* const answer = &fixture.answer;
  Rng           rng    = rng_seed(1, 1);
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 0, 2, (Rung){{8, 4, 4, 1}}, 1);
  frame_open(&frame, &fixture.request, &rng);
  answer->n_notes  = n;
  answer->move     = move;
  answer->likeness = (Likeness){0.7F, 0.5F, 0.7F};
  sketch           = (Sketch){.facts = {.move = move}};
  for (unsigned i = 0; i < n; ++i) {
    const Tick tick        = frame.start + 960 * (Tick)i;
    answer->notes[i]       = (Note){tick, 800, pitches[i], 80};
    answer->grid_ticks[i]  = tick;
    answer->is_ornament[i] = false;
  }
  hear_written(&answer->heard,
               &fixture.request.ear,
               answer->notes,
               answer->grid_ticks,
               answer->is_ornament,
               n,
               frame.start,
               frame.end);
  answer->digest = judge_digest(&answer->heard);
}

static bool
passes(void)
{
  return judge_musts(&fixture.answer, &frame, &sketch);
}

Test(say_judge, a_plain_line_passes)
{
  say((uint8_t[]){60, 64, 67, 64}, 4, MOVE_NEW_NOTES);
  cr_assert(passes());
}

Test(say_judge, the_last_note_must_bear_weight)
{
  say((uint8_t[]){60, 64, 67, 65}, 4, MOVE_NEW_NOTES);
  cr_assert_not(passes(), "F over C7");
}

Test(say_judge, the_root_where_it_is_asked_for)
{
  say((uint8_t[]){60, 62, 64, 67}, 4, MOVE_NEW_NOTES);
  cr_assert(passes());
  frame.must_end_on_root = true;
  cr_assert_not(passes());
  say((uint8_t[]){60, 62, 64, 62, 60}, 5, MOVE_NEW_NOTES);
  frame.must_end_on_root = true;
  cr_assert(passes());
}

Test(say_judge, the_piece_ends_on_the_first_beat_of_its_last_bar)
{
  say((uint8_t[]){60, 62, 64, 60}, 4, MOVE_NEW_NOTES);
  cr_assert(passes());
  frame.must_end_on_root = true;
  cr_assert_not(passes(), "the tonic a beat too soon");
}

Test(say_judge, notes_outside_must_be_led)
{
  say((uint8_t[]){60, 63, 64, 60}, 4, MOVE_NEW_NOTES);
  cr_assert(passes(), "Eb to E");
  say((uint8_t[]){60, 66, 64, 60}, 4, MOVE_NEW_NOTES);
  cr_assert(passes(), "F# to E");
  say((uint8_t[]){60, 66, 60, 60}, 4, MOVE_NEW_NOTES);
  cr_assert_not(passes(), "F# to C");
}

Test(say_judge, without_room_nothing_passes)
{
  say((uint8_t[]){60, 62, 64, 65, 67, 65, 64, 60}, 8, MOVE_NEW_NOTES);
  cr_assert_not(passes());
}

Test(say_judge, what_was_said_is_said_again_by_return_only)
{
  say((uint8_t[]){60, 64, 67, 64}, 4, MOVE_NEW_NOTES);
  say_remember(&fixture.history, &fixture.answer, true);
  cr_assert_not(passes());
  sketch.facts.move = MOVE_RETURN;
  cr_assert(passes());
}

/// The call's own notes are a copy unless the move says again.
Test(say_judge, a_copy_is_a_repeat)
{
  say((uint8_t[]){60, 64, 67, 64}, 4, MOVE_NEW_NOTES);
  fixture.call            = fixture.answer.heard;
  fixture.call.start_tick = frame.start;
  cr_assert_not(passes());
  sketch.facts.move = MOVE_REPEAT;
  cr_assert(passes());
}

Test(say_judge, a_sequence_begins_elsewhere)
{
  say((uint8_t[]){62, 65, 69, 67}, 4, MOVE_SEQUENCE);
  sketch.facts.from_pitch = 62;
  cr_assert_not(passes());
  sketch.facts.from_pitch = 60;
  cr_assert(passes());
}

static double
faults(void)
{
  return judge_faults(&fixture.answer, &frame, &sketch);
}

Test(say_judge, to_and_fro_is_worse_than_onward)
{
  say((uint8_t[]){60, 64, 60, 64, 60}, 5, MOVE_NEW_NOTES);
  const double pendulum = faults();
  say((uint8_t[]){60, 64, 67, 64, 60}, 5, MOVE_NEW_NOTES);
  cr_assert_gt(pendulum, faults());
}

Test(say_judge, one_note_again_and_again_is_worse)
{
  say((uint8_t[]){64, 64, 64, 64, 60}, 5, MOVE_NEW_NOTES);
  const double same = faults();
  say((uint8_t[]){60, 64, 67, 64, 60}, 5, MOVE_NEW_NOTES);
  cr_assert_gt(same, faults());
}

Test(say_judge, what_is_unlike_its_move_is_worse)
{
  say((uint8_t[]){60, 64, 67, 64, 60}, 5, MOVE_NEW_NOTES);
  const double like       = faults();
  fixture.answer.likeness = (Likeness){0.3F, 0.1F, 0.3F};
  const double little     = faults();
  fixture.answer.likeness = (Likeness){0.05F, 0.05F, 0.05F};
  cr_assert_gt(little, like);
  cr_assert_gt(faults(), little);
}

/// Every rung up asks for more.
Test(say_judge, the_band_of_complexity_rises)
{
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    Rung rung = {{1, 1, 1, 1}};
    Band last = judge_complexity(rung);
    while (rung.level[d] < dimension_rungs((Dimension)d)) {
      ++rung.level[d];
      const Band band = judge_complexity(rung);
      cr_assert_gt(band.least, last.least);
      cr_assert_gt(band.most, band.least);
      last = band;
    }
  }
}
