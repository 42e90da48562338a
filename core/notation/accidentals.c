#include "core/notation/accidentals.h"

#include "core/music/pitch.h"

#include <stdlib.h>
#include <string.h>

enum { OCTAVE_OF_PITCH_0 = -1, LOWEST_OCTAVE = -2 };

// The letters in the order in which signatures sharpen them: F C G D A E B
static const uint8_t sharpened[ACCIDENTALS_LETTERS] = {3, 0, 4, 1, 5, 2, 6};

static const uint8_t naturals[ACCIDENTALS_LETTERS] = {0, 2, 4, 5, 7, 9, 11};

static SpelledPitch
at_pitch(const Spelling spelling, const unsigned pitch)
{
  const int natural = (int)pitch - spelling.alter;
  const int octave =
    (natural - naturals[spelling.letter]) / PITCH_CLASSES + OCTAVE_OF_PITCH_0;
  return (SpelledPitch){spelling, (int8_t)octave};
}

SpelledPitch
accidentals_spell(const Chart* const       chart,
                  const WrittenNote* const note,
                  const unsigned           next_pitch)
{
  return at_pitch(
    chart_spell_leading(chart, note->chord_tick, note->pitch, next_pitch),
    note->pitch);
}

// What a signature makes of each letter
static void
read_signature(int8_t alters[ACCIDENTALS_LETTERS], const Key key)
{
  const int signature = key_signature(key);
  memset(alters, 0, ACCIDENTALS_LETTERS);
  for (int i = 0; i < abs(signature); ++i) {
    const unsigned letter =
      sharpened[signature > 0 ? i : ACCIDENTALS_LETTERS - 1 - i];
    alters[letter] = signature > 0 ? 1 : -1;
  }
}

void
accidentals_begin(Accidentals* const accidentals, const Key key)
{
  int8_t alters[ACCIDENTALS_LETTERS];
  read_signature(alters, key);
  for (unsigned letter = 0; letter < ACCIDENTALS_LETTERS; ++letter) {
    for (unsigned octave = 0; octave < ACCIDENTALS_OCTAVES; ++octave) {
      int8_t* const seen = &accidentals->seen[letter][octave];
      accidentals->was_altered[letter][octave] =
        accidentals->is_open && *seen != alters[letter];
      *seen = alters[letter];
    }
  }
  accidentals->is_open = true;
}

SignNeed
accidentals_need(Accidentals* const accidentals, const SpelledPitch pitch)
{
  const unsigned letter = (unsigned)pitch.spelling.letter;
  const int      octave = pitch.octave - LOWEST_OCTAVE;
  int8_t* const  seen   = &accidentals->seen[letter][octave];
  bool* const    was    = &accidentals->was_altered[letter][octave];
  const SignNeed need   = *seen != pitch.spelling.alter ? SIGN_NEEDED
                          : *was                        ? SIGN_COURTESY
                                                        : SIGN_NONE;
  *seen                 = pitch.spelling.alter;
  *was                  = false;
  return need;
}
