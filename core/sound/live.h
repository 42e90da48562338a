/// @file core/sound/live.h The built-in synthesiser, heard as it is played.
///
/// Not beside a rendering (sound.h): FluidSynth's log is one for the process.

#ifndef CORE_SOUND_LIVE_H
#define CORE_SOUND_LIVE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/sound/sound.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/// Opaque.
typedef struct Live Live;

/// What to open.
typedef struct {
  SoundFont   font;
  const char* driver;      ///< `jack`, `pulseaudio`, `alsa`; `null` plays to
                           ///< nobody, in time; NULL: the first that works
  const uint8_t* programs; ///< That are made ready, 0..127 or SOUND_DRUMS
  size_t         n_programs;
} LiveWish;

/**
   Open a synthesiser on a sound device; it is silent until live_load().

   No JACK server is started, and what the sound systems print is kept back.

   @param wish What it points to outlives the synthesiser.
   @param[out] live Written on success only; give it to live_close().
   @return STATUS_OK; STATUS_SYSTEM if no device works; else as
   soundfont_find(); STATUS_MEMORY; with the fault written.
*/
MUST_USE Status
live_open(Live** live, const LiveWish* wish, Fault* fault);

/**
   Load the sound font, once. A large one takes seconds. Thread: one, of any.

   @return STATUS_OK, or STATUS_SYNTAX if it cannot be loaded, with the fault
   written.
*/
MUST_USE Status
live_load(Live* live, Fault* fault);

/// Close it; NULL does nothing.
void
live_close(Live* live);

/// Return the driver that works: `jack`, `alsa`...
const char*
live_driver(const Live* live);

/// Return the name of the sound font's file.
const char*
live_font(const Live* live);

/// Return whether the device still asks for sound: false from the eighth look
/// on at which it has not since the one before. Some looks a second are right.
/// Thread: one, of any.
bool
live_is_alive(Live* live);

/// Play a channel message of three bytes now; takes up to 0.1 ms. Other
/// messages do nothing, and nothing does before live_load() has ended. Thread:
/// one, of any.
void
live_send(Live* live, const uint8_t bytes[3]);

/// Return the loudest sample that the driver `null` was given, full scale = 1.
/// Thread: any.
float
live_peak(const Live* live);

#endif // CORE_SOUND_LIVE_H
