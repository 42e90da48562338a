/// @file core/music/text.h Short texts, built in the caller's buffer.
///
/// A text too long for its buffer is cut; it always ends with NUL.

#ifndef CORE_MUSIC_TEXT_H
#define CORE_MUSIC_TEXT_H

#include <stddef.h>

/// A text under way; the buffer is the caller's.
typedef struct {
  char*  buffer;
  size_t capacity; ///< At least 1
  size_t length;   ///< Without the NUL
} Text;

/// Begin an empty text.
Text
text_begin(char* buffer, size_t capacity);

void
text_add(Text* text, const char* words);

/// Add the first `length` characters.
void
text_add_part(Text* text, const char* words, size_t length);

/// Add a number in decimal.
void
text_add_number(Text* text, int number);

/// Add an accidental: `alter` sharps if above 0, flats if below.
void
text_add_accidental(Text* text, int alter);

#endif // CORE_MUSIC_TEXT_H
