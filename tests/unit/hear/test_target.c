// The note a phrase aims at: common practice, no source. Each weight of
// target.c stands on both sides of a duel: last, before_rest, rest, length,
// weight, root, chord_tone, stepped_to and stress.

#include "fixture.h"

#include "responder/hear/target.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

static Fixture fixture;

static unsigned
target_of_notes(void)
{
  return fixture_hear_written(&fixture, 2)->target;
}

Test(target, the_last_long_root)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 0, 400, 67);
  fixture_add(&fixture, 480, 400, 65);
  fixture_add(&fixture, 960, 400, 64);
  fixture_add(&fixture, 1440, 400, 62);
  fixture_add(&fixture, 1920, 1800, 60);
  cr_assert_eq(target_of_notes(), 4);
}

/// A throw-away off-beat after a long root on the beat is not what it aimed at.
Test(target, a_long_root_before_a_short_tail)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 0, 400, 64);
  fixture_add(&fixture, 480, 400, 62);
  fixture_add(&fixture, 960, 1900, 60);
  fixture_add(&fixture, 5280, 150, 66);
  cr_assert_eq(target_of_notes(), 2);
}

/// The same bar twice: a fifth on the first beat, then notes outside. Its two
/// fifths are alike in all but stress.
Test(target, stress_tells_between_equals)
{
  for (unsigned loud = 0; loud < 2; ++loud) {
    fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
    for (unsigned bar = 0; bar < 2; ++bar) {
      fixture_add(&fixture, (Tick)bar * 3840, 1920, 67);
      for (unsigned i = 4; i < 8; ++i) {
        fixture_add(
          &fixture, (Tick)bar * 3840 + (Tick)i * 480, 470, i % 2 ? 63 : 73);
      }
    }
    fixture.notes[5 * loud].velocity = 120;
    cr_assert_eq(target_of_notes(), 5 * loud);
  }
}

/// Where a phrase ends: a last note on a beat or not, of some length, after a
/// long fifth in the bar before. How the turn goes on does not matter.
typedef struct {
  char     name[32];
  Tick     tick;
  Tick     length;
  unsigned pitch;
  bool     is_target;
} EndRow;

ParameterizedTestParameters(target, the_end)
{
  static EndRow rows[] = {
    {"root held to the line", 5760, 1920, 60, true},
    {"root held over the line", 5760, 3840, 60, true},
    {"root of a beat, to the line", 6720, 960, 60, true},
    {"root, then silence", 5760, 700, 60, true},
    {"third held to the line", 5760, 1920, 64, true},
    {"short pick-up", 7200, 300, 60, false},
    {"just before a pick-up", 7190, 300, 60, true},
    {"held pick-up", 7200, 900, 60, false},
  };
  return cr_make_param_array(EndRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(EndRow* row, target, the_end)
{
  fixture_open(&fixture, "4/4", "C7|C7|G7", "major", 120);
  fixture_add(&fixture, 0, 1800, 67);
  fixture_add(&fixture, 1920, 450, 65);
  for (Tick tick = 2400; tick + 480 <= row->tick && tick < 5760; tick += 480) {
    fixture_add(&fixture, tick, 470, tick % 960 ? 62 : 65);
  }
  fixture_add(&fixture, row->tick, row->length, row->pitch);
  cr_assert_eq(target_of_notes() == fixture.n_notes - 1, row->is_target);
}

/// Of two like notes the one before a breath.
Test(target, before_a_breath)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 0, 900, 64);
  fixture_add(&fixture, 960, 450, 62);
  fixture_add(&fixture, 1440, 450, 65);
  fixture_add(&fixture, 1920, 450, 64); // Then a beat and a half of silence
  for (unsigned i = 0; i < 8; ++i) {
    fixture_add(&fixture, 3840 + (Tick)i * 480, 470, i % 2 ? 62 : 65);
  }
  cr_assert_eq(target_of_notes(), 3);
}

Test(target, a_single_note)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 1440, 200, 61);
  cr_assert_eq(target_of_notes(), 0);
}

Test(target, never_an_ornament)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 860, 90, 63);
  fixture_add(&fixture, 960, 900, 64);
  fixture.places[0]         = 960;
  fixture.ornaments[0]      = true;
  fixture.notes[0].velocity = 127;
  cr_assert_eq(target_of_notes(), 1);
}

Test(target, is_one_of_the_notes)
{
  Rng rng = rng_seed(1, 1);
  for (unsigned seed = 0; seed < 200; ++seed) {
    fixture_open(&fixture, "4/4", "C7|F7", "major blues", 120);
    const unsigned n = 1 + rng_below(&rng, 30);
    for (unsigned i = 0; i < n; ++i) {
      fixture_add(&fixture, (Tick)i * 240, 200, 50 + rng_below(&rng, 30));
      fixture.notes[i].velocity = (uint8_t)(1 + rng_below(&rng, 127));
    }
    cr_assert_lt(target_of_notes(), n);
  }
}

/// One of two notes that a phrase may aim at.
typedef struct {
  enum { WITHIN, BREATH, PICK_UP, LAST } place; ///< What it stands before
  float    rest;                                ///< Beats of silence after it
  unsigned level; ///< 6: the first beat, 5: the third, 4: another, 3: off
  float    beats; ///< How long it is written
  Role     role;
  bool     is_stepped_to;
  uint8_t  velocity;
} Contender;

typedef struct {
  char      name[48];
  Contender first;
  Contender second;
  unsigned  n_others; ///< Slight notes before them
  bool      second_wins;
} DuelRow;

ParameterizedTestParameters(target, duels)
{
  static DuelRow rows[] = {
    {"a short rest, or a root that leads on",
     {BREATH, 0.5F, 2, 0.5F, ROLE_SCALE_TONE, false, 80},
     {PICK_UP, 0, 3, 1.5F, ROLE_ROOT, true, 80},
     1,
     true},
    {"a rest of a beat and a half, or the end",
     {BREATH, 1.5F, 5, 0.5F, ROLE_CHORD_TONE, false, 80},
     {LAST, 0, 6, 1.5F, ROLE_SCALE_TONE, false, 80},
     1,
     false},
    {"a short rest, or a long root by leap",
     {BREATH, 0.5F, 3, 0.5F, ROLE_SCALE_TONE, false, 80},
     {PICK_UP, 0, 3, 2, ROLE_ROOT, false, 80},
     1,
     false},
    {"a chord tone within, or the last note",
     {WITHIN, 0, 5, 0.5F, ROLE_CHORD_TONE, false, 80},
     {PICK_UP, 0, 3, 0.5F, ROLE_SCALE_TONE, false, 80},
     1,
     true},
    {"a chord tone by step within, or the last note",
     {WITHIN, 0, 4, 0.5F, ROLE_CHORD_TONE, true, 80},
     {PICK_UP, 0, 3, 0.5F, ROLE_SCALE_TONE, false, 80},
     1,
     true},
    {"no rest counts for more than two beats",
     {BREATH, 3, 6, 0.5F, ROLE_ROOT, false, 80},
     {LAST, 1, 6, 0.5F, ROLE_ROOT, false, 80},
     1,
     true},
    {"no length counts for more than two beats",
     {WITHIN, 0, 6, 3, ROLE_ROOT, false, 80},
     {PICK_UP, 0, 3, 1, ROLE_ROOT, false, 80},
     1,
     true},
    {"of two that are alike the later",
     {BREATH, 1.5F, 6, 0.5F, ROLE_ROOT, false, 80},
     {LAST, 0, 6, 0.5F, ROLE_ROOT, false, 80},
     1,
     true},
    {"stress tells",
     {WITHIN, 0, 6, 1, ROLE_ROOT, false, 100},
     {PICK_UP, 0, 3, 0.5F, ROLE_CHORD_TONE, false, 80},
     1,
     false},
    {"... and not without",
     {WITHIN, 0, 6, 1, ROLE_ROOT, false, 80},
     {PICK_UP, 0, 3, 0.5F, ROLE_CHORD_TONE, false, 80},
     1,
     true},
    {"... not more than so much",
     {WITHIN, 0, 6, 0.5F, ROLE_ROOT, false, 100},
     {PICK_UP, 0, 2, 0.5F, ROLE_ROOT, false, 80},
     1,
     true},
    {"... however loud among many",
     {WITHIN, 0, 6, 0.5F, ROLE_ROOT, false, 100},
     {PICK_UP, 0, 3, 0.5F, ROLE_ROOT, false, 80},
     8,
     true},
  };
  return cr_make_param_array(DuelRow, rows, sizeof(rows) / sizeof(*rows));
}

enum { DUEL_END = 8 * 960, SOUNDS = 240 };

static Tick
place_of(const Contender* const it)
{
  static const Tick levels[] = {0, 0, 240, 480, 960, 1920, 0};
  return it->place == PICK_UP ? DUEL_END - (it->level == 3 ? 480 : 240)
                              : levels[it->level];
}

/// A note that sounds at a tick; where it is written, and as what, is told.
static HeardNote
heard_at(const Contender* const it, const Tick tick, const unsigned pitch)
{
  return (HeardNote){
    .note        = {tick, SOUNDS, (uint8_t)pitch, it->velocity},
    .grid_tick   = place_of(it),
    .grid_length = (Tick)(it->beats * 960.0F),
    .role        = (uint8_t)it->role,
  };
}

ParameterizedTest(DuelRow* row, target, duels)
{
  static Phrase          phrase;
  static const Contender slight = {
    WITHIN, 0, 2, 0.25F, ROLE_SCALE_TONE, false, 80};
  const Contender* const two[] = {&row->first, &row->second};
  const Tick             rest  = (Tick)(row->first.rest * 960.0F);
  const Tick second = DUEL_END - SOUNDS - (Tick)(row->second.rest * 960.0F);
  unsigned   pitch  = 60;
  unsigned   n      = 0;
  phrase            = (Phrase){.end_tick = DUEL_END};
  for (; n < row->n_others; ++n) {
    phrase.notes[n] = heard_at(&slight, n, pitch);
  }
  for (unsigned i = 0; i < 2; ++i, ++n) {
    pitch += two[i]->is_stepped_to ? 2 : 7;
    phrase.notes[n] =
      heard_at(two[i], i ? second : second - SOUNDS - rest, pitch);
  }
  phrase.notes[n - 1].begins_phrase = row->first.place == BREATH;
  phrase.n_notes                    = n;
  const Meter four                  = {4, 4};
  cr_assert_eq(target_find(&phrase, four),
               row->second_wins ? n - 1 : n - 2,
               "%s",
               row->name);
}
