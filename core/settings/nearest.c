#include "core/settings/nearest.h"

#include <ctype.h>
#include <stdbool.h>
#include <string.h>

enum {
  WORD_MAX    = 63,
  FAULT_SHARE = 3, ///< One letter of so many may be wrong
};

static unsigned
least(const unsigned a, const unsigned b)
{
  return a < b ? a : b;
}

static char
small(const char letter)
{
  return (char)tolower((unsigned char)letter);
}

unsigned
nearest_distance(const char* const a, const char* const b)
{
  const size_t n_a = strnlen(a, WORD_MAX);
  const size_t n_b = strnlen(b, WORD_MAX);

  // steps[i][j]: from the first i letters of a to the first j of b
  unsigned steps[WORD_MAX + 1][WORD_MAX + 1];
  for (size_t i = 0; i <= n_a; ++i) {
    for (size_t j = 0; j <= n_b; ++j) {
      if (i == 0 || j == 0) {
        steps[i][j] = (unsigned)(i + j);
        continue;
      }
      const bool same = small(a[i - 1]) == small(b[j - 1]);
      unsigned   best = steps[i - 1][j - 1] + (same ? 0 : 1);
      best            = least(best, steps[i - 1][j] + 1);
      best            = least(best, steps[i][j - 1] + 1);
      if (i > 1 && j > 1 && small(a[i - 1]) == small(b[j - 2]) &&
          small(a[i - 2]) == small(b[j - 1])) {
        best = least(best, steps[i - 2][j - 2] + 1);
      }
      steps[i][j] = best;
    }
  }
  return steps[n_a][n_b];
}

const char*
nearest_word(const char* const        word,
             const char* const* const words,
             const size_t             n_words)
{
  const size_t length  = strnlen(word, WORD_MAX);
  size_t       allowed = (length + FAULT_SHARE - 1) / FAULT_SHARE;
  if (allowed == length) { // Else one letter would mean any other
    allowed = 0;
  }

  const char* nearest = NULL;
  unsigned    best    = (unsigned)allowed + 1;
  for (size_t i = 0; i < n_words; ++i) {
    const unsigned distance = nearest_distance(word, words[i]);
    if (distance < best) {
      best    = distance;
      nearest = words[i];
    }
  }
  return nearest;
}
