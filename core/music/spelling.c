#include "core/music/spelling.h"

#include "core/music/text.h"

#include <stdbool.h>
#include <stdlib.h>

enum { N_LETTERS = 7, LONGEST_ACCIDENTAL = 3 };

static int
natural_pitch_class(const int letter)
{
  return interval_major((unsigned)letter + 1U);
}

unsigned
spelling_pitch_class(const Spelling spelling)
{
  return (unsigned)(natural_pitch_class(spelling.letter) + spelling.alter +
                    12) %
         12U;
}

Spelling
spelling_above(const Spelling spelling, const Interval interval)
{
  const int letter = (spelling.letter + interval.number - 1) % N_LETTERS;
  const int pitch  = (int)spelling_pitch_class(spelling) + interval.semitones;
  // 24 keeps the difference above 0; the nearest way round is -6..5
  const int alter = (pitch - natural_pitch_class(letter) + 24 + 6) % 12 - 6;
  return (Spelling){(int8_t)letter, (int8_t)alter};
}

Interval
spelling_interval(const Spelling from, const Spelling to)
{
  const int steps = (to.letter - from.letter + N_LETTERS) % N_LETTERS;
  const int naturals =
    natural_pitch_class(to.letter) - natural_pitch_class(from.letter) + 12;
  const int semitones = naturals % 12 + to.alter - from.alter;
  return (Interval){(uint8_t)(steps + 1), (int8_t)semitones};
}

Spelling
spelling_plain(const Spelling spelling)
{
  const unsigned pitch_class = spelling_pitch_class(spelling);
  const int      side        = spelling.alter < 0 ? -1 : 1;
  Spelling       plain       = {0, 0};
  for (int letter = 0; letter < N_LETTERS; ++letter) {
    const Spelling natural = {(int8_t)letter, 0};
    const Spelling altered = {(int8_t)letter, (int8_t)side};
    if (spelling_pitch_class(natural) == pitch_class) {
      return natural;
    }
    if (spelling_pitch_class(altered) == pitch_class) {
      plain = altered;
    }
  }
  return plain;
}

static bool
is_readable(const Spelling        spelling,
            const Interval* const above,
            const unsigned        n)
{
  bool is_good = abs(spelling.alter) <= 1;
  for (unsigned i = 0; i < n; ++i) {
    is_good = is_good && abs(spelling_above(spelling, above[i]).alter) <= 2;
  }
  return is_good;
}

Spelling
spelling_readable(const Spelling        spelling,
                  const Interval* const above,
                  const unsigned        n)
{
  if (is_readable(spelling, above, n)) {
    return spelling;
  }
  const Spelling plain = spelling_plain(spelling);
  if (is_readable(plain, above, n)) {
    return plain;
  }
  // The next letter, or the one before, at the same pitch
  const Interval step = plain.alter > 0 ? (Interval){2, 0} : (Interval){7, 12};
  return spelling_above(plain, step);
}

const char*
spelling_text(const Spelling spelling, char buffer[SPELLING_TEXT_CAPACITY])
{
  Text text = text_begin(buffer, SPELLING_TEXT_CAPACITY);
  text_add_part(&text, &"CDEFGAB"[spelling.letter], 1);
  text_add_accidental(&text, spelling.alter);
  return buffer;
}

size_t
spelling_parse(Spelling* const spelling, const char* const text)
{
  static const int8_t letters[] = {5, 6, 0, 1, 2, 3, 4}; // A B C D E F G
  if (text[0] < 'A' || text[0] > 'G') {
    return 0;
  }

  int n = 0;
  while (n < LONGEST_ACCIDENTAL && (text[1] == 'b' || text[1] == '#') &&
         text[1 + n] == text[1]) {
    ++n;
  }
  *spelling =
    (Spelling){letters[text[0] - 'A'], (int8_t)(text[1] == 'b' ? -n : n)};
  return (size_t)n + 1U;
}
