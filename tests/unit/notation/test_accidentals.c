// Spelling and signs. The rows are common practice: a chord's own letters, and
// leading notes that go the way they lead.

#include "core/notation/accidentals.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>

enum { MIDDLE = 4 };

static Chart chart;

static void
begin(const char* const key_words, const char* const bar)
{
  const Meter meter = {4, 4};
  Key         key;
  char        fault[CHART_FAULT_CAPACITY];
  cr_assert_eq(key_parse(&key, key_words), STATUS_OK);
  chart_begin(&chart, "", meter, key);
  cr_assert_eq(chart_add_bar(&chart, bar, fault), STATUS_OK, "%s", fault);
}

typedef struct {
  char     key[16];
  char     bar[12];
  unsigned pitch;
  unsigned next;
  char     name[8];
} SpellRow;

ParameterizedTestParameters(accidentals, spelling)
{
  static SpellRow rows[] = {
    {"C major", "C7", 70, ACCIDENTALS_NOTHING, "Bb4"},
    {"D major", "D7", 66, ACCIDENTALS_NOTHING, "F#4"},
    {"F minor", "C7", 64, ACCIDENTALS_NOTHING, "E4"},
    {"C minor", "G7", 71, ACCIDENTALS_NOTHING, "B4"},
    {"E major", "B7", 63, ACCIDENTALS_NOTHING, "D#4"},
    {"Gb major", "Gbmaj7", 59, ACCIDENTALS_NOTHING, "Cb4"},
    {"C# major", "C#7", 60, ACCIDENTALS_NOTHING, "B#3"},
    {"C major", "Cmaj7", 63, 64, "D#4"}, // Up to E
    {"C major", "Cmaj7", 63, 62, "Eb4"}, // Down to D
    {"C major", "Cmaj7", 66, 67, "F#4"},
    {"C major", "Cmaj7", 68, 67, "Ab4"},
    {"Bb major", "Bbmaj7", 61, 62, "C#4"},
    {"C major", "Cdim7", 69, ACCIDENTALS_NOTHING, "A4"}, // Not Bbb
  };
  return cr_make_param_array(SpellRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(SpellRow* row, accidentals, spelling)
{
  begin(row->key, row->bar);
  const WrittenNote  note  = {.pitch = (uint8_t)row->pitch};
  const SpelledPitch pitch = accidentals_spell(&chart, &note, row->next);
  char               name[SPELLING_TEXT_CAPACITY];
  char               text[SPELLING_TEXT_CAPACITY + 8];
  (void)snprintf(text,
                 sizeof(text),
                 "%s%d",
                 spelling_text(pitch.spelling, name),
                 pitch.octave);
  cr_assert_str_eq(
    text, row->name, "%u over %s: %s", row->pitch, row->bar, text);
}

// No note of any chord is spelled with two signs, and each sounds as it is
Test(accidentals, one_sign_at_most)
{
  static const char* const keys[] = {
    "C major", "Cb major", "C# major", "Ab minor", "A# minor", "F minor"};
  static const char* const bars[] = {
    "idim7", "V7alt", "bII7", "ivm7b5", "Iaug"};
  static const int naturals[] = {0, 2, 4, 5, 7, 9, 11};
  for (unsigned k = 0; k < sizeof(keys) / sizeof(*keys); ++k) {
    for (unsigned b = 0; b < sizeof(bars) / sizeof(*bars); ++b) {
      begin(keys[k], bars[b]);
      for (unsigned pitch = 12; pitch < 128; ++pitch) {
        const WrittenNote  note = {.pitch = (uint8_t)pitch};
        const SpelledPitch at =
          accidentals_spell(&chart, &note, ACCIDENTALS_NOTHING);
        cr_assert(at.spelling.alter >= -1 && at.spelling.alter <= 1);
        cr_assert_eq(12 * (at.octave + 1) + naturals[at.spelling.letter] +
                       at.spelling.alter,
                     (int)pitch);
      }
    }
  }
}

static SignNeed
need(Accidentals* const signs,
     const int          letter,
     const int          alter,
     const int          octave)
{
  return accidentals_need(
    signs, (SpelledPitch){{(int8_t)letter, (int8_t)alter}, (int8_t)octave});
}

Test(accidentals, signs_last_for_a_measure)
{
  enum { C, D, E, F };
  Accidentals signs   = {.is_open = false};
  const Key   d_major = {.tonic = {.letter = D}};
  accidentals_begin(&signs, d_major);
  cr_assert_eq(need(&signs, F, 1, MIDDLE), SIGN_NONE); // In the signature
  cr_assert_eq(need(&signs, F, 0, MIDDLE), SIGN_NEEDED);
  cr_assert_eq(need(&signs, F, 0, MIDDLE), SIGN_NONE);
  cr_assert_eq(need(&signs, F, 1, MIDDLE + 1), SIGN_NONE); // Another octave
  cr_assert_eq(need(&signs, F, 1, MIDDLE), SIGN_NEEDED);
  cr_assert_eq(need(&signs, E, -1, MIDDLE), SIGN_NEEDED);
  accidentals_begin(&signs, d_major);
  cr_assert_eq(need(&signs, E, 0, MIDDLE), SIGN_COURTESY);
  cr_assert_eq(need(&signs, E, 0, MIDDLE), SIGN_NONE);
  cr_assert_eq(need(&signs, F, 1, MIDDLE), SIGN_NONE); // Undone before
  accidentals_begin(&signs, d_major);
  cr_assert_eq(need(&signs, E, 0, MIDDLE), SIGN_NONE); // Long ago
}
