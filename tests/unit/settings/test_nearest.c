#include "core/settings/nearest.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

typedef struct {
  char     a[16];
  char     b[16];
  unsigned distance;
} DistanceRow;

ParameterizedTestParameters(nearest, distance)
{
  static DistanceRow rows[] = {
    {"", "", 0},
    {"", "key", 3},
    {"tempo", "tempo", 0},
    {"Tempo", "tempo", 0},
    {"tempoo", "tempo", 1},   // One put in
    {"temo", "tempo", 1},     // One left out
    {"tenpo", "tempo", 1},    // One changed
    {"tepmo", "tempo", 1},    // Two swapped: Damerau 1964
    {"kitten", "sitting", 3}, // Common example of Levenshtein's distance
    {"ca", "abc", 3},         // Optimal string alignment; Damerau's own gives 2
  };
  return cr_make_param_array(DistanceRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(DistanceRow* row, nearest, distance)
{
  cr_assert_eq(nearest_distance(row->a, row->b), row->distance);
  cr_assert_eq(nearest_distance(row->b, row->a), row->distance);
}

Test(nearest, finds_what_is_meant_or_nothing)
{
  static const char* const words[] = {"tempo", "key", "bars", "by chord"};
  cr_assert_str_eq(nearest_word("tempoo", words, 4), "tempo");
  cr_assert_str_eq(nearest_word("keys", words, 4), "key");
  cr_assert_str_eq(nearest_word("bar", words, 4), "bars");
  cr_assert_str_eq(nearest_word("by-chords", words, 4), "by chord");
  cr_assert_null(nearest_word("swing", words, 4));
  cr_assert_null(nearest_word("kit", words, 4), "two wrong of three");
  cr_assert_null(nearest_word("x", words, 4), "one letter means nothing");
  cr_assert_null(nearest_word("", words, 4));
  cr_assert_null(nearest_word("tempo", words, 0));
}

Test(nearest, takes_words_of_any_length)
{
  char long_word[300];
  for (unsigned i = 0; i < sizeof(long_word) - 1; ++i) {
    long_word[i] = 'a';
  }
  long_word[sizeof(long_word) - 1] = '\0';
  cr_assert_eq(nearest_distance(long_word, ""), 63);
  cr_assert_eq(nearest_distance(long_word, long_word), 0);
}
