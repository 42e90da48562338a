// Which notes are the melody: made-up playing of two hands.

#include "fixture.h"

#include <criterion/criterion.h>

#include <math.h>

static Fixture fixture;

static void
add_chord(const Tick tick, const unsigned root)
{
  // Root, third and seventh, spread over 10 ms
  fixture_add(&fixture, tick, 700, root);
  fixture_add(&fixture, tick + fixture_ticks(&fixture, 5), 700, root + 4);
  fixture_add(&fixture, tick + fixture_ticks(&fixture, 10), 700, root + 10);
}

static void
begin(void)
{
  fixture_open(&fixture, "4/4", "C7|F7", "major blues", 120);
}

Test(hands, chords_below_the_split_are_kept_apart)
{
  begin();
  add_chord(0, 40);
  fixture_add(&fixture, 480, 400, 67);
  fixture_add(&fixture, 960, 400, 70);
  add_chord(1920, 41);
  fixture_add(&fixture, 2880, 900, 69);
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->n_comping, 6);
  cr_assert_eq(phrase->n_notes, 3);
  cr_assert_eq(phrase->notes[0].note.pitch, 67);
  cr_assert_eq(phrase->notes[2].note.pitch, 69);
}

Test(hands, the_top_of_a_chord_with_the_melody_is_the_melody)
{
  begin();
  add_chord(0, 40);
  fixture_add(&fixture, fixture_ticks(&fixture, 14), 700, 72);
  fixture_add(&fixture, 960, 400, 70);
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->n_comping, 3);
  cr_assert_eq(phrase->n_notes, 2);
  cr_assert_eq(phrase->notes[0].note.pitch, 72);
}

Test(hands, chords_alone_are_no_melody)
{
  begin();
  for (unsigned i = 0; i < 4; ++i) {
    fixture_add(&fixture, (Tick)i * 960, 700, 48);
    fixture_add(&fixture, (Tick)i * 960 + 5, 700, 58);
  }
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->n_notes, 0);
  cr_assert_eq(phrase->n_comping, 8);
  cr_assert_eq(phrase->measures.space, 1);
}

Test(hands, a_low_line_is_a_melody)
{
  begin();
  for (unsigned i = 0; i < 8; ++i) {
    fixture_add(&fixture, (Tick)i * 480, 430, 45 + i);
  }
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->n_notes, 8);
  cr_assert_eq(phrase->n_comping, 0);
}

/// One high note among low ones does not make the left hand's of a third: where
/// the melody lies, most notes tell.
Test(hands, one_high_note_does_not_move_the_melody)
{
  begin();
  for (unsigned i = 0; i < 8; ++i) {
    fixture_add(&fixture, (Tick)i * 480, 400, i == 4 ? 84 : i == 3 ? 55 : 57);
    if (i == 3) {
      fixture_add(&fixture, (Tick)i * 480 + 5, 400, 52);
    }
  }
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->n_notes, 8);
  cr_assert_eq(phrase->n_comping, 1);
  cr_assert_eq(phrase->notes[3].note.pitch, 55);
}

/// One bass note at a time under a melody that sounds on; a low note of the
/// line itself stays.
Test(hands, bass_notes_are_no_melody)
{
  begin();
  for (unsigned i = 0; i < 4; ++i) {
    fixture_add(&fixture, (Tick)i * 1920, 1800, 70 + i);
    fixture_add(&fixture, (Tick)i * 1920 + 960, 700, 41);
  }
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->n_notes, 4);
  cr_assert_eq(phrase->n_comping, 4);
  for (unsigned i = 0; i < 4; ++i) {
    fixture.notes[2 * i].length = 900;
  }
  cr_assert_eq(fixture_hear(&fixture, 2)->n_notes, 8);
}

/// 0 and 25 ms: one chord; 70 ms: two events (facts on asynchrony, Hove, Keller
/// & Krumhansl 2007; the cut in between is a choice).
Test(hands, struck_together)
{
  static const struct {
    double   gap_ms;
    unsigned n_melody;
  } rows[] = {{0, 1}, {25, 1}, {70, 2}};
  for (unsigned i = 0; i < 3; ++i) {
    begin();
    fixture_add(&fixture, 0, 900, 64);
    fixture_add(&fixture, fixture_ticks(&fixture, rows[i].gap_ms), 900, 76);
    cr_assert_eq(fixture_hear(&fixture, 2)->n_notes, rows[i].n_melody);
  }
}

/// Two neighbours struck together, by how far they are apart: a semitone above
/// the split is crushed, whichever comes first; anything else is a chord.
Test(hands, crushed_seconds)
{
  static const struct {
    unsigned low, high;
    double   gap_ms; ///< From the low one to the high one
    unsigned n_melody, n_ornaments;
  } rows[] = {
    {75, 76, 0, 2, 1},
    {75, 76, 8, 2, 1},
    {75, 76, -8, 2, 1},
    {74, 76, 0, 1, 0},
    {60, 61, 0, 2, 1},
    {59, 60, 0, 1, 0}, // The lower one is the left hand's
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    begin();
    const Tick gap          = fixture_ticks(&fixture, fabs(rows[i].gap_ms));
    const bool low_is_first = rows[i].gap_ms >= 0;
    fixture_add(&fixture, 960, 900, low_is_first ? rows[i].low : rows[i].high);
    fixture_add(
      &fixture, 960 + gap, 900, low_is_first ? rows[i].high : rows[i].low);
    fixture_add(&fixture, 2880, 900, 67);
    const Phrase* const phrase = fixture_hear(&fixture, 2);
    cr_assert_eq(phrase->n_notes, rows[i].n_melody + 1, "row %u", i);
    cr_assert_eq(
      phrase->measures.n_ornaments, rows[i].n_ornaments, "row %u", i);
    cr_assert_eq(phrase->n_comping, 2 - rows[i].n_melody, "row %u", i);
    cr_assert_eq(phrase->notes[rows[i].n_melody - 1].note.pitch, rows[i].high);
    cr_assert_eq(phrase->notes[0].grid_tick, 960);
  }
}

Test(hands, between_30_and_50_ms_they_must_sound_together)
{
  for (unsigned overlap = 0; overlap < 2; ++overlap) {
    begin();
    const Tick gap = fixture_ticks(&fixture, 40);
    fixture_add(&fixture, 0, overlap ? 900 : gap, 64);
    fixture_add(&fixture, gap, 900, 76);
    cr_assert_eq(fixture_hear(&fixture, 2)->n_notes, overlap ? 1 : 2);
  }
}

Test(hands, a_rolled_chord_is_one_chord)
{
  begin();
  for (unsigned i = 0; i < 4; ++i) {
    fixture_add(&fixture,
                fixture_ticks(&fixture, 25.0 * i),
                1500,
                (unsigned[]){55, 60, 64, 72}[i]);
  }
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->n_notes, 1);
  cr_assert_eq(phrase->notes[0].note.pitch, 72);
}

/// Every note is heard once: as melody, as a chord's, or not for want of room.
Test(hands, every_note_is_counted_once)
{
  Rng rng = rng_seed(1, 1);
  for (unsigned seed = 0; seed < 200; ++seed) {
    begin();
    const unsigned n    = rng_below(&rng, FIXTURE_NOTE_CAPACITY);
    const unsigned most = 1 + rng_below(&rng, 60);
    Tick           tick = 0;
    for (unsigned i = 0; i < n; ++i) {
      tick += rng_below(&rng, most);
      const unsigned key = 30 + rng_below(&rng, 60);
      fixture_add(&fixture, tick, 1 + rng_below(&rng, 900), key);
    }
    const Phrase* const phrase = fixture_hear(&fixture, 8);
    cr_assert_eq(phrase->n_notes + phrase->n_comping + phrase->n_dropped, n);
    cr_assert_leq(phrase->n_notes, PHRASE_CAPACITY);
  }
}
