#include "core/music/numeral.h"

#include "core/music/text.h"

#include <string.h>

/// A degree of the major scale; of two that begin alike the longer comes first.
typedef struct {
  char    upper[4];
  char    lower[4];
  uint8_t number;
} DegreeRow;

static const DegreeRow degrees[] = {
  {"VII", "vii", 7},
  {"VI", "vi", 6},
  {"IV", "iv", 4},
  {"V", "v", 5},
  {"III", "iii", 3},
  {"II", "ii", 2},
  {"I", "i", 1},
};

enum { N_DEGREES = sizeof(degrees) / sizeof(*degrees) };

static bool
begins_with(const char* const text, const char* const word)
{
  return strncmp(text, word, strlen(word)) == 0;
}

/// Build the chord on a root from the numeral's case and its own suffix.
static Status
build(Chord* const      chord,
      const Spelling    root,
      const bool        is_lower,
      const char* const suffix)
{
  const bool says_quality =
    (begins_with(suffix, "m") && !begins_with(suffix, "maj")) ||
    begins_with(suffix, "dim");

  char full[CHORD_TEXT_CAPACITY];
  Text text = text_begin(full, sizeof(full));
  text_add(&text, is_lower && !says_quality ? "m" : "");
  text_add(&text, suffix);
  return chord_build(chord, root, full, text.length);
}

/// Copy a word that ends with NUL, a blank or `length`; one too long is cut.
static void
copy_word(char word[CHORD_TEXT_CAPACITY], const char* text, const size_t length)
{
  size_t n = 0;
  while (n < length && n < CHORD_TEXT_CAPACITY - 1 && text[n] &&
         text[n] != ' ' && text[n] != '\t') {
    word[n] = text[n];
    ++n;
  }
  word[n] = '\0';
}

Status
numeral_parse(Chord* const      chord,
              const Key         key,
              const char* const text,
              const size_t      length)
{
  char word[CHORD_TEXT_CAPACITY];
  copy_word(word, text, length);

  const int         alter   = word[0] == 'b' ? -1 : word[0] == '#' ? 1 : 0;
  const char* const numeral = word + (alter ? 1 : 0);
  for (unsigned i = 0; i < N_DEGREES; ++i) {
    const DegreeRow* const row      = &degrees[i];
    const bool             is_lower = begins_with(numeral, row->lower);
    if (is_lower || begins_with(numeral, row->upper)) {
      const int      semitones = interval_major(row->number) + alter;
      const Interval step      = {row->number, (int8_t)semitones};
      return build(chord,
                   spelling_above(key.tonic, step),
                   is_lower,
                   numeral + strlen(row->upper));
    }
  }
  return STATUS_SYNTAX;
}
