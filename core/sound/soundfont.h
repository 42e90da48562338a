/// @file core/sound/soundfont.h Where the sounds lie on this machine.

#ifndef CORE_SOUND_SOUNDFONT_H
#define CORE_SOUND_SOUNDFONT_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"

enum { SOUNDFONT_PATH_CAPACITY = 1024 };

/// A sound font that is wished for.
typedef struct {
  const char* path;  ///< NULL: the first of the names that is there
  const char* names; ///< File names, the best first, with commas between
} SoundFont;

/**
   Find a sound font on this machine.

   Looks for a name in sounds/sf3, sounds/sf2 and soundfonts under the data
   directories of the XDG Base Directory Specification: $XDG_DATA_HOME
   ($HOME/.local/share), then those of $XDG_DATA_DIRS
   (/usr/local/share:/usr/share).

   @param[out] path SOUNDFONT_PATH_CAPACITY bytes, written on success only.
   @return STATUS_OK if it is a whole file; else as soundfont_check() or, with a
   fault that says what to install, STATUS_MISSING.
*/
MUST_USE Status
soundfont_find(SoundFont font, char* path, Fault* fault);

/**
   Look whether a file is a whole SoundFont 2 file by its outermost chunk.

   @return STATUS_OK; STATUS_MISSING if it cannot be opened; STATUS_SYNTAX if
   it is another kind of file or was cut short.
*/
MUST_USE Status
soundfont_check(const char* path, Fault* fault);

#endif // CORE_SOUND_SOUNDFONT_H
