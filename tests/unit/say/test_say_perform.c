// How it is played: places, lengths, stress. The shaping is common practice, no
// source.

#include "fixture.h"

#include "core/music/swing.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>

static Fixture fixture;
static Phrase  heard;

static const Rung swinging = {{5, 4, 3, 1}};

static void
answer_to(const unsigned style, const Rung rung, const unsigned seed)
{
  fixture_open(&fixture, 0, style, 2, rung, seed);
  fixture.request.swing_ratio = 2.0;
  Rng rng                     = rng_seed(seed, 1);
  say_answer(&fixture.answer, &fixture.work, &fixture.request, &rng);
}

/// Hear the answer as it sounds, told nothing of it.
static void
hear_answer(void)
{
  hear_phrase(&heard,
              &fixture.hear_work,
              &fixture.request.ear,
              fixture.answer.notes,
              fixture.answer.n_notes,
              fixture.request.start,
              fixture.request.end);
  cr_assert_eq(heard.n_notes, fixture.answer.n_notes);
}

/// Return the mean place of the half beats in their beat, 0.5 even, 2/3 triplet
/// swing; `n` counts them.
static double
mean_half_beat(const Rung rung, unsigned* const n)
{
  double sum = 0.0;
  *n         = 0;
  for (unsigned seed = 0; seed < 80; ++seed) {
    answer_to(1, rung, seed);
    for (unsigned i = 0; i < fixture.answer.n_notes; ++i) {
      const Tick written = fixture.answer.grid_ticks[i];
      if (written % 960 == 480) {
        sum += (double)(fixture.answer.notes[i].tick - written + 480) / 960.0;
        ++*n;
      }
    }
  }
  return sum / *n;
}

/// The calls made here are even, and the feel 2 : 1: between the two, nearer to
/// the feel.
Test(say_perform, half_beats_swing_by_the_feel_drawn_toward_the_player)
{
  unsigned     n    = 0;
  const double mean = mean_half_beat(swinging, &n);
  cr_assert_gt(n, 50);
  cr_assert_gt(mean, 0.55);
  cr_assert_lt(mean, 0.667);
}

Test(say_perform, before_the_swing_rung_eighths_are_as_even_as_the_players)
{
  unsigned     n    = 0;
  const double mean = mean_half_beat((Rung){{5, 2, 3, 1}}, &n);
  cr_assert_gt(n, 50);
  cr_assert_float_eq(mean, 0.5, 0.03);
}

Test(say_perform, never_late_on_the_first_beat_of_a_bar_and_near_elsewhere)
{
  const double ticks_per_ms = 132.0 * 960.0 / 60000.0;
  unsigned     off          = 0;
  for (unsigned seed = 0; seed < 80; ++seed) {
    answer_to(seed % N_FIXTURE_CALLS, swinging, seed);
    for (unsigned i = 0; i < fixture.answer.n_notes; ++i) {
      const Tick written = fixture.answer.grid_ticks[i];
      const Tick late    = fixture.answer.notes[i].tick - written;
      if (written % 3840 == 0) {
        cr_assert_leq(late, 0);
      }
      if (written % 960 == 0) {
        cr_assert_leq((double)llabs(late), 6.0 * ticks_per_ms);
        off += late != 0;
      }
    }
  }
  cr_assert_gt(off, 50, "a few milliseconds of spread");
}

/// Soloists, 298 of the Weimar Jazz Database, at 100-140 bpm: on the beat 30 ms
/// late, 28 ms about it; at 140-180 bpm 21 and 25. Two thirds of what lies
/// between at 132, less what is cut so that no note is heard elsewhere.
Test(say_perform, late_and_loose_as_soloists_at_the_last_rung_of_rhythm)
{
  const double ms_per_tick = 60000.0 / (132.0 * 960.0);
  double       sum         = 0.0;
  double       squares     = 0.0;
  unsigned     n           = 0;
  for (unsigned seed = 0; seed < 120; ++seed) {
    answer_to(1 + seed % 4, (Rung){{8, 7, 6, 1}}, seed);
    const Answer* const answer = &fixture.answer;
    for (unsigned i = 0; i < answer->n_notes; ++i) {
      const Tick   written = answer->grid_ticks[i];
      const double late    = (double)(answer->notes[i].tick - written);
      if (written % 960 == 0 && !answer->is_ornament[i]) {
        sum += late * ms_per_tick;
        squares += late * late * ms_per_tick * ms_per_tick;
        ++n;
      }
    }
  }
  const double mean   = sum / n;
  const double spread = sqrt(squares / n - mean * mean);
  cr_assert_gt(n, 500);
  cr_assert_gt(mean, 12.0);
  cr_assert_lt(mean, 20.0, "%.1f", mean);
  cr_assert_gt(spread, 11.0);
  cr_assert_lt(spread, 21.0, "%.1f", spread);
}

/// However late, a note sounds nearer to its own place than to another's.
Test(say_perform, no_note_is_heard_at_another_place)
{
  for (unsigned seed = 0; seed < 120; ++seed) {
    answer_to(1 + seed % 4, (Rung){{8, 7, 6, 1}}, seed);
    const Answer* const answer = &fixture.answer;
    for (unsigned i = 0; i + 1 < answer->n_notes; ++i) {
      const Tick gap  = answer->grid_ticks[i + 1] - answer->grid_ticks[i];
      const Tick late = answer->notes[i].tick - answer->grid_ticks[i];
      if (answer->grid_ticks[i] % 960 == 0 && !answer->is_ornament[i] &&
          !answer->is_ornament[i + 1]) {
        cr_assert_leq(llabs(late), gap / 4);
      }
    }
  }
}

/// Swing is of eighths: sixteenths are even, as common practice has it (no
/// source), else the first two of a beat are heard as triplets.
Test(say_perform, the_listener_hears_each_note_at_its_own_place)
{
  unsigned n         = 0;
  unsigned sixteenth = 0;
  unsigned elsewhere = 0;
  for (unsigned seed = 0; seed < 160; ++seed) {
    answer_to(1 + seed % 4, (Rung){{6, 6, 4, 1}}, seed);
    const Answer* const answer = &fixture.answer;
    hear_answer();
    for (unsigned i = 0; i < answer->n_notes; ++i) {
      n += answer->is_ornament[i] ? 0 : 1;
      sixteenth += answer->grid_ticks[i] % 480 == 240 ? 1 : 0;
      elsewhere += !answer->is_ornament[i] &&
                       heard.notes[i].grid_tick != answer->grid_ticks[i]
                     ? 1
                     : 0;
    }
  }
  cr_assert_gt(sixteenth, 50);
  cr_assert_lt(elsewhere, n / 60, "%u of %u", elsewhere, n);
}

Test(say_perform, as_loud_as_the_player)
{
  for (unsigned seed = 0; seed < 40; ++seed) {
    answer_to(3, swinging, seed);
    unsigned soft = 127;
    unsigned loud = 1;
    for (unsigned i = 0; i < fixture.call.n_notes; ++i) {
      const unsigned velocity = fixture.call.notes[i].note.velocity;
      soft                    = velocity < soft ? velocity : soft;
      loud                    = velocity > loud ? velocity : loud;
    }
    const unsigned wider = loud - soft < 12 ? 7 : 0;
    for (unsigned i = 0; i < fixture.answer.n_notes; ++i) {
      cr_assert_geq(fixture.answer.notes[i].velocity + wider, soft);
      cr_assert_leq(fixture.answer.notes[i].velocity, loud + wider);
    }
  }
}

/// Over many: on the beat louder than off it, and the last of all shorter than
/// its written length.
Test(say_perform, stress_and_lengths_are_shaped)
{
  double   loud[2] = {0.0, 0.0};
  unsigned n[2]    = {0, 0};
  for (unsigned seed = 0; seed < 120; ++seed) {
    answer_to(1 + seed % 4, swinging, seed);
    const Answer* const answer = &fixture.answer;
    for (unsigned i = 0; i < answer->n_notes; ++i) {
      const unsigned off = answer->grid_ticks[i] % 960 != 0;
      loud[off] += answer->notes[i].velocity;
      ++n[off];
      if (i + 1 < answer->n_notes) {
        const Tick slot = answer->notes[i + 1].tick - answer->notes[i].tick;
        cr_assert_leq(answer->notes[i].length, slot);
      }
    }
  }
  cr_assert_gt(loud[0] / n[0], loud[1] / n[1]);
}

/// Played to the listener, who is told nothing, ornaments are heard as such and
/// nothing else is.
Test(say_perform, the_listener_takes_ornaments_for_ornaments)
{
  unsigned same      = 0;
  unsigned all       = 0;
  unsigned ornaments = 0;
  for (unsigned seed = 0; seed < 120; ++seed) {
    answer_to(1 + seed % 4, (Rung){{5, 4, 4, 4}}, seed);
    const Answer* const answer      = &fixture.answer;
    fixture.request.ear.split_pitch = 1;
    hear_answer();
    for (unsigned i = 0; i < answer->n_notes; ++i) {
      same += heard.notes[i].is_ornament == answer->is_ornament[i];
      ornaments += answer->is_ornament[i];
      ++all;
    }
  }
  cr_assert_gt(ornaments, 40);
  cr_assert_gt((double)same / all, 0.98, "%u of %u", same, all);
}
