/// @file core/midi/smf.h Words that reader and writer of MIDI files share.
///
/// Source for all of it: Standard MIDI Files 1.0, RP-001, MIDI Manufacturers
/// Association, revised February 1996.

#ifndef CORE_MIDI_SMF_H
#define CORE_MIDI_SMF_H

enum {
  SMF_DRUM_CHANNEL   = 9,      ///< Channel 10 on a panel, counted from 0
  SMF_US_PER_QUARTER = 500000, ///< Tempo of a file that names none: 120 bpm
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
  SMF_NOTE_OFF    = 0x80,
  SMF_NOTE_ON     = 0x90,
  SMF_CONTROL     = 0xB0,
  SMF_PROGRAM     = 0xC0,
  SMF_BEND        = 0xE0,
  SMF_SYSEX       = 0xF0,
  SMF_ESCAPE      = 0xF7,
  SMF_META        = 0xFF,
  SMF_META_END    = 0x2F, ///< End of Track
  SMF_META_TEMPO  = 0x51,
  SMF_META_OFFSET = 0x54, ///< SMPTE time at which the track begins
  SMF_META_METER  = 0x58,
  SMF_META_KEY    = 0x59,
};

#endif // CORE_MIDI_SMF_H
