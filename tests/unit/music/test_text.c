#include "core/music/text.h"

#include <criterion/criterion.h>

#include <limits.h>
#include <stdio.h>
#include <string.h>

Test(text, joins_its_parts)
{
  char buffer[32];
  Text text = text_begin(buffer, sizeof(buffer));
  cr_assert_str_eq(buffer, "");
  text_add(&text, "bar ");
  text_add_number(&text, 12);
  text_add_part(&text, ": Ebb", 3);
  text_add_accidental(&text, -2);
  text_add_accidental(&text, 1);
  text_add_accidental(&text, 0);
  cr_assert_str_eq(buffer, "bar 12: Ebb#");
  cr_assert_eq(text.length, strlen(buffer));
}

Test(text, writes_numbers_as_the_c_library_does)
{
  static const int numbers[] = {0, 7, 10, -1, -10, 4095, INT_MAX, INT_MIN};
  for (unsigned i = 0; i < sizeof(numbers) / sizeof(*numbers); ++i) {
    char buffer[16];
    char expected[16];
    Text text = text_begin(buffer, sizeof(buffer));
    snprintf(expected, sizeof(expected), "%d", numbers[i]);
    text_add_number(&text, numbers[i]);
    cr_assert_str_eq(buffer, expected);
  }
}

Test(text, cuts_what_does_not_fit)
{
  for (size_t capacity = 1; capacity < 12; ++capacity) {
    char buffer[16];
    memset(buffer, 'x', sizeof(buffer));
    Text text = text_begin(buffer, capacity);
    text_add(&text, "abcd");
    text_add(&text, "efgh");
    text_add_number(&text, 12);
    cr_assert_eq(strlen(buffer), capacity < 11 ? capacity - 1 : 10);
    cr_assert_eq(strncmp(buffer, "abcdefgh12", strlen(buffer)), 0);
    cr_assert_eq(buffer[capacity], 'x');
  }
}
