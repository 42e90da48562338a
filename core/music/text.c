#include "core/music/text.h"

#include <string.h>

Text
text_begin(char* const buffer, const size_t capacity)
{
  buffer[0] = '\0';
  return (Text){buffer, capacity, 0};
}

void
text_add_part(Text* const text, const char* const words, const size_t length)
{
  const size_t room = text->capacity - 1 - text->length;
  const size_t n    = length < room ? length : room;
  memcpy(text->buffer + text->length, words, n);
  text->length += n;
  text->buffer[text->length] = '\0';
}

void
text_add(Text* const text, const char* const words)
{
  text_add_part(text, words, strlen(words));
}

void
text_add_number(Text* const text, const int number)
{
  char     digits[12];
  size_t   at   = sizeof(digits);
  unsigned rest = number < 0 ? 0U - (unsigned)number : (unsigned)number;
  do {
    digits[--at] = (char)('0' + rest % 10U);
    rest /= 10U;
  } while (rest > 0);
  if (number < 0) {
    digits[--at] = '-';
  }
  text_add_part(text, digits + at, sizeof(digits) - at);
}

void
text_add_accidental(Text* const text, const int alter)
{
  for (int i = alter; i < 0; ++i) {
    text_add(text, "b");
  }
  for (int i = 0; i < alter; ++i) {
    text_add(text, "#");
  }
}
