#include "core/ports/message.h"

// MIDI 1.0, tables I to III: kinds of messages by their upper four bits
enum {
  NOTE_OFF     = 0x80,
  NOTE_ON      = 0x90,
  PROGRAM      = 0xC0,
  PRESSURE     = 0xD0,
  SYSTEM       = 0xF0,
  FIRST_STATUS = 0x80,
};

unsigned
message_size(const uint8_t status)
{
  if (status < FIRST_STATUS || status >= SYSTEM) {
    return 0;
  }
  const unsigned kind = status & 0xF0U;
  return kind == PROGRAM || kind == PRESSURE ? 2 : 3;
}

static bool
is_whole(const uint8_t* const bytes, const size_t left, const unsigned size)
{
  if (!size || left < size) {
    return false;
  }
  for (unsigned i = 1; i < size; ++i) {
    if (bytes[i] >= FIRST_STATUS) {
      return false;
    }
  }
  return true;
}

bool
message_next(const uint8_t* const bytes,
             const size_t         size,
             size_t* const        at,
             MidiMessage* const   message)
{
  for (; *at < size; ++*at) {
    const uint8_t* const begin = bytes + *at;
    const unsigned       n     = message_size(begin[0]);
    if (is_whole(begin, size - *at, n)) {
      *message = (MidiMessage){.size = (uint8_t)n};
      for (unsigned i = 0; i < n; ++i) {
        message->bytes[i] = begin[i];
      }
      if ((begin[0] & 0xF0U) == NOTE_ON && !begin[2]) {
        message->bytes[0] = (uint8_t)(NOTE_OFF | (begin[0] & 0x0FU));
      }
      *at += n;
      return true;
    }
  }
  return false;
}
