#include "core/settings/utf8.h"

#include <string.h>

size_t
utf8_character(const char* const text, const size_t length)
{
  // RFC 3629 section 4: by the first byte, the length and what the second byte
  // may be; the rest are 80..BF. This leaves out surrogates, overlong forms and
  // what lies beyond U+10FFFF.
  static const struct {
    unsigned char first, last, second_first, second_last, n_bytes;
  } rows[] = {
    {0x00, 0x7F, 0x80, 0xBF, 1},
    {0xC2, 0xDF, 0x80, 0xBF, 2},
    {0xE0, 0xE0, 0xA0, 0xBF, 3},
    {0xE1, 0xEC, 0x80, 0xBF, 3},
    {0xED, 0xED, 0x80, 0x9F, 3},
    {0xEE, 0xEF, 0x80, 0xBF, 3},
    {0xF0, 0xF0, 0x90, 0xBF, 4},
    {0xF1, 0xF3, 0x80, 0xBF, 4},
    {0xF4, 0xF4, 0x80, 0x8F, 4},
  };

  for (size_t i = 0; length > 0 && i < sizeof(rows) / sizeof(*rows); ++i) {
    const unsigned char byte = (unsigned char)text[0];
    if (byte < rows[i].first || byte > rows[i].last) {
      continue;
    }
    if (rows[i].n_bytes > length) {
      return 0;
    }
    for (size_t n = 1; n < rows[i].n_bytes; ++n) {
      const unsigned char next  = (unsigned char)text[n];
      const unsigned char first = n == 1 ? rows[i].second_first : 0x80;
      const unsigned char last  = n == 1 ? rows[i].second_last : 0xBF;
      if (next < first || next > last) {
        return 0;
      }
    }
    return rows[i].n_bytes;
  }
  return 0;
}

size_t
utf8_valid(const char* const text, const size_t length)
{
  size_t at = 0;
  while (at < length) {
    const size_t n_bytes = utf8_character(text + at, length - at);
    if (n_bytes == 0) {
      break;
    }
    at += n_bytes;
  }
  return at;
}

bool
utf8_is_line(const char* const text)
{
  const size_t length = strlen(text);
  for (size_t i = 0; i < length; ++i) {
    const unsigned char byte = (unsigned char)text[i];
    if (byte < 0x20 || byte == 0x7F) {
      return false;
    }
  }
  return utf8_valid(text, length) == length;
}
