// What a line must do with a cell of the call to be what its move says (common
// practice, no source).

#include "responder/say/treat.h"

#include <criterion/criterion.h>

static Draft draft;
static Frame frame;

static SayRequest asked;

static const NotesRung one  = {.chord_tones = 1};
static const NotesRung four = {.chord_tones = 4};

/// A cell of two notes, a tone up, planted so many times.
static Cell
plant(const unsigned n_times)
{
  Cell cell         = {.n_notes = 2};
  frame.notes       = &four;
  cell.intervals[1] = 2;
  draft             = (Draft){.n_notes = 2 * n_times};
  for (unsigned i = 0; i < draft.n_notes; ++i) {
    draft.notes[i].plant = (uint8_t)(i / 2);
    draft.notes[i].nth   = (uint8_t)(i % 2);
  }
  return cell;
}

/// Said once it is no fragment that comes again, nor one whose second time
/// goes another way.
Test(say_treat, a_fragment_comes_again)
{
  const uint8_t line[]  = {60, 62, 64, 66};
  const uint8_t other[] = {60, 62, 64, 62};
  Cell          cell    = plant(1);
  cr_assert_not(treat_holds(&draft, &frame, &cell, MOVE_FRAGMENT, line));
  cell = plant(2);
  cr_assert(treat_holds(&draft, &frame, &cell, MOVE_FRAGMENT, line));
  cr_assert_not(treat_holds(&draft, &frame, &cell, MOVE_FRAGMENT, other));
}

/// One tone has no shape: it is the rhythm that comes again.
Test(say_treat, one_tone_says_the_rhythm_again)
{
  const uint8_t line[] = {60, 60, 60, 60};
  Cell          cell   = plant(1);
  frame.notes          = &one;
  cr_assert_not(treat_holds(&draft, &frame, &cell, MOVE_FRAGMENT, line));
  cell        = plant(2);
  frame.notes = &one;
  cr_assert(treat_holds(&draft, &frame, &cell, MOVE_FRAGMENT, line));
  cr_assert_not(treat_holds(&draft, &frame, &cell, MOVE_TURN_OVER, line));
}

/// Turned over, what rose falls.
Test(say_treat, turned_over_goes_the_other_way)
{
  const uint8_t rising[]  = {60, 62};
  const uint8_t falling[] = {62, 60};
  const Cell    cell      = plant(1);
  cr_assert_not(treat_holds(&draft, &frame, &cell, MOVE_TURN_OVER, rising));
  cr_assert(treat_holds(&draft, &frame, &cell, MOVE_TURN_OVER, falling));
}

/// A cell is known by its leap: another size of it costs more than of a step.
Test(say_treat, a_leap_is_kept)
{
  Cell cell = plant(1);
  treat_wish(&draft, &frame, &cell, MOVE_NEW_NOTES);
  const float step  = draft.notes[1].interval_fall;
  cell.intervals[1] = 7;
  treat_wish(&draft, &frame, &cell, MOVE_NEW_NOTES);
  cr_assert_lt(draft.notes[1].interval_fall, step);
  cr_assert_eq(draft.notes[1].interval, 7);
}

/// Where no note may stand alone off the beat, a pick-up cannot open a phrase
/// that begins on one; anything else that opens the call opens the answer.
Test(say_treat, a_pick_up_need_not_open_the_answer)
{
  const RhythmRung even = {.eighths = true};
  Rng              rng  = rng_seed(1, 1);
  Cell             cell = {.n_notes = 3, .begins = true};
  frame =
    (Frame){.request = &asked, .rhythm = &even, .beat = 960, .max_onsets = 9};
  cr_assert(treat_planting(&cell, MOVE_NEW_NOTES, &frame, &rng).at_start);
  cell.at = 480;
  cr_assert_not(treat_planting(&cell, MOVE_NEW_NOTES, &frame, &rng).at_start);
}

/// What comes twice has room twice, with a note beside it.
Test(say_treat, a_cell_comes_twice_where_it_has_room)
{
  const RhythmRung even = {.eighths = true};
  Rng              rng  = rng_seed(1, 1);
  const Cell       cell = {.n_notes = 3, .begins = true};
  frame =
    (Frame){.request = &asked, .rhythm = &even, .beat = 960, .max_onsets = 7};
  cr_assert(treat_planting(&cell, MOVE_NEW_NOTES, &frame, &rng).twice);
  frame.max_onsets = 6;
  cr_assert_not(treat_planting(&cell, MOVE_NEW_NOTES, &frame, &rng).twice);
  const Phrase left = {.n_notes = 0};
  frame.max_onsets  = 7;
  frame.request     = &(const SayRequest){.departs_from = &left};
  cr_assert_not(treat_planting(&cell, MOVE_NEW_NOTES, &frame, &rng).twice);
  cr_assert(treat_planting(&cell, MOVE_FRAGMENT, &frame, &rng).twice);
}

/// The notes in their order are in a new rhythm only if one of them comes at
/// another distance from the one before.
Test(say_treat, a_new_rhythm_is_another_one)
{
  const MoveFacts facts  = {.move = MOVE_NEW_RHYTHM};
  const uint8_t   line[] = {67, 70, 72};
  const Source    source = {
       .n_notes = 3, .ticks = {480, 960, 1920}, .pitches = {69, 70, 72}};
  draft               = (Draft){.n_notes = 3};
  draft.notes[0].tick = 960; // As it was, half a beat later
  draft.notes[1].tick = 1440;
  draft.notes[2].tick = 2400;
  cr_assert_not(treat_keeps_shape(&draft, &frame, &source, &facts, line));
  draft.notes[2].tick = 2880;
  cr_assert(treat_keeps_shape(&draft, &frame, &source, &facts, line));
}
