/// @file core/settings/feel_file.h Feels as files.
///
/// A feel file says `title`, `meters`, `swing`, `ride_extra`, `bass_line`, and
/// for each of `chords`, `bass` and `drums` a list of patterns. A pattern says
/// `bars`, `layer`, `meter` if the feel has several that it does not all fit,
/// and its notes: `beats` with `lengths`, `velocities` and, for the bass,
/// `tones`; for the drums `strokes`, each a `drum` with `beats` and
/// `velocities`.
///
/// Beats are those of the meter, counted from 1 and on through the bars of the
/// pattern; lengths are counted in beats, too. Twelfths of a beat may be
/// rounded: 1.33 is the second triplet. What is one value for all notes needs
/// no brackets.

#ifndef CORE_SETTINGS_FEEL_FILE_H
#define CORE_SETTINGS_FEEL_FILE_H

#include "core/attributes.h"
#include "core/band/feel.h"
#include "core/settings/faults.h"
#include "core/settings/settings.h"
#include "core/status.h"

/**
   Read a feel from settings that are open; its name is that of the file.

   @param[out] feel Of use on success only.
   @return STATUS_OK, or STATUS_SYNTAX with the faults noted.
*/
MUST_USE Status
feel_file_read(Feel* feel, Settings* settings);

/**
   Load a feel from a file.

   @param[out] feel Of use on success only.
   @return STATUS_OK, or what settings_open() or feel_file_read() returned.
*/
MUST_USE Status
feel_file_load(Feel* feel, const char* path, Faults* faults);

#endif // CORE_SETTINGS_FEEL_FILE_H
