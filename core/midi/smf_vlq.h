/// @file core/midi/smf_vlq.h Numbers of variable length, as MIDI files have
/// them: seven bits a byte, the highest first, bit 7 set on all but the last.

#ifndef CORE_MIDI_SMF_VLQ_H
#define CORE_MIDI_SMF_VLQ_H

#include <stddef.h>
#include <stdint.h>

enum {
  SMF_VLQ_MAX      = 0x0FFFFFFF, ///< The largest that RP-001 allows
  SMF_VLQ_CAPACITY = 4,          ///< Bytes that it takes
};

/**
   Read a number. Longer forms than needed (80 00 for 0) are accepted.

   @param size Bytes that may be looked at.
   @param[out] value Written on success only.
   @return Bytes used, 1..4; 0 if the number is cut off or longer than four.
*/
unsigned
smf_vlq_read(const uint8_t* bytes, size_t size, uint32_t* value);

/**
   Write a number in as few bytes as it needs.

   @return Bytes written, 1..4; 0 if `value` is above SMF_VLQ_MAX.
*/
unsigned
smf_vlq_write(uint8_t bytes[SMF_VLQ_CAPACITY], uint32_t value);

#endif // CORE_MIDI_SMF_VLQ_H
