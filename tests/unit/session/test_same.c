// What is said of a phrase that comes again is true of its notes; common
// practice, no source.

#include "responder/session/same.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

enum { NOTES = 3 };

typedef struct {
  char     name[40];
  unsigned n;           // Of the notes C, E and G that come again
  uint8_t  keys[NOTES]; // ... as these
  unsigned stranger;    // The note that is outside; NOTES: none
  char     words[64];
} SameRow;

ParameterizedTestParameters(same, words)
{
  static SameRow rows[] = {
    {"nothing changes",
     NOTES,
     {60, 64, 67},
     NOTES,
     "The same again, note for note."},
    {"note for note, a stranger too",
     NOTES,
     {60, 64, 67},
     1,
     "The same again, note for note."},
    {"in another octave", NOTES, {72, 76, 79}, NOTES, "The same again."},
    {"moved with the chord",
     NOTES,
     {60, 63, 67},
     NOTES,
     "The same again, as the chords there have it."},
    {"moved, and one outside",
     NOTES,
     {60, 63, 66},
     2,
     "The same again, with many notes moved."},
    {"one moved, and one outside",
     NOTES,
     {60, 63, 67},
     2,
     "The same again, with some notes moved."},
    {"down where it went up",
     NOTES,
     {60, 58, 67},
     NOTES,
     "The same again, with some notes moved."},
    {"a third wider and narrower",
     NOTES,
     {60, 68, 69},
     NOTES,
     "The same again, as the chords there have it."},
    {"a fourth wider",
     NOTES,
     {60, 69, 71},
     NOTES,
     "The same again in rhythm, with other notes."},
    {"... and another one moved",
     NOTES,
     {60, 58, 69},
     NOTES,
     "The same again in rhythm, with other notes."},
    {"cut", 2, {60, 64}, NOTES, "The same again, as far as there is room."},
    {"cut and moved",
     2,
     {60, 63},
     NOTES,
     "The same again, as far as there is room."},
  };
  return cr_make_param_array(SameRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(SameRow* row, same, words)
{
  static const uint8_t chord[NOTES] = {60, 64, 67};
  static Phrase        phrase;
  static Answer        answer;
  phrase.n_notes       = NOTES;
  answer.n_notes       = row->n;
  answer.heard.n_notes = row->n;
  for (unsigned i = 0; i < NOTES; ++i) {
    phrase.notes[i].note.pitch = chord[i];
    answer.notes[i].pitch      = row->keys[i];
    answer.heard.notes[i].role =
      i == row->stranger ? ROLE_OUTSIDE : ROLE_CHORD_TONE;
  }
  same_say(&answer, "The same again", &phrase, NULL);
  cr_assert_str_eq(answer.why, row->words, "%s", row->name);
}

// Note for note after another version of it it is as it was at first
Test(same, tells_what_comes_back_to_itself)
{
  static const uint8_t keys[2][NOTES] = {{60, 64, 67}, {60, 63, 67}};
  static Phrase        phrases[2];
  static Answer        answer = {.n_notes = NOTES};
  for (unsigned i = 0; i < 2 * NOTES; ++i) {
    phrases[i / NOTES].n_notes                     = NOTES;
    phrases[i / NOTES].notes[i % NOTES].note.pitch = keys[i / NOTES][i % NOTES];
    answer.notes[i % NOTES].pitch                  = keys[0][i % NOTES];
  }
  same_say(&answer, "The same again", &phrases[0], &phrases[0]);
  cr_assert_str_eq(answer.why, "The same again, note for note.");
  same_say(&answer, "The same again", &phrases[0], &phrases[1]);
  cr_assert_str_eq(answer.why, "The same again, as it was at first.");
}
