// Roles, anticipations and resolutions: common practice, no source.

#include "fixture.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

static Fixture fixture;

/// Roles over C7 | F7 | N.C. | C7#9, C major blues (C D Eb E G A).
typedef struct {
  char     name[40];
  Tick     tick;
  unsigned pitch;
  Role     role;
} RoleRow;

ParameterizedTestParameters(roles, role)
{
  static RoleRow rows[] = {
    {"C over C7", 0, 60, ROLE_ROOT},
    {"E over C7", 0, 64, ROLE_CHORD_TONE},
    {"Bb over C7", 0, 82, ROLE_CHORD_TONE},
    {"D over C7", 0, 62, ROLE_SCALE_TONE},
    {"Eb over C7, of the blues scale", 0, 63, ROLE_SCALE_TONE},
    {"A over C7", 0, 69, ROLE_SCALE_TONE},
    {"F over C7", 0, 65, ROLE_OUTSIDE},
    {"D over F7, the sixth", 3840, 62, ROLE_SCALE_TONE},
    {"G over F7, the ninth", 3840, 67, ROLE_SCALE_TONE},
    {"B over F7", 3840, 71, ROLE_OUTSIDE},
    {"A over C7#9, the sixth", 11520, 69, ROLE_SCALE_TONE},
    {"Db over C7", 0, 61, ROLE_OUTSIDE},
    {"C over F7", 3840, 60, ROLE_CHORD_TONE},
    {"F over F7", 3840, 65, ROLE_ROOT},
    {"Eb over F7", 3840, 63, ROLE_CHORD_TONE},
    {"E over F7, of the scale", 3840, 64, ROLE_SCALE_TONE},
    {"C without a chord: the tonic", 7680, 60, ROLE_ROOT},
    {"E without a chord", 7680, 64, ROLE_SCALE_TONE},
    {"F without a chord", 7680, 65, ROLE_OUTSIDE},
    {"D# over C7#9: colour", 11520, 63, ROLE_SCALE_TONE},
    {"the form goes round: F over F7", 15360 + 3840, 65, ROLE_ROOT},
    {"before its beginning: D# over C7#9", -960, 63, ROLE_SCALE_TONE},
  };
  return cr_make_param_array(RoleRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(RoleRow* row, roles, role)
{
  fixture_open(&fixture, "4/4", "C7|F7|N.C.|C7#9", "major blues", 120);
  cr_assert_eq(hear_role(&fixture.chart, row->tick, row->pitch),
               row->role,
               "%s",
               row->name);
}

/// A blues has its sixths and ninths though the scale be the minor one; what
/// the chord alters it has not (common practice, no source).
Test(roles, the_blues_palette)
{
  static const struct {
    const char* scale;
    unsigned    bar;
    unsigned    pitch;
    Role        role;
  } rows[] = {
    {"minor blues", 0, 69, ROLE_SCALE_TONE}, // A over C7
    {"minor blues", 0, 62, ROLE_SCALE_TONE}, // D
    {"minor blues", 0, 61, ROLE_OUTSIDE},
    {"minor blues", 1, 62, ROLE_OUTSIDE}, // D over C7b9b13
    {"minor blues", 1, 69, ROLE_OUTSIDE},
    {"minor blues", 2, 69, ROLE_OUTSIDE}, // A over Cm7
    {"minor pentatonic", 0, 69, ROLE_OUTSIDE},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    fixture_open(&fixture, "4/4", "C7|C7b9b13|Cm7", rows[i].scale, 120);
    const Tick tick = (Tick)rows[i].bar * 3840;
    cr_assert_eq(
      hear_role(&fixture.chart, tick, rows[i].pitch), rows[i].role, "%u", i);
  }
}

/// The classic ending: 6 up to 1 within a beat is led home, over a blues
/// dominant; 6 to 3, or a beat and a half later, is not.
Test(roles, sixth_to_root)
{
  static const struct {
    const char* scale;
    Tick        next;
    unsigned    pitch;
    Resolution  resolution;
  } rows[] = {
    {"major blues", 1440, 72, RESOLUTION_LED},
    {"minor blues", 1920, 72, RESOLUTION_LED},
    {"minor blues", 2400, 72, RESOLUTION_LEFT},
    {"major blues", 1440, 67, RESOLUTION_LED}, // 6 to 5, by step
    {"major blues", 1440, 64, RESOLUTION_LEFT},
    {"major", 1440, 72, RESOLUTION_LEFT},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    fixture_open(&fixture, "4/4", "C7|C7", rows[i].scale, 120);
    fixture_add(&fixture, 960, 450, 69);
    fixture_add(&fixture, rows[i].next, 450, rows[i].pitch);
    const Phrase* const phrase = fixture_hear_written(&fixture, 2);
    cr_assert_eq(phrase->notes[0].resolution, rows[i].resolution, "%u", i);
  }
}

/// Whose chord a note before the change at 3840 is of.
typedef struct {
  char name[40];
  Tick tick;
  Tick length;
  Tick next_tick;
  bool is_coming;
} ChordTickRow;

ParameterizedTestParameters(roles, chord_tick)
{
  static ChordTickRow rows[] = {
    {"held into the change", 3360, 960, 4800, true},
    {"held, nothing after", 3360, 960, INT64_MAX, true},
    {"from a quarter of a beat before", 3600, 960, 4800, true},
    {"a note on the change", 3360, 480, 3840, false},
    {"overlaps a note on the change", 3360, 600, 3840, false},
    {"stops before the change", 3360, 400, 4800, false},
    {"a beat before", 2880, 2000, 5000, false},
    {"on the change", 3840, 960, 4800, false},
  };
  return cr_make_param_array(ChordTickRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(ChordTickRow* row, roles, chord_tick)
{
  fixture_open(&fixture, "4/4", "C7|F7", "major", 120);
  const Tick tick =
    hear_chord_tick(&fixture.chart, row->tick, row->length, row->next_tick);
  cr_assert_eq(tick, row->is_coming ? 3840 : row->tick, "%s", row->name);
}

Test(roles, no_change_no_anticipation)
{
  fixture_open(&fixture, "4/4", "C7|C7|C7 C7|F7", "major", 120);
  cr_assert_eq(hear_chord_tick(&fixture.chart, 3360, 960, 4800), 3360);
  cr_assert_eq(hear_chord_tick(&fixture.chart, 7680 + 1440, 960, 9999), 9120);
}

/// A at the end of a bar of C7, before F7: its third if it belongs there, a
/// scale tone over C7.
static const HeardNote*
hear_before_change(const unsigned pitch,
                   const Tick     length,
                   const Tick     next,
                   const unsigned next_pitch)
{
  fixture_open(&fixture, "4/4", "C7|F7", "major", 120);
  fixture_add(&fixture, 960, 900, 60);
  fixture_add(&fixture, 3360, length, pitch);
  fixture_add(&fixture, next, 400, next_pitch);
  return &fixture_hear_written(&fixture, 2)->notes[1];
}

Test(roles, held_notes_are_anticipations)
{
  const HeardNote* const note = hear_before_change(69, 900, 4800, 65);
  cr_assert(note->is_anticipation);
  cr_assert_eq(note->role, ROLE_CHORD_TONE);
  // ... though it were a tone of the chord that goes
  cr_assert_eq(hear_before_change(67, 900, 4800, 65)->role, ROLE_SCALE_TONE);
}

/// B over G7 held into F7: it was at home where it began.
Test(roles, what_is_held_over_a_change_may_belong_before_it)
{
  fixture_open(&fixture, "4/4", "G7|F7", "major blues", 120);
  fixture_add(&fixture, 3360, 900, 71);
  fixture_add(&fixture, 4800, 400, 69);
  const HeardNote* const note = &fixture_hear_written(&fixture, 2)->notes[0];
  cr_assert_not(note->is_anticipation);
  cr_assert_eq(note->role, ROLE_CHORD_TONE);
}

Test(roles, the_last_before_a_change_may_be_an_anticipation)
{
  const HeardNote* const pushed = hear_before_change(69, 240, 5760, 65);
  cr_assert(pushed->is_anticipation);
  cr_assert_eq(pushed->role, ROLE_CHORD_TONE);
  const HeardNote* const stays = hear_before_change(67, 240, 5760, 65);
  cr_assert_not(stays->is_anticipation);
  cr_assert_eq(stays->role, ROLE_CHORD_TONE);
}

/// A note over C7, major scale, and the one that follows.
typedef struct {
  char       name[40];
  unsigned   pitch;
  Tick       length;
  Tick       next_tick;
  unsigned   next_pitch;
  Resolution resolution;
} ResolutionRow;

ParameterizedTestParameters(roles, resolution)
{
  static ResolutionRow rows[] = {
    {"a chord tone", 64, 900, 1920, 65, RESOLUTION_NONE},
    {"outside, a semitone up", 63, 450, 1440, 64, RESOLUTION_LED},
    {"outside, a tone down", 66, 450, 1440, 64, RESOLUTION_LED},
    {"scale tone, a step down", 62, 450, 1440, 60, RESOLUTION_LED},
    {"a beat later", 63, 450, 1920, 64, RESOLUTION_LED},
    {"more than a beat later", 63, 450, 2400, 64, RESOLUTION_LEFT},
    {"held until it steps", 65, 1800, 2880, 64, RESOLUTION_LED},
    {"a leap to a chord tone", 61, 450, 1440, 64, RESOLUTION_LEFT},
    {"a step to a scale tone", 63, 450, 1440, 62, RESOLUTION_LEFT},
    {"the same note again", 65, 450, 1440, 65, RESOLUTION_LEFT},
  };
  return cr_make_param_array(ResolutionRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(ResolutionRow* row, roles, resolution)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 960, row->length, row->pitch);
  fixture_add(&fixture, row->next_tick, 450, row->next_pitch);
  const Phrase* const phrase = fixture_hear_written(&fixture, 2);
  cr_assert_eq(phrase->notes[0].resolution, row->resolution, "%s", row->name);
}

Test(roles, the_last_note_is_left_hanging)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 960, 450, 63);
  const Phrase* const phrase = fixture_hear_written(&fixture, 2);
  cr_assert_eq(phrase->notes[0].resolution, RESOLUTION_LEFT);
  cr_assert_eq(phrase->measures.left_share, 1);
}

/// What a player leaves hanging over C7, bars of four, C major: by the end
/// of its phrase and by what came before (common practice, no source).
typedef struct {
  char       name[40];
  unsigned   pitches[4]; ///< At the places told, rising
  Tick       places[4];
  unsigned   which;
  Resolution resolution;
} ForgivenRow;

ParameterizedTestParameters(roles, forgiven)
{
  static ForgivenRow rows[] = {
    {"a step, and the root at the end",
     {66, 64, 67, 60},
     {480, 1440, 1920, 2880},
     0,
     RESOLUTION_LED},
    {"a leap, and the root at the end",
     {61, 67, 64, 60},
     {0, 960, 1920, 2880},
     0,
     RESOLUTION_LANDED},
    {"a leap, and the third at the end",
     {61, 67, 60, 64},
     {0, 960, 1920, 2880},
     0,
     RESOLUTION_LEFT},
    {"a scale tone, and the root at the end",
     {69, 64, 67, 60},
     {0, 960, 1920, 2880},
     0,
     RESOLUTION_LANDED},
    {"the root ends the next phrase only",
     {61, 67, 64, 60},
     {0, 480, 3840, 4320},
     0,
     RESOLUTION_LEFT},
    {"said again a bar later",
     {66, 76, 66, 70},
     {960, 1920, 4800, 5760},
     2,
     RESOLUTION_AGAIN},
    {"... but the first time",
     {66, 76, 66, 70},
     {960, 1920, 4800, 5760},
     0,
     RESOLUTION_LEFT},
    {"said again on another beat",
     {66, 76, 66, 70},
     {960, 1920, 5760, 6720},
     2,
     RESOLUTION_LEFT},
    {"another note outside at the place",
     {61, 67, 66, 70},
     {960, 1920, 4800, 5760},
     2,
     RESOLUTION_LEFT},
    {"a scale tone said again",
     {69, 64, 69, 64},
     {960, 1920, 4800, 5760},
     2,
     RESOLUTION_LEFT},
  };
  return cr_make_param_array(ForgivenRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(ForgivenRow* row, roles, forgiven)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  for (unsigned i = 0; i < 4; ++i) {
    fixture_add(&fixture, row->places[i], 450, row->pitches[i]);
  }
  const Phrase* phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->n_notes, 4);
  cr_expect_eq(phrase->notes[row->which].resolution,
               row->resolution,
               "%s: %u",
               row->name,
               phrase->notes[row->which].resolution);
  // The partner's own are led home or left
  phrase = fixture_hear_written(&fixture, 2);
  cr_expect_eq(phrase->notes[row->which].resolution,
               row->resolution == RESOLUTION_LED ? RESOLUTION_LED
                                                 : RESOLUTION_LEFT,
               "%s",
               row->name);
}

/// Moving chart and notes together changes no role and no measure.
Test(roles, transposing_changes_nothing)
{
  static Phrase  home;
  static Fixture moved;
  for (unsigned seed = 0; seed < 100; ++seed) {
    Rng rng = rng_seed(seed, 1);
    fixture_open(&fixture, "4/4", "C7|F7|Dm7 G7|C7 A7b9", "major blues", 140);
    Tick tick = 0;
    while (tick < 15000 && fixture.n_notes < 60) {
      tick += 240 * (1 + rng_below(&rng, 5));
      fixture_add(&fixture, tick, 220, 56 + rng_below(&rng, 20));
    }
    home             = *fixture_hear(&fixture, 4);
    moved            = fixture;
    moved.ear.chart  = &moved.chart;
    moved.ear.ladder = &moved.ladder;
    chart_transpose(&moved.chart, (Spelling){2, -1}); // Eb
    for (unsigned i = 0; i < moved.n_notes; ++i) {
      moved.notes[i].pitch = (uint8_t)(moved.notes[i].pitch + 3);
    }
    moved.ear.split_pitch += 3;
    const Phrase* const phrase = fixture_hear(&moved, 4);
    cr_assert_eq(phrase->target, home.target);
    cr_assert_str_eq(phrase->contour, home.contour);
    cr_assert_eq(memcmp(&phrase->measures, &home.measures, sizeof(Measures)),
                 0);
    for (unsigned i = 0; i < phrase->n_notes; ++i) {
      cr_assert_eq(phrase->notes[i].role, home.notes[i].role);
      cr_assert_eq(phrase->notes[i].resolution, home.notes[i].resolution);
    }
  }
}
