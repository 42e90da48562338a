#include "core/ports/message.h"

#include "core/midi_message.h"

/// Return how many bytes a channel message of this status has, 0 if it is none.
static unsigned
message_size(const uint8_t status)
{
  if (status < MIDI_NOTE_OFF || status >= MIDI_SYSTEM) {
    return 0;
  }
  const unsigned kind = status & 0xF0U;
  return kind == MIDI_PROGRAM || kind == MIDI_PRESSURE ? 2 : 3;
}

static bool
is_whole(const uint8_t* const bytes, const size_t left, const unsigned size)
{
  if (!size || left < size) {
    return false;
  }
  for (unsigned i = 1; i < size; ++i) {
    if (bytes[i] >= MIDI_NOTE_OFF) {
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
      if ((begin[0] & 0xF0U) == MIDI_NOTE_ON && !begin[2]) {
        message->bytes[0] = (uint8_t)(MIDI_NOTE_OFF | (begin[0] & 0x0FU));
      }
      *at += n;
      return true;
    }
  }
  return false;
}
