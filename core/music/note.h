/// @file core/music/note.h One note: when, how long, how high, how loud.

#ifndef CORE_MUSIC_NOTE_H
#define CORE_MUSIC_NOTE_H

#include "core/tick.h"

#include <stdint.h>

typedef struct {
  Tick    tick;     ///< Onset
  Tick    length;   ///< At least 1
  uint8_t pitch;    ///< MIDI key number, 0..127 (60 = middle C)
  uint8_t velocity; ///< 1..127
} Note;

#endif // CORE_MUSIC_NOTE_H
