// A turn as a whole.

#include "fixture.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

static Fixture fixture;

/// What is played as written is heard as written.
Test(hear, a_written_line_is_heard_so)
{
  static Phrase     played;
  static const Tick places[] = {
    0, 960, 1440, 1920, 2880, 3840, 4160, 4480, 4800, 5280};
  fixture_open(&fixture, "4/4", "C7|F7", "major blues", 110);
  for (unsigned i = 0; i < 10; ++i) {
    fixture_add(&fixture, places[i], 300, 60 + 2 * (i % 4));
  }
  fixture.ear.lag_ms          = 0;
  played                      = *fixture_hear(&fixture, 2);
  const Phrase* const written = fixture_hear_written(&fixture, 2);
  cr_assert_eq(played.n_notes, written->n_notes);
  cr_assert_eq(memcmp(played.notes,
                      written->notes,
                      played.n_notes * sizeof(played.notes[0])),
               0);
  cr_assert_eq(memcmp(&played.measures, &written->measures, sizeof(Measures)),
               0);
  cr_assert_eq(memcmp(&played.rung, &written->rung, sizeof(Rung)), 0);
}

/// "Notes held over the line are cut for hearing."
Test(hear, notes_are_cut_at_the_end)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 6720, 9000, 60);
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  cr_assert_eq(phrase->notes[0].note.length, 960);
  cr_assert_float_eq(phrase->measures.space, 7 / 8.0, 1e-6);
}

Test(hear, more_notes_than_there_is_room_for)
{
  fixture_open(&fixture, "4/4", "C7|C7|C7|C7", "major", 60);
  for (unsigned i = 0; i < FIXTURE_NOTE_CAPACITY; ++i) {
    fixture_add(&fixture, (Tick)i * 30 * 32 / 30, 20, 50 + i % 30);
  }
  hear_phrase(&fixture.phrase,
              &fixture.work,
              &fixture.ear,
              fixture.notes,
              fixture.n_notes,
              0,
              128 * 3840);
  cr_assert_eq(fixture.phrase.n_notes, PHRASE_CAPACITY);
  cr_assert_eq(fixture.phrase.n_dropped,
               FIXTURE_NOTE_CAPACITY - PHRASE_CAPACITY);
  cr_assert_eq(strlen(fixture.phrase.contour), PHRASE_CAPACITY);
}

/// A written length reaches to the next note unless there is a breath.
Test(hear, written_lengths)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  fixture_add(&fixture, 0, 300, 60);   // Short, but the next comes at once
  fixture_add(&fixture, 480, 500, 62); // A rest of an eighth and more after it
  fixture_add(&fixture, 1920, 1000, 64); // Held into the next
  fixture_add(&fixture, 2880, 230, 60);  // The last: as long as it sounds
  const Phrase* const phrase    = fixture_hear_written(&fixture, 2);
  static const Tick   lengths[] = {480, 480, 960, 240};
  for (unsigned i = 0; i < 4; ++i) {
    cr_assert_eq(phrase->notes[i].grid_length, lengths[i], "note %u", i);
  }
}

/// A beat and a half of silence in a line of eighths is a breath, a gap
/// between long notes is none (common practice, no source).
Test(hear, phrases_begin_after_a_breath)
{
  fixture_open(&fixture, "4/4", "C7|C7", "major", 120);
  static const Tick ticks[] = {0, 480, 960, 2880, 3360, 3840, 4800, 5280};
  for (unsigned i = 0; i < 8; ++i) {
    fixture_add(&fixture, ticks[i], 440, 60 + i % 3);
  }
  const Phrase* const phrase = fixture_hear(&fixture, 2);
  for (unsigned i = 0; i < 8; ++i) {
    cr_assert_eq(
      phrase->notes[i].begins_phrase, i == 0 || i == 3, "note %u", i);
  }
}

/// Between two halves of a line of eighths: how long a rest, how long the note
/// before it, how wide the leap over it. What is doubtful by the rest alone,
/// the others decide.
typedef struct {
  char     name[32];
  Tick     length; ///< Of the note before
  Tick     rest;
  unsigned pitch; ///< Of the note after, after 62
  bool     is_breath;
} BreathRow;

ParameterizedTestParameters(hear, breaths)
{
  static BreathRow rows[] = {
    {"no rest to speak of", 440, 40, 62, false},
    {"a quaver's rest", 440, 480, 62, false},
    {"a crotchet's rest", 440, 1000, 62, true},
    {"a leap over a rest", 440, 490, 74, true},
    {"the same, no leap", 440, 490, 62, false},
    {"after a long note", 1900, 530, 62, true},
    {"after a short note", 200, 530, 62, false},
  };
  return cr_make_param_array(BreathRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(BreathRow* row, hear, breaths)
{
  fixture_open(&fixture, "4/4", "C7|C7|C7|C7", "major", 120);
  for (unsigned i = 0; i < 7; ++i) {
    fixture_add(&fixture, (Tick)i * 480, 440, 60 + i % 3);
  }
  fixture_add(&fixture, 3360, row->length, 62);
  const Tick after = 3360 + row->length + row->rest;
  for (unsigned i = 0; i < 8; ++i) {
    fixture_add(&fixture, after + (Tick)i * 480, 440, row->pitch + i % 3);
  }
  const Phrase* const phrase = fixture_hear_written(&fixture, 4);
  cr_assert_eq(phrase->notes[8].begins_phrase, row->is_breath, "%s", row->name);
}

/// A line of eighths to a tick, and what comes after the line at 7680.
typedef struct {
  char name[32];
  Tick last;
  Tick after;
  Tick then; ///< 0: nothing
  bool is_there;
  Tick place;
} LandingRow;

ParameterizedTestParameters(hear, landing)
{
  static LandingRow rows[] = {
    {"on the line", 7200, 7680, 0, true, 7680},
    {"a little after it", 7200, 7740, 0, true, 7680},
    {"half a beat after it", 7200, 8160, 0, true, 8160},
    {"more than that", 7200, 8200, 0, false, 0},
    {"... soon after the last", 7440, 8200, 0, false, 0},
    {"a beat after the last", 6720, 7680, 0, true, 7680},
    {"more than a beat after", 6240, 7680, 0, false, 0},
    {"then a rest", 7200, 7680, 8160, true, 7680},
    {"the line runs on", 7200, 7680, 8150, false, 0},
  };
  return cr_make_param_array(LandingRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(LandingRow* row, hear, landing)
{
  fixture_open(&fixture, "4/4", "C7|C7|F7", "major", 120);
  for (Tick tick = 3840; tick <= row->last; tick += 480) {
    fixture_add(&fixture, tick, 440, tick % 960 ? 62 : 64);
  }
  if (row->last % 480 != 0) {
    fixture_add(&fixture, row->last, 200, 62);
  }
  Phrase* const phrase = &fixture.phrase;
  (void)fixture_hear_written(&fixture, 2);
  cr_assert_not(phrase->landing.is_there);
  const Note after[] = {{row->after, 900, 65, 80}, {row->then, 200, 64, 80}};
  hear_landing(phrase, &fixture.ear, after, row->then ? 2 : 1);
  cr_assert_eq(phrase->landing.is_there, row->is_there);
  if (row->is_there) {
    cr_assert_eq(phrase->landing.grid_tick, row->place);
    cr_assert_eq(phrase->landing.role, ROLE_ROOT); // Of the chord there
    cr_assert_eq(phrase->landing.note.pitch, 65);
  }
  hear_landing(phrase, &fixture.ear, after, 0);
  cr_assert_not(phrase->landing.is_there);
}

/// What comes a shade before the line stands on it: it is the landing itself.
Test(hear, a_note_on_the_line_is_followed_by_none)
{
  fixture_open(&fixture, "4/4", "C7|C7|F7", "major", 120);
  for (Tick tick = 3840; tick < 7680; tick += 480) {
    fixture_add(&fixture, tick, 440, tick % 960 ? 62 : 64);
  }
  fixture_add(&fixture, 7660, 20, 65);
  Phrase* const phrase = &fixture.phrase;
  (void)fixture_hear(&fixture, 2);
  cr_assert_eq(phrase_last_written(phrase)->grid_tick, 7680);
  hear_landing(phrase, &fixture.ear, &(Note){8160, 400, 66, 80}, 1);
  cr_assert_not(phrase->landing.is_there);
}

/// What the left hand goes on with is no end of the line.
Test(hear, a_note_far_below_is_no_landing)
{
  fixture_open(&fixture, "4/4", "C7|C7|F7", "major", 120);
  for (Tick tick = 3840; tick < 7680; tick += 480) {
    fixture_add(&fixture, tick, 440, tick % 960 ? 62 : 64);
  }
  Phrase* const phrase = &fixture.phrase;
  (void)fixture_hear_written(&fixture, 2);
  const Note after[] = {
    {7680, 200, 41, 80}, {7700, 900, 65, 80}, {7800, 200, 45, 80}};
  hear_landing(phrase, &fixture.ear, after, 1);
  cr_assert_not(phrase->landing.is_there);
  hear_landing(phrase, &fixture.ear, after, 3);
  cr_assert(phrase->landing.is_there);
  cr_assert_eq(phrase->landing.note.pitch, 65);
}

Test(hear, names)
{
  cr_assert_str_eq(role_name(ROLE_ROOT), "root");
  cr_assert_str_eq(role_name(ROLE_CHORD_TONE), "chord tone");
  cr_assert_str_eq(role_name(ROLE_SCALE_TONE), "scale tone");
  cr_assert_str_eq(role_name(ROLE_OUTSIDE), "outside");
  cr_assert_str_eq(grid_name(GRID_BEAT), "beat");
  cr_assert_str_eq(grid_name(GRID_EIGHTH), "eighth");
  cr_assert_str_eq(grid_name(GRID_SWUNG_EIGHTH), "swung eighth");
  cr_assert_str_eq(grid_name(GRID_TRIPLET), "triplet");
  cr_assert_str_eq(grid_name(GRID_SIXTEENTH), "sixteenth");
}

/// Listening again into the same storage leaves nothing of the first time.
Test(hear, the_same_turn_is_heard_the_same)
{
  static Phrase first;
  Rng           rng = rng_seed(1, 1);
  fixture_open(&fixture, "4/4", "C7|F7", "major blues", 120);
  for (unsigned i = 0; i < 40; ++i) {
    fixture_add(
      &fixture, (Tick)i * 190 + rng_below(&rng, 60), 150, 50 + i % 23);
  }
  first                  = *fixture_hear(&fixture, 2);
  const unsigned n_notes = fixture.n_notes;
  fixture.n_notes        = 3;
  (void)fixture_hear(&fixture, 2);
  fixture.n_notes           = n_notes;
  const Phrase* const again = fixture_hear(&fixture, 2);
  cr_assert_eq(again->n_notes, first.n_notes);
  cr_assert_eq(
    memcmp(again->notes, first.notes, first.n_notes * sizeof(first.notes[0])),
    0);
  cr_assert_eq(memcmp(&again->measures, &first.measures, sizeof(Measures)), 0);
}
