/// @file core/midi_message.h The bytes of MIDI messages.
///
/// Source: MIDI 1.0 Detailed Specification 4.2, MIDI Manufacturers Association,
/// tables I and III, and those of the system messages.

#ifndef CORE_MIDI_MESSAGE_H
#define CORE_MIDI_MESSAGE_H

/// Status bytes.
enum {
  // The lower four bits are the channel
  MIDI_NOTE_OFF     = 0x80,
  MIDI_NOTE_ON      = 0x90,
  MIDI_KEY_PRESSURE = 0xA0,
  MIDI_CONTROL      = 0xB0,
  MIDI_PROGRAM      = 0xC0,
  MIDI_PRESSURE     = 0xD0,
  MIDI_BEND         = 0xE0,
  // Without a channel
  MIDI_SYSTEM        = 0xF0, ///< The first of them
  MIDI_SONG_POSITION = 0xF2,
  MIDI_CLOCK         = 0xF8,
  MIDI_START         = 0xFA,
  MIDI_CONTINUE      = 0xFB,
  MIDI_STOP          = 0xFC,
};

/// Channels, from 0.
enum {
  MIDI_DRUMS = 9, ///< General MIDI level 1
};

/// Controllers.
enum {
  MIDI_VOLUME        = 7,
  MIDI_SUSTAIN       = 64,
  MIDI_ALL_NOTES_OFF = 123,
};

#endif // CORE_MIDI_MESSAGE_H
