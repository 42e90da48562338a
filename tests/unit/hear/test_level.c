// Complexity and rungs. What a rung allows is said in the ladder.

#include "fixture.h"

#include "responder/hear/level.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

static Fixture fixture;

/// Notes of two bars of C7, major scale, one or more at each rung.
typedef struct {
  char     name[40];
  unsigned n;
  Tick     ticks[11];
  uint8_t  pitches[11];
  uint8_t  notes;
  uint8_t  rhythm;
} RungRow;

ParameterizedTestParameters(level, rung)
{
  static RungRow rows[] = {
    {"roots on beats", 3, {0, 960, 3840}, {60, 60, 72}, 1, 1},
    {"root and fifth", 3, {0, 960, 3840}, {60, 67, 60}, 2, 1},
    {"a triad", 3, {0, 960, 3840}, {60, 64, 67}, 3, 1},
    {"all chord tones", 4, {0, 960, 3840, 4800}, {60, 64, 67, 70}, 4, 1},
    {"a scale tone", 3, {0, 960, 3840}, {60, 62, 64}, 5, 1},
    {"more than an octave", 3, {0, 960, 3840}, {60, 62, 74}, 6, 1},
    {"a note outside", 3, {0, 960, 3840}, {60, 63, 64}, 7, 1},
    {"two octaves", 3, {0, 960, 3840}, {60, 63, 84}, 8, 1},
    {"eighths", 4, {0, 480, 960, 3840}, {60, 60, 60, 60}, 1, 2},
    {"begins off the beat", 3, {480, 960, 3840}, {60, 60, 60}, 1, 4},
    {"tied over the beat", 3, {0, 480, 1920}, {60, 60, 60}, 1, 4},
    {"triplet", 4, {0, 320, 640, 960}, {60, 60, 60, 60}, 1, 5},
    {"sixteenths", 4, {0, 240, 480, 960}, {60, 60, 60, 60}, 1, 6},
    {"groups of three eighths",
     6,
     {0, 1440, 2880, 4320, 5760, 7200},
     {60, 60, 60, 60, 60, 60},
     1,
     7},
    {"groups that part at the bar line",
     3,
     {2400, 3840, 5280},
     {60, 60, 60},
     1,
     4},
    {"two groups of three eighths", 3, {2880, 4320, 6720}, {60, 60, 60}, 1, 4},
    {"five and a half notes a bar",
     11,
     {0, 480, 960, 1440, 1920, 2400, 2880, 3360, 3840, 4320, 4800},
     {60, 60, 60, 60, 60, 60, 60, 60, 60, 60, 60},
     1,
     3},
    {"beats with a gap", 3, {0, 960, 2880}, {60, 60, 60}, 1, 1},
    {"ends off the beat", 3, {0, 960, 1440}, {60, 60, 60}, 1, 4},
  };
  return cr_make_param_array(RungRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(RungRow* row, level, rung)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  for (unsigned i = 0; i < row->n; ++i) {
    fixture_add(&fixture, row->ticks[i], 200, row->pitches[i]);
  }
  const Rung rung = fixture_hear_written(&fixture, 2)->rung;
  cr_assert_eq(rung.level[DIMENSION_NOTES], row->notes, "%s", row->name);
  cr_assert_eq(rung.level[DIMENSION_RHYTHM],
               row->rhythm,
               "%s: %u",
               row->name,
               rung.level[DIMENSION_RHYTHM]);
  cr_assert_eq(rung.level[DIMENSION_SHAPE], 1);
  cr_assert_eq(rung.level[DIMENSION_ORNAMENT], 1);
}

Test(level, swung_eighths_are_the_third_rung)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  for (unsigned i = 0; i < 9; ++i) {
    fixture_add(&fixture, (Tick)i * 480 + (i % 2 ? 120 : 0), 200, 60);
    fixture.places[i] = (Tick)i * 480;
  }
  const Phrase* const phrase = fixture_hear_written(&fixture, 2);
  cr_assert_eq(phrase->rung.level[DIMENSION_RHYTHM], 3);
  cr_assert_eq(phrase->measures.grid, GRID_SWUNG_EIGHTH);
}

static float
complexity(void)
{
  return fixture_hear_written(&fixture, 2)->measures.complexity;
}

/// Whether a phrase has become harder by a change that leaves all else.
#define HARDER(before, change)                                                 \
  do {                                                                         \
    change;                                                                    \
    const float now = complexity();                                            \
    cr_assert_gt(now, before, #change ": %f after %f", now, before);           \
    before = now;                                                              \
  } while (0)

Test(level, harder_notes_are_more_complex)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  for (unsigned i = 0; i < 4; ++i) {
    fixture_add(&fixture, (Tick)i * 1920, 900, 60);
  }
  float before = complexity();
  HARDER(before, fixture.notes[1].pitch = 64); // A second chord tone
  HARDER(before, fixture.notes[2].pitch = 67); // A third
  HARDER(before, fixture.notes[2].pitch = 65); // A scale tone for it
  HARDER(before, fixture.notes[2].pitch = 66); // A note outside for that
  HARDER(before, fixture.notes[3].pitch = 72); // A wider range
}

/// The same range and leaps with one more tone.
Test(level, a_larger_vocabulary_is_more_complex)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  for (unsigned i = 0; i < 4; ++i) {
    fixture_add(&fixture, (Tick)i * 1920, 900, i % 2 ? 72 : 60);
  }
  float before = complexity();
  HARDER(before, fixture.notes[2].pitch = 67);
}

Test(level, harder_rhythms_are_more_complex)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  for (unsigned i = 0; i < 5; ++i) {
    fixture_add(&fixture, (Tick)i * 960, 400, 60);
  }
  float before = complexity();
  HARDER(before, fixture_add(&fixture, 4800, 400, 60)); // More notes
  HARDER(before, fixture.places[3] = fixture.notes[3].tick = 3360); // Eighths
  HARDER(before, fixture.notes[3].tick += 120);                     // ... swung
  HARDER(before, fixture_add(&fixture, 5280, 400, 60)); // Off the beat
  HARDER(before,
         fixture.places[5] = fixture.notes[5].tick = 5040); // Sixteenths
}

Test(level, ornaments_are_more_complex)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 900, 60, 63);
  fixture_add(&fixture, 960, 900, 64);
  fixture.places[0]    = 960;
  fixture.ornaments[0] = true;
  const float with     = complexity();
  fixture.n_notes      = 0;
  fixture_add(&fixture, 960, 900, 64);
  cr_assert_gt(with, complexity());
}

Test(level, complexity_is_a_percentage)
{
  Rng rng = rng_seed(1, 1);
  for (unsigned seed = 0; seed < 300; ++seed) {
    fixture_open(&fixture, "4/4", "C7|F7", "major blues", 120);
    const unsigned n = rng_below(&rng, 64);
    for (unsigned i = 0; i < n; ++i) {
      fixture_add(&fixture, (Tick)i * 120, 100, 30 + rng_below(&rng, 70));
    }
    const float found = complexity();
    cr_assert(found >= 0 && found <= 100, "%f", found);
  }
}

/// One thing in a phrase of a held root, and how much of a hundred it makes:
/// half of what it weighs at half of what counts as full, all of it at full,
/// and no more beyond. Each weight and measure of level.c; common practice, no
/// source.
typedef struct {
  char     name[24];
  unsigned degrees; ///< Of the scale, from the root up
  Grid     grid;
  unsigned n_ornaments; ///< Of eight written notes
  Measures measures;
  float    complexity;
} PartRow;

ParameterizedTestParameters(level, parts)
{
  static PartRow rows[] = {
    {"nothing", 1, GRID_BEAT, 0, {0}, 0},
    {"five degrees", 5, GRID_BEAT, 0, {0}, 8},
    {"nine degrees", 9, GRID_BEAT, 0, {0}, 16},
    {"ten degrees", 10, GRID_BEAT, 0, {0}, 16},
    {"scale tones", 1, GRID_BEAT, 0, {.scale_share = 0.25F}, 4},
    {"half of them", 1, GRID_BEAT, 0, {.scale_share = 0.5F}, 8},
    {"more", 1, GRID_BEAT, 0, {.scale_share = 0.6F}, 8},
    {"outside", 1, GRID_BEAT, 0, {.outside_share = 0.15F}, 6},
    {"three in ten", 1, GRID_BEAT, 0, {.outside_share = 0.3F}, 12},
    {"more outside", 1, GRID_BEAT, 0, {.outside_share = 0.4F}, 12},
    {"an octave", 1, GRID_BEAT, 0, {.range = 12}, 5},
    {"two octaves", 1, GRID_BEAT, 0, {.range = 24}, 10},
    {"three octaves", 1, GRID_BEAT, 0, {.range = 36}, 10},
    {"leaps", 1, GRID_BEAT, 0, {.wider = 0.2F}, 3},
    {"two in five", 1, GRID_BEAT, 0, {.wider = 0.4F}, 6},
    {"more leaps", 1, GRID_BEAT, 0, {.wider = 0.5F}, 6},
    {"seven a bar", 1, GRID_BEAT, 0, {.onsets_per_bar = 7}, 7},
    {"fourteen a bar", 1, GRID_BEAT, 0, {.onsets_per_bar = 14}, 14},
    {"more a bar", 1, GRID_BEAT, 0, {.onsets_per_bar = 16}, 14},
    {"eighths", 1, GRID_EIGHTH, 0, {0}, 4.2F},
    {"swung", 1, GRID_SWUNG_EIGHTH, 0, {0}, 6.3F},
    {"triplets", 1, GRID_TRIPLET, 0, {0}, 9.8F},
    {"sixteenths", 1, GRID_SIXTEENTH, 0, {0}, 14},
    {"syncopated", 1, GRID_BEAT, 0, {.syncopation = 3}, 6},
    {"much so", 1, GRID_BEAT, 0, {.syncopation = 6}, 12},
    {"more so", 1, GRID_BEAT, 0, {.syncopation = 7}, 12},
    {"an ornament", 1, GRID_BEAT, 1, {0}, 4},
    {"two ornaments", 1, GRID_BEAT, 2, {0}, 8},
    {"three ornaments", 1, GRID_BEAT, 3, {0}, 8},
  };
  return cr_make_param_array(PartRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(PartRow* row, level, parts)
{
  static Phrase phrase;
  phrase                      = (Phrase){.n_notes = 0};
  phrase.measures             = row->measures;
  phrase.measures.n_ornaments = row->n_ornaments;
  fixture_open(&fixture, "4/4", "C7", "major", 120);
  const unsigned n_written = row->n_ornaments ? 8 : row->degrees;
  for (unsigned i = 0; i < n_written + row->n_ornaments; ++i) {
    phrase.notes[phrase.n_notes++] = (HeardNote){
      .note        = {0, 100, (uint8_t)(60 + i % row->degrees), 80},
      .grid        = (uint8_t)row->grid,
      .is_ornament = i >= n_written,
    };
  }
  const double found = (double)level_complexity(&phrase, &fixture.chart);
  cr_assert_float_eq(
    found, (double)row->complexity, 1e-3, "%s: %g", row->name, found);
}
