/// @file core/midi/gm.h The sounds and drum keys of General MIDI that a band
/// needs.
///
/// Source: General MIDI System Level 1, MIDI Manufacturers Association: its
/// sound set (printed 1..128, here as they are sent, 0..127) and, on channel
/// 10, its percussion key map.

#ifndef CORE_MIDI_GM_H
#define CORE_MIDI_GM_H

/// Programs, as sent.
typedef enum {
  GM_ACOUSTIC_GRAND_PIANO  = 0,
  GM_BRIGHT_ACOUSTIC_PIANO = 1,
  GM_ELECTRIC_PIANO_1      = 4,
  GM_ELECTRIC_PIANO_2      = 5,
  GM_VIBRAPHONE            = 11,
  GM_DRAWBAR_ORGAN         = 16,
  GM_ACOUSTIC_GUITAR_NYLON = 24,
  GM_ACOUSTIC_GUITAR_STEEL = 25,
  GM_ELECTRIC_GUITAR_JAZZ  = 26,
  GM_ELECTRIC_GUITAR_CLEAN = 27,
  GM_ACOUSTIC_BASS         = 32,
  GM_ELECTRIC_BASS_FINGER  = 33,
  GM_FRETLESS_BASS         = 35,
  GM_TRUMPET               = 56,
  GM_TROMBONE              = 57,
  GM_ALTO_SAX              = 65,
  GM_TENOR_SAX             = 66,
  GM_CLARINET              = 71,
  GM_FLUTE                 = 73,
} GmProgram;

/// Keys on the drum channel.
typedef enum {
  GM_ACOUSTIC_BASS_DRUM = 35,
  GM_BASS_DRUM_1        = 36,
  GM_SIDE_STICK         = 37,
  GM_ACOUSTIC_SNARE     = 38,
  GM_HAND_CLAP          = 39,
  GM_ELECTRIC_SNARE     = 40,
  GM_LOW_FLOOR_TOM      = 41,
  GM_CLOSED_HI_HAT      = 42,
  GM_HIGH_FLOOR_TOM     = 43,
  GM_PEDAL_HI_HAT       = 44,
  GM_LOW_TOM            = 45,
  GM_OPEN_HI_HAT        = 46,
  GM_LOW_MID_TOM        = 47,
  GM_HI_MID_TOM         = 48,
  GM_CRASH_CYMBAL_1     = 49,
  GM_HIGH_TOM           = 50,
  GM_RIDE_CYMBAL_1      = 51,
  GM_RIDE_BELL          = 53,
  GM_TAMBOURINE         = 54,
  GM_SPLASH_CYMBAL      = 55,
  GM_COWBELL            = 56,
  GM_CRASH_CYMBAL_2     = 57,
  GM_RIDE_CYMBAL_2      = 59,
  GM_HI_WOOD_BLOCK      = 76,
  GM_LOW_WOOD_BLOCK     = 77,
} GmDrum;

#endif // CORE_MIDI_GM_H
