// Each move by interval arithmetic, on the sketches that it makes. What a move
// is, is common practice, no source.

#include "fixture.h"

#include "responder/say/frame.h"
#include "responder/say/moves.h"
#include "responder/say/rhythm.h"
#include "responder/say/sketch.h"

#include <criterion/criterion.h>

#include <stdlib.h>
#include <string.h>

enum {
  TURN  = 2 * 4 * TICKS_PER_QUARTER,
  SEEDS = 40,
};

static Fixture fixture;
static Frame   frame;
static Sketch  sketch;

/// Two bars in C mixolydian: C D E G | A G E D C, eighths and quarters, with a
/// breath in the middle.
static Source
plain_source(void)
{
  static const Tick ticks[] = {0, 480, 960, 1920, 3840, 4320, 4800, 5280, 5760};
  static const uint8_t pitches[] = {60, 62, 64, 67, 69, 67, 64, 62, 60};
  Source               source    = {.n_notes = 9};
  for (unsigned i = 0; i < source.n_notes; ++i) {
    source.ticks[i]   = ticks[i];
    source.lengths[i] = i == 2 || i == 3 || i == 8 ? 960 : 480;
    source.pitches[i] = pitches[i];
  }
  return source;
}

static Workshop
open_shop(const Source* const source, Rng* const rng)
{
  static const Source none = {0};
  const Rung          top  = {{6, 6, 6, 1}};
  fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 2, top, 1);
  frame_open(&frame, &fixture.request, rng);
  return (Workshop){&frame, source, &none, rng};
}

static bool
is_source_tick(const Source* const source, const Tick tick)
{
  for (unsigned i = 0; i < source->n_notes; ++i) {
    if (source->ticks[i] == tick) {
      return true;
    }
  }
  return false;
}

Test(say_moves, repeat_is_the_call_at_the_same_place_of_the_turn)
{
  Rng            rng    = rng_seed(1, 1);
  const Source   source = plain_source();
  const Workshop shop   = open_shop(&source, &rng);
  cr_assert(move_sketch(&sketch, &shop, MOVE_REPEAT));
  cr_assert_eq(sketch.n_notes, source.n_notes);
  for (unsigned i = 0; i < sketch.n_notes; ++i) {
    cr_assert_eq(sketch.notes[i].tick - frame.start, source.ticks[i]);
    cr_assert_eq(sketch.notes[i].pitch, source.pitches[i]);
  }
}

Test(say_moves, new_notes_keep_the_rhythm_and_bind_no_pitch)
{
  const Source source = plain_source();
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng            rng  = rng_seed(seed, 1);
    const Workshop shop = open_shop(&source, &rng);
    cr_assert(move_sketch(&sketch, &shop, MOVE_NEW_NOTES));
    cr_assert_eq(sketch.n_notes, source.n_notes);
    for (unsigned i = 0; i < sketch.n_notes; ++i) {
      cr_assert_eq(sketch.notes[i].tick - frame.start, source.ticks[i]);
      cr_assert_geq(sketch.notes[i].pitch_fall, 0.6F, "only a drift");
    }
  }
}

Test(say_moves, new_rhythm_keeps_the_notes_in_their_order)
{
  const Source source = plain_source();
  unsigned     made   = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng            rng  = rng_seed(seed, 1);
    const Workshop shop = open_shop(&source, &rng);
    if (!move_sketch(&sketch, &shop, MOVE_NEW_RHYTHM)) {
      continue;
    }
    ++made;
    cr_assert_leq(abs((int)sketch.n_notes - (int)source.n_notes), 1);
    bool     is_new = sketch.n_notes != source.n_notes;
    unsigned from   = 0; // Every pitch comes after the one before it
    for (unsigned i = 0; i < sketch.n_notes; ++i) {
      is_new |= !is_source_tick(&source, sketch.notes[i].tick - frame.start);
      while (from < source.n_notes &&
             source.pitches[from] != sketch.notes[i].pitch) {
        ++from;
      }
      cr_assert_lt(from, source.n_notes);
    }
    cr_assert(is_new);
  }
  cr_assert_gt(made, SEEDS / 2);
}

/// The scale steps of C mixolydian from C4: 60 is 0.
static int
steps_of(const int pitch)
{
  static const int in_scale[12] = {0, -1, 1, -1, 2, 3, -1, 4, -1, 5, 6, -1};
  const int        above        = pitch - 48;
  cr_assert_geq(in_scale[above % 12], 0, "%d is in the scale", pitch);
  return above / 12 * 7 + in_scale[above % 12];
}

Test(say_moves, sequence_is_the_same_shape_from_another_step)
{
  const Source source = plain_source();
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng            rng  = rng_seed(seed, 1);
    const Workshop shop = open_shop(&source, &rng);
    cr_assert(move_sketch(&sketch, &shop, MOVE_SEQUENCE));
    const int moved = steps_of(sketch.notes[0].pitch) - steps_of(60);
    cr_assert_neq(moved, 0);
    for (unsigned i = 0; i < sketch.n_notes; ++i) {
      cr_assert_eq(steps_of(sketch.notes[i].pitch),
                   steps_of(source.pitches[i]) + moved);
      cr_assert_eq(sketch.notes[i].tick - frame.start, source.ticks[i]);
    }
  }
}

Test(say_moves, turned_over_every_interval_goes_the_other_way)
{
  Rng            rng    = rng_seed(1, 1);
  const Source   source = plain_source();
  const Workshop shop   = open_shop(&source, &rng);
  cr_assert(move_sketch(&sketch, &shop, MOVE_TURN_OVER));
  for (unsigned i = 1; i < sketch.n_notes; ++i) {
    const int was = source.pitches[i] - source.pitches[i - 1];
    cr_assert_eq(sketch.notes[i].pitch - sketch.notes[i - 1].pitch, -was);
  }
}

Test(say_moves, shift_moves_all_onsets_by_a_beat_or_half)
{
  Source source = plain_source();
  for (unsigned i = 0; i < source.n_notes; ++i) {
    source.ticks[i] += 480; // So that there is room before
  }
  source.n_notes = 6;
  bool seen[2]   = {false, false};
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng            rng  = rng_seed(seed, 1);
    const Workshop shop = open_shop(&source, &rng);
    cr_assert(move_sketch(&sketch, &shop, MOVE_SHIFT));
    const Tick shift = sketch.notes[0].tick - frame.start - source.ticks[0];
    cr_assert(llabs(shift) == 960 || llabs(shift) == 480);
    seen[llabs(shift) == 960] = true;
    for (unsigned i = 0; i < sketch.n_notes; ++i) {
      cr_assert_eq(sketch.notes[i].tick - frame.start, source.ticks[i] + shift);
      cr_assert_eq(sketch.notes[i].pitch, source.pitches[i]);
    }
  }
  cr_assert(seen[0] && seen[1]);
}

Test(say_moves, thinned_out_is_a_part_and_the_strong_places_stay)
{
  const Source source = plain_source();
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng            rng  = rng_seed(seed, 1);
    const Workshop shop = open_shop(&source, &rng);
    cr_assert(move_sketch(&sketch, &shop, MOVE_THIN_OUT));
    cr_assert_lt(sketch.n_notes, source.n_notes);
    cr_assert_geq(sketch.n_notes, 2);
    bool has_bar[2] = {false, false};
    for (unsigned i = 0; i < sketch.n_notes; ++i) {
      const Tick at = sketch.notes[i].tick - frame.start;
      cr_assert(is_source_tick(&source, at));
      has_bar[0] |= at == 0;
      has_bar[1] |= at == 3840;
    }
    cr_assert(has_bar[0] && has_bar[1], "the first beats stay");
  }
}

Test(say_moves, filled_in_has_the_call_and_more_between_it)
{
  const Source source = plain_source();
  unsigned     made   = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng            rng  = rng_seed(seed, 1);
    const Workshop shop = open_shop(&source, &rng);
    if (!move_sketch(&sketch, &shop, MOVE_FILL_IN)) {
      continue;
    }
    ++made;
    cr_assert_gt(sketch.n_notes, source.n_notes);
    unsigned found = 0;
    for (unsigned i = 0; i < sketch.n_notes; ++i) {
      const SketchNote* const note = &sketch.notes[i];
      if (is_source_tick(&source, note->tick - frame.start)) {
        cr_assert_eq(note->pitch, source.pitches[found]);
        ++found;
        continue;
      }
      const int a = sketch.notes[i - 1].pitch;
      const int b = sketch.notes[i + 1].pitch;
      cr_assert(abs(note->pitch - a) <= abs(b - a) || abs(a - b) < 2);
    }
    cr_assert_eq(found, source.n_notes);
  }
  cr_assert_gt(made, SEEDS / 2);
}

Test(say_moves, question_is_the_first_half_and_the_answer_another)
{
  const Source source = plain_source();
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng            rng  = rng_seed(seed, 1);
    const Workshop shop = open_shop(&source, &rng);
    cr_assert(move_sketch(&sketch, &shop, MOVE_QUESTION_AND_ANSWER));
    cr_assert(sketch.facts.ends_on_root);
    for (unsigned i = 0; i < 4; ++i) { // C D E G before the breath
      cr_assert_eq(sketch.notes[i].tick - frame.start, source.ticks[i]);
      cr_assert_eq(sketch.notes[i].pitch, source.pitches[i]);
    }
    cr_assert_gt(sketch.n_notes, 5);
    for (unsigned i = 4; i < sketch.n_notes; ++i) {
      cr_assert_geq(sketch.notes[i].tick - frame.start, 3840 - 960);
    }
  }
}

Test(say_moves, fragment_is_one_cell_again_and_again)
{
  const Source source = plain_source();
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng            rng  = rng_seed(seed, 1);
    const Workshop shop = open_shop(&source, &rng);
    cr_assert(move_sketch(&sketch, &shop, MOVE_FRAGMENT));
    const unsigned n = sketch.facts.n_notes;
    cr_assert_geq(sketch.facts.n_times, 2);
    cr_assert_eq(sketch.n_notes, n * sketch.facts.n_times);
    for (unsigned i = n; i < sketch.n_notes; ++i) {
      const SketchNote* const note  = &sketch.notes[i];
      const SketchNote* const model = &sketch.notes[i % n];
      const SketchNote* const first = &sketch.notes[i - i % n];
      cr_assert_eq(note->tick - first->tick,
                   model->tick - sketch.notes[0].tick);
      cr_assert_eq(steps_of(note->pitch) - steps_of(first->pitch),
                   steps_of(model->pitch) - steps_of(sketch.notes[0].pitch));
    }
  }
}

/// Now and then it climbs or falls from one time to the next.
Test(say_moves, fragments_move_on)
{
  const Source source = plain_source();
  unsigned     moved  = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng            rng  = rng_seed(seed, 1);
    const Workshop shop = open_shop(&source, &rng);
    cr_assert(move_sketch(&sketch, &shop, MOVE_FRAGMENT));
    moved += sketch.notes[0].pitch != sketch.notes[sketch.facts.n_notes].pitch;
  }
  cr_assert_gt(moved, SEEDS / 2);
}

Test(say_moves, return_takes_the_first_idea)
{
  Rng          rng    = rng_seed(1, 1);
  const Source source = plain_source();
  Source       first  = source;
  Workshop     shop   = open_shop(&source, &rng);
  first.n_notes       = 5;
  shop.first          = &first;
  cr_assert(move_sketch(&sketch, &shop, MOVE_RETURN));
  cr_assert_eq(sketch.n_notes, 5);
  first.n_notes = 0;
  cr_assert_not(move_sketch(&sketch, &shop, MOVE_RETURN), "no idea yet");
}

/// Who says the first idea again has not left it.
Test(say_moves, there_is_no_return_to_what_was_just_played)
{
  const Rung top = {{6, 6, 6, 1}};
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    fixture_open(&fixture, 0, 2, 2, top, seed);
    Rng rng = rng_seed(seed, 1);
    cr_assert_not(say_by_move(
      &fixture.answer, &fixture.work, &fixture.request, MOVE_RETURN, &rng));
  }
}

Test(say_moves, pick_ups_are_left_out)
{
  static Phrase phrase;
  phrase = (Phrase){.start_tick = 3840, .end_tick = 7680, .n_notes = 3};
  for (unsigned i = 0; i < 3; ++i) {
    phrase.notes[i].grid_tick   = 3840 - 480 + 480 * (Tick)i;
    phrase.notes[i].grid_length = 480;
    phrase.notes[i].note.pitch  = (uint8_t)(60 + i);
  }
  const Source source = source_of_phrase(&phrase);
  cr_assert_eq(source.n_notes, 2);
  cr_assert_eq(source.ticks[0], 0);
  cr_assert_eq(source.pitches[0], 61);
}

Test(say_moves, what_cannot_be_done_is_not)
{
  Rng            rng    = rng_seed(1, 1);
  Source         source = plain_source();
  const Workshop shop   = open_shop(&source, &rng);
  source.n_notes        = 1;
  cr_assert(move_sketch(&sketch, &shop, MOVE_REPEAT));
  cr_assert_not(move_sketch(&sketch, &shop, MOVE_THIN_OUT));
  cr_assert_not(move_sketch(&sketch, &shop, MOVE_FRAGMENT));
  cr_assert_not(move_sketch(&sketch, &shop, MOVE_SEQUENCE));
  cr_assert_not(move_sketch(&sketch, &shop, MOVE_TURN_OVER));
  cr_assert_not(move_sketch(&sketch, &shop, MOVE_QUESTION_AND_ANSWER));
  cr_assert_not(move_sketch(&sketch, &shop, MOVE_FILL_IN));
  source.n_notes = 0;
  for (unsigned move = 0; move < N_MOVES; ++move) {
    cr_assert_not(move_sketch(&sketch, &shop, (Move)move));
  }
}

/// What comes out of the whole: the call's notes, where every one is allowed.
Test(say_moves, an_echo_is_heard_as_one_where_the_rung_allows_all)
{
  unsigned same = 0;
  unsigned all  = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    const Rung top = {{6, 7, 6, 1}};
    fixture_open(&fixture, FIXTURE_ONE_CHORD, 1, 2, top, seed);
    Rng rng = rng_seed(seed, 2);
    if (!say_by_move(&fixture.answer,
                     &fixture.work,
                     &fixture.request,
                     MOVE_REPEAT,
                     &rng)) {
      continue;
    }
    for (unsigned i = 0; i < fixture.answer.n_notes; ++i) {
      const Tick at = fixture.answer.grid_ticks[i] - fixture.request.start;
      for (unsigned j = 0; j < fixture.call.n_notes; ++j) {
        if (fixture.call.notes[j].grid_tick == at) {
          ++all;
          same +=
            fixture.call.notes[j].note.pitch == fixture.answer.notes[i].pitch;
        }
      }
    }
  }
  cr_assert_gt(all, 100);
  cr_assert_gt((double)same / all, 0.75, "%u of %u", same, all);
}

/// Whether the three notes from `i` stand somewhere in a phrase, one after the
/// other: by rhythm, and by direction too, either way up.
static bool
has_cell(const Phrase* const own, const Phrase* const call, const unsigned i)
{
  const HeardNote* const a = &own->notes[i];
  for (unsigned k = 0; k + 2 < call->n_notes; ++k) {
    const HeardNote* const b  = &call->notes[k];
    bool                   is = true;
    int                    ways[2];
    for (unsigned n = 0; n < 2; ++n) {
      is = is && a[n + 1].grid_tick - a[n].grid_tick ==
                   b[n + 1].grid_tick - b[n].grid_tick;
      const int up  = a[n + 1].note.pitch - a[n].note.pitch;
      const int was = b[n + 1].note.pitch - b[n].note.pitch;
      ways[n]       = (up > 0) - (up < 0) == (was > 0) - (was < 0)   ? 1
                      : (up > 0) - (up < 0) == (was < 0) - (was > 0) ? -1
                                                                     : 0;
    }
    if (is && ways[0] != 0 && ways[0] == ways[1]) {
      return true;
    }
  }
  return false;
}

/// Return how many of an answer's groups of three notes are of a call.
static unsigned
count_cells(const Phrase* const own, const Phrase* const call)
{
  unsigned n = 0;
  for (unsigned i = 0; i + 2 < own->n_notes; ++i) {
    n += has_cell(own, call, i);
  }
  return n;
}

static bool
has_whole_rhythm(const Phrase* const own, const Phrase* const call)
{
  bool is = own->n_notes == call->n_notes;
  for (unsigned i = 0; is && i < own->n_notes; ++i) {
    is = own->notes[i].grid_tick - own->start_tick ==
         call->notes[i].grid_tick - call->start_tick;
  }
  return is;
}

/// An answer takes up one cell of the call and does something to it (common
/// practice, no source): in four of five it is found again, in more than of a
/// call that it does not answer; few have the call's whole rhythm.
Test(say_moves, answers_take_up_a_cell_of_the_call)
{
  static Phrase other;
  enum { ANSWERS = 240 };
  unsigned n_of_call = 0, n_of_other = 0, n_related = 0, n_whole = 0;
  for (unsigned seed = 0; seed < ANSWERS; ++seed) {
    const Rung rung = {{7, 6, 6, 1}};
    fixture_open(&fixture, seed % 3, 1 + seed % 4, 2, rung, seed + 1000);
    other = fixture.call;
    fixture_open(&fixture, seed % 3, 1 + seed % 4, 2, rung, seed);
    fixture.request.turn_in_chorus = seed % 4;
    Rng rng                        = rng_seed(seed, 2);
    say_answer(&fixture.answer, &fixture.work, &fixture.request, &rng);
    const Phrase* const own   = &fixture.answer.heard;
    const unsigned      found = count_cells(own, &fixture.call);
    n_of_call += found;
    n_of_other += count_cells(own, &other);
    n_related += found > 0;
    n_whole += has_whole_rhythm(own, &fixture.call);
  }
  cr_assert_geq(n_related, 0.8 * ANSWERS, "%u", n_related);
  cr_assert_gt(n_of_call, 1.2 * n_of_other, "%u %u", n_of_call, n_of_other);
  cr_assert_leq(n_whole, 0.25 * ANSWERS, "%u", n_whole);
}
