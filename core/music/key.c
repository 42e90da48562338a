#include "core/music/key.h"

#include "core/music/pitch.h"
#include "core/music/text.h"

#include <stdlib.h>
#include <string.h>

enum { N_LETTERS = 7, LARGEST_SIGNATURE = 7 };

int
key_signature(const Key key)
{
  // Fifths above C, by letter: C D E F G A B
  static const int fifths[N_LETTERS] = {0, 2, 4, -1, 1, 3, 5};
  return fifths[key.tonic.letter] + 7 * key.tonic.alter -
         (key.is_minor ? 3 : 0);
}

Status
key_parse(Key* const key, const char* const text)
{
  Key          read = {{0, 0}, false};
  const size_t n    = spelling_parse(&read.tonic, text);
  if (n == 0) {
    return STATUS_SYNTAX;
  }

  const char* const mode = text + n;
  read.is_minor          = strcmp(mode, " minor") == 0;
  if (!read.is_minor && mode[0] && strcmp(mode, " major") != 0) {
    return STATUS_SYNTAX;
  }
  if (abs(key_signature(read)) > LARGEST_SIGNATURE) {
    return STATUS_SYNTAX;
  }
  *key = read;
  return STATUS_OK;
}

const char*
key_text(const Key key, char buffer[KEY_TEXT_CAPACITY])
{
  char tonic[SPELLING_TEXT_CAPACITY];
  Text text = text_begin(buffer, KEY_TEXT_CAPACITY);
  text_add(&text, spelling_text(key.tonic, tonic));
  text_add(&text, key.is_minor ? " minor" : " major");
  return buffer;
}

Key
key_readable(const Key key)
{
  Key best = key;
  if (abs(key_signature(key)) <= LARGEST_SIGNATURE) {
    return best;
  }
  for (int letter = 0; letter < N_LETTERS; ++letter) {
    for (int alter = -1; alter <= 1; ++alter) {
      const Key other = {{(int8_t)letter, (int8_t)alter}, key.is_minor};
      if (spelling_pitch_class(other.tonic) ==
            spelling_pitch_class(key.tonic) &&
          abs(key_signature(other)) < abs(key_signature(best))) {
        best = other;
      }
    }
  }
  return best;
}

uint16_t
key_pitch_classes(const Key key)
{
  static const unsigned degrees[2] = {0xAB5, 0xDAD}; // Bits: major, minor
  const unsigned        tonic      = spelling_pitch_class(key.tonic);
  const unsigned        classes    = degrees[key.is_minor] << tonic;
  return (uint16_t)((classes | classes >> PITCH_CLASSES) &
                    ((1U << PITCH_CLASSES) - 1));
}

Spelling
key_spell(const Key key, const unsigned pitch_class)
{
  static const Interval major[] = {
    {1, 0}, {2, 2}, {3, 4}, {4, 5}, {5, 7}, {6, 9}, {7, 11}};
  static const Interval minor[] = {
    {1, 0}, {2, 2}, {3, 3}, {4, 5}, {5, 7}, {6, 8}, {7, 10}};

  for (unsigned i = 0; i < N_LETTERS; ++i) {
    const Spelling degree =
      spelling_above(key.tonic, key.is_minor ? minor[i] : major[i]);
    if (spelling_pitch_class(degree) == pitch_class % PITCH_CLASSES) {
      return degree;
    }
  }
  // Any C with that many accidentals; plain, it keeps their side
  const int above_c = (int)(pitch_class % PITCH_CLASSES);
  const int alter   = key_signature(key) > 0 ? above_c : above_c - 12;
  return spelling_plain((Spelling){0, (int8_t)alter});
}
