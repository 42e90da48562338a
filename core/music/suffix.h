/// @file core/music/suffix.h What stands after a chord's root, read into tones.

#ifndef CORE_MUSIC_SUFFIX_H
#define CORE_MUSIC_SUFFIX_H

#include "core/attributes.h"
#include "core/music/chord.h"
#include "core/music/interval.h"
#include "core/status.h"

#include <stddef.h>

/**
   Read a suffix by the grammar of chord_parse().

   @param[out] tones From the root up; anything may stand there on failure.
   @param[out] n_tones Written on success only.
   @return STATUS_OK or STATUS_SYNTAX.
*/
MUST_USE Status
suffix_read(const char* text,
            size_t      length,
            Interval    tones[CHORD_TONE_CAPACITY],
            unsigned*   n_tones);

#endif // CORE_MUSIC_SUFFIX_H
