/// @file core/midi/smf.h What the reader and the writer of MIDI files share.
///
/// Plain values. The reader gives their ticks as 960 to the quarter note; the
/// writer takes them as it is told to count.
///
/// Source for all of it: Standard MIDI Files 1.0, RP-001, MIDI Manufacturers
/// Association, revised February 1996.

#ifndef CORE_MIDI_SMF_H
#define CORE_MIDI_SMF_H

#include "core/midi_message.h"
#include "core/tick.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  SMF_DRUM_CHANNEL   = 9,      ///< Channel 10 on a panel, counted from 0
  SMF_US_PER_QUARTER = 500000, ///< Tempo of a file that names none: 120 bpm
  SMF_TRACK_CAPACITY = 16384,  ///< Tracks that are read or written
};

/// What a text is for; the numbers are those of the meta events.
typedef enum {
  SMF_TEXT         = 1,
  SMF_COPYRIGHT    = 2,
  SMF_TRACK_NAME   = 3,
  SMF_INSTRUMENT   = 4,
  SMF_LYRIC        = 5,
  SMF_MARKER       = 6,
  SMF_CUE          = 7,
  SMF_PROGRAM_NAME = 8,
  SMF_DEVICE_NAME  = 9,
} SmfTextKind;

/// Bytes that RP-001 gives a meaning.
enum {
  SMF_SYSEX       = 0xF0,
  SMF_ESCAPE      = 0xF7,
  SMF_META        = 0xFF,
  SMF_META_END    = 0x2F, ///< End of Track
  SMF_META_TEMPO  = 0x51,
  SMF_META_OFFSET = 0x54, ///< SMPTE time at which the track begins
  SMF_META_METER  = 0x58,
  SMF_META_KEY    = 0x59,
};

/// One note.
typedef struct {
  Tick     tick;         ///< Onset, 0 or later
  uint32_t length;       ///< Ticks, at least 1
  unsigned pitch : 7;    ///< MIDI key number, 0..127 (60 = middle C)
  unsigned velocity : 7; ///< 1..127
  unsigned channel : 4;  ///< 0..15; drums are on SMF_DRUM_CHANNEL
  unsigned track : 14;   ///< From 0, in the order of the file
} SmfNote;

/// A channel message that is no note: controller, program, bend, pressure.
typedef struct {
  _Alignas(8) Tick tick;
  uint16_t track;
  uint8_t  status;  ///< A0..EF, its lower four bits the channel
  uint8_t  data[2]; ///< 0..127; the second is 0 if it has one only
} SmfControl;

/// Return whether a channel message has two data bytes: Cn and Dn have one.
static inline bool
smf_has_two(const uint8_t status)
{
  return (status & 0xE0U) != MIDI_PROGRAM;
}

typedef struct {
  _Alignas(8) Tick tick;
  uint32_t us_per_quarter; ///< Microseconds, at least 1
} SmfTempo;

typedef struct {
  _Alignas(8) Tick tick;
  uint16_t beats;           ///< 1..255; of 6/8 it is the 6
  uint16_t unit;            ///< 1, 2, 4 .. 128; of 6/8 it is the 8
  uint8_t  clocks_a_click;  ///< MIDI clocks from one click to the next
  uint8_t  n32_per_quarter; ///< Written 32nds in a MIDI quarter, commonly 8
} SmfMeter;

typedef struct {
  _Alignas(8) Tick tick;
  int8_t  sharps;   ///< -7..7, flats below 0
  uint8_t is_minor; ///< 0 or 1
} SmfKey;

#endif // CORE_MIDI_SMF_H
