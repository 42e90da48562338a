// Crushed notes: common practice, no source; lengths after facts on grace notes
// (see ornament.c).

#include "fixture.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

static Fixture fixture;

/// A note so long before E on the second beat, after C on the first.
typedef struct {
  char     name[40];
  double   before_ms;
  unsigned pitch;
  Tick     main_length; ///< And when the next note comes
  bool     is_ornament;
} CrushedRow;

ParameterizedTestParameters(ornament, crushed)
{
  static CrushedRow rows[] = {
    {"a semitone below", 60, 63, 960, true},
    {"a tone above", 60, 66, 960, true},
    {"almost together", 12, 63, 960, true},
    {"a fourth away", 60, 59, 960, false},
    {"the same note", 60, 64, 960, false},
    {"an eighth before", 250, 63, 960, false},
    {"no shorter than what follows", 60, 63, 130, false},
    {"a third above", 60, 67, 960, false},
    {"just short enough", 78, 63, 960, true}, // 80 ms
    {"just too long", 83, 63, 960, false},
    {"a little under a third of it", 60, 63, 300, true},
    {"a little over a third of it", 60, 63, 276, false},
  };
  return cr_make_param_array(CrushedRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(CrushedRow* row, ornament, crushed)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 100);
  const Tick before = fixture_ticks(&fixture, row->before_ms);
  fixture_add(&fixture, 0, 700, 60);
  fixture_add(&fixture, 960 - before, before < 96 ? before : 96, row->pitch);
  fixture_add(&fixture, 960, row->main_length - 20, 64);
  fixture_add(&fixture, 960 + row->main_length, 400, 67);
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->n_notes, 4);
  cr_assert_eq(phrase->notes[1].is_ornament, row->is_ornament, "%s", row->name);
  cr_assert_eq(phrase->measures.n_ornaments, row->is_ornament);
  if (row->is_ornament) {
    cr_assert_eq(phrase->notes[1].grid_tick, 960);
    cr_assert_eq(phrase->notes[2].grid_tick, 960);
    cr_assert_eq(phrase->measures.onsets_per_bar, 1.5F);
    cr_assert_str_eq(phrase->contour, "*uu");
    cr_assert_eq(phrase->rung.level[DIMENSION_ORNAMENT], 2);
  }
}

Test(ornament, turns_are_of_three_notes)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 100);
  const Tick step = fixture_ticks(&fixture, 60);
  fixture_add(&fixture, 0, 600, 60);
  fixture_add(&fixture, 1920 - 3 * step, step, 65);
  fixture_add(&fixture, 1920 - 2 * step, step, 64);
  fixture_add(&fixture, 1920 - step, step, 62);
  fixture_add(&fixture, 1920, 900, 64);
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->measures.n_ornaments, 3);
  for (unsigned i = 1; i < 5; ++i) {
    cr_assert_eq(phrase->notes[i].grid_tick, 1920);
  }
  cr_assert_eq(phrase->rung.level[DIMENSION_ORNAMENT], 4);
}

/// A fourth makes a run of them, which leads in and is no ornament.
Test(ornament, four_notes_are_a_run)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 100);
  const Tick step = fixture_ticks(&fixture, 60);
  fixture_add(&fixture, 0, 600, 60);
  for (unsigned i = 0; i < 4; ++i) {
    fixture_add(&fixture, 1920 - (4 - i) * step, step, i % 2 ? 65 : 62);
  }
  fixture_add(&fixture, 1920, 1800, 64);
  cr_assert_eq(fixture_hear(&fixture, 2)->measures.n_ornaments, 0);
}

/// Two quick notes before E on the third beat: around it they decorate it, on
/// the way to it they are its pick-up, unless they are slid over.
typedef struct {
  char     name[32];
  unsigned first, second;
  double   ms; ///< Each
  unsigned n_ornaments;
} PairRow;

ParameterizedTestParameters(ornament, pairs)
{
  static PairRow rows[] = {
    {"from above and below", 66, 63, 70, 2},
    {"rising", 62, 63, 70, 0},
    {"falling", 66, 65, 70, 0},
    {"rising, hardly slower", 62, 63, 53, 0},
    {"slid", 62, 63, 47, 2},
    {"slid from above", 66, 65, 47, 2},
  };
  return cr_make_param_array(PairRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(PairRow* row, ornament, pairs)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 100);
  const Tick step = fixture_ticks(&fixture, row->ms);
  fixture_add(&fixture, 0, 600, 60);
  fixture_add(&fixture, 960, 600, 62);
  fixture_add(&fixture, 1920 - 2 * step, step, row->first);
  fixture_add(&fixture, 1920 - step, step, row->second);
  fixture_add(&fixture, 1920, 900, 64);
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->measures.n_ornaments, row->n_ornaments);
  cr_assert_eq(phrase->notes[4].grid_tick, 1920);
}

/// What leads into a note between the halves and thirds of a beat is a note of
/// its own.
Test(ornament, decorates_notes_on_the_grid_only)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 200);
  fixture_add(&fixture, 0, 900, 60);
  fixture_add(&fixture, 1920, 200, 63);
  fixture_add(&fixture, 2160, 900, 64);
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->measures.n_ornaments, 0);
  cr_assert_eq(phrase->notes[1].grid_tick, 1920);
  cr_assert_eq(phrase->notes[2].grid_tick, 2160);
}

/// A scale in fast sixteenths into a long note is a run.
Test(ornament, a_run_is_none)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 200);
  static const uint8_t pitches[] = {60, 62, 64, 65, 67};
  for (unsigned i = 0; i < 5; ++i) {
    fixture_add(&fixture, (Tick)i * 240, i < 4 ? 240 : 1800, pitches[i]);
  }
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->measures.n_ornaments, 0);
  cr_assert_eq(phrase->notes[4].grid_tick, 960);
}

/// A short note that comes soon after the one before is of a run: where it is
/// longer than a good half of the time since that one (common practice, no
/// source).
Test(ornament, beside_the_note_before)
{
  for (unsigned row = 0; row < 2; ++row) {
    fixture_open(&fixture, "4/4", "C7|C7", "major", 100);
    fixture_add(&fixture, 960, 700, 62);
    fixture_add(&fixture, 1920 - 96 - (row ? 170 : 179), 130, 60);
    fixture_add(&fixture, 1920 - 96, 90, 63);
    fixture_add(&fixture, 1920, 900, 64);
    const Phrase* const phrase = fixture_hear(&fixture, 2);
    cr_expect_eq(phrase->notes[2].is_ornament, row == 0, "row %u", row);
  }
}

/// Fast jazz lines are not full of grace notes.
Test(ornament, fast_eighths_are_none)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 300);
  for (unsigned i = 0; i < 16; ++i) {
    const Tick swing = i % 2 ? 80 : 0; // Short notes of 83 ms
    fixture_add(&fixture, (Tick)i * 480 + swing, 300, 60 + i % 3);
  }
  cr_assert_eq(fixture_hear(&fixture, 2)->measures.n_ornaments, 0);
}
