#include "core/music/pitch.h"

#include "core/music/text.h"

const char*
pitch_text(const unsigned pitch,
           const Spelling spelling,
           char           buffer[PITCH_TEXT_CAPACITY])
{
  char name[SPELLING_TEXT_CAPACITY];
  Text text = text_begin(buffer, PITCH_TEXT_CAPACITY);
  text_add(&text, spelling_text(spelling, name));

  // The octave is the letter's: a B# sounds in the octave above its own
  const int natural = (int)pitch - spelling.alter;
  text_add_number(&text, (natural + OCTAVE) / OCTAVE - 2);
  return buffer;
}
