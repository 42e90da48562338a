#include "core/settings/utf8.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

typedef struct {
  char     bytes[8];
  unsigned length; ///< Of the character at the start, 0 if there is none
} CharacterRow;

// RFC 3629, sections 3, 4 and 10
ParameterizedTestParameters(utf8, character)
{
  static CharacterRow rows[] = {
    {"A", 1},
    {"\x7F", 1},
    {"\x80", 0},             // Goes on what was not begun
    {"\xC0\x80", 0},         // Overlong zero
    {"\xC1\xBF", 0},         // Overlong
    {"\xC2\xA9", 2},         // Copyright sign
    {"\xC2", 0},             // Cut off
    {"\xC2\x41", 0},         // Broken off
    {"\xE0\x9F\xBF", 0},     // Overlong
    {"\xE0\xA0\x80", 3},     // U+0800
    {"\xE2\x89\xA2", 3},     // U+2262, the RFC's example
    {"\xE2\x89", 0},         // Cut off
    {"\xED\x9F\xBF", 3},     // U+D7FF
    {"\xED\xA0\x80", 0},     // Surrogate U+D800
    {"\xEF\xBB\xBF", 3},     // Byte order mark
    {"\xF0\x8F\xBF\xBF", 0}, // Overlong
    {"\xF0\xA3\x8E\xB4", 4}, // U+233B4, the RFC's example
    {"\xF4\x8F\xBF\xBF", 4}, // U+10FFFF
    {"\xF4\x90\x80\x80", 0}, // Beyond
    {"\xF5\x80\x80\x80", 0}, // Beyond
    {"\xFF", 0},
  };
  return cr_make_param_array(CharacterRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(CharacterRow* row, utf8, character)
{
  cr_assert_eq(utf8_character(row->bytes, strlen(row->bytes)), row->length);
}

Test(utf8, says_how_far_a_text_is_valid)
{
  cr_assert_eq(utf8_valid("", 0), 0);
  cr_assert_eq(utf8_valid("ab\xC3\xA9", 4), 4);
  cr_assert_eq(utf8_valid("ab\xC3\xA9", 3), 2);
  cr_assert_eq(utf8_valid("ab\xFF", 3), 2);
}

Test(utf8, tells_a_line_from_other_text)
{
  cr_assert(utf8_is_line(""));
  cr_assert(utf8_is_line("Caf\xC3\xA9"));
  cr_assert_not(utf8_is_line("two\nlines"));
  cr_assert_not(utf8_is_line("bell\a"));
  cr_assert_not(utf8_is_line("\x7F"));
  cr_assert_not(utf8_is_line("\xFF"));
}
