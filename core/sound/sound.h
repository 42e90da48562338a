/// @file core/sound/sound.h The built-in synthesiser, played into a file.
///
/// Renders channel messages with their times to a WAV file: 16 bits, stereo,
/// 44.1 kHz. The same events and the same sound font give the same bytes. No
/// sound device is opened. Call it from one thread at a time, and not beside
/// another user of FluidSynth: its log is one for the whole process.

#ifndef CORE_SOUND_SOUND_H
#define CORE_SOUND_SOUND_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/sound/soundfont.h"
#include "core/status.h"
#include "core/watch.h"

#include <stddef.h>
#include <stdint.h>

enum {
  SOUND_RATE      = 44100, ///< Frames a second
  SOUND_STEP      = 64,    ///< Frames: an event sounds at the nearest of these
  SOUND_TAIL_US   = 1500000, ///< What rings on after the last event, fading out
  SOUND_LONGEST_S = 21600,   ///< The longest piece, seconds: six hours

  SOUND_DRUMS         = 128, ///< The drums, among the programs of General MIDI
  SOUND_MOST_PROGRAMS = 129,

  SOUND_REMARK_CAPACITY = 160,
};

/// A MIDI channel message and when it is to sound.
typedef struct {
  int64_t time_us; ///< From the start of the file, 0 .. SOUND_LONGEST_S
  uint8_t status;  ///< 0x80..0xEF: kind and channel (9 plays the drums)
  uint8_t data1;   ///< 0..127
  uint8_t data2;   ///< 0..127; not read where a message has one data byte
} SoundEvent;

/// What was rendered.
typedef struct {
  uint32_t n_frames;
  float    peak;                          ///< Full scale = 1
  char     remark[SOUND_REMARK_CAPACITY]; ///< Its first warning; "" if none
} SoundReport;

/**
   Render events to a WAV file.

   It is as loud as the same events are live, and written as it is played: the
   file takes its name only when it is complete.

   @param events In order of time; a program change chooses each channel's
   sound, controller 7 its level, as General MIDI has it.
   @param font As soundfont_find() has it.
   @param watch Looks on while it is played; NULL: nobody does.
   @param[out] report Written on success only.
   @param[out] fault Written on failure only.
   @return STATUS_OK; STATUS_RANGE if an event is no channel message or out of
   order; STATUS_MISSING if there is no sound font; STATUS_SYNTAX if the font is
   none; STATUS_MEMORY; STATUS_SYSTEM if the file cannot be written;
   STATUS_STOPPED if it was stopped, and there is no file.
*/
MUST_USE Status
sound_render(const char*       wav_path,
             const SoundEvent* events,
             size_t            n_events,
             SoundFont         font,
             const Watch*      watch,
             SoundReport*      report,
             Fault*            fault);

#endif // CORE_SOUND_SOUND_H
