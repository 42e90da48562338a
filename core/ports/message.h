/// @file core/ports/message.h Channel messages out of whatever bytes arrive.

#ifndef CORE_PORTS_MESSAGE_H
#define CORE_PORTS_MESSAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/// One whole MIDI message of up to three bytes, and when it was met.
typedef struct {
  int64_t time_ns; ///< Of the machine's monotonic clock
  uint8_t size;    ///< 1..3
  uint8_t bytes[3];
} MidiMessage;

/**
   Take the next channel message out of a buffer.

   Bytes are not trusted: system messages, data without a status and messages
   cut short are passed over; several messages may stand in one buffer. A key
   struck with velocity 0 comes as a key released.

   @param[in,out] at Where to read on; `size` when nothing is left.
   @param[out] message Its bytes and size are written when true comes back.
*/
bool
message_next(const uint8_t* bytes,
             size_t         size,
             size_t*        at,
             MidiMessage*   message);

#endif // CORE_PORTS_MESSAGE_H
