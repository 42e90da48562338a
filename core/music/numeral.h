/// @file core/music/numeral.h Roman numerals: chords counted from a key.

#ifndef CORE_MUSIC_NUMERAL_H
#define CORE_MUSIC_NUMERAL_H

#include "core/attributes.h"
#include "core/music/chord.h"
#include "core/music/key.h"
#include "core/status.h"

#include <stddef.h>

/**
   Read a Roman numeral: `I7`, `iv7`, `bVI7`, `#ivdim7`, `V7b9`, `iim7b5`,
   `IVmaj7`, `V7/V` is refused with the rest.

   Upper case counts as major, lower case as minor: `ii7` is a minor seventh,
   `iidim7` and `iim7b5` say the rest themselves. Degrees are counted from the
   major scale on the key's tonic in major and in minor alike, so that the sixth
   degree of a minor key is `bVI` (common practice, no source).

   The chord is spelled as counted: `bII7` in Db major is Ebb7.

   @param[out] chord Written on success only.
   @param text Ends with NUL, a blank or `length`.
   @return STATUS_OK; STATUS_SYNTAX with nothing written.
*/
MUST_USE Status
numeral_parse(Chord* chord, Key key, const char* text, size_t length);

#endif // CORE_MUSIC_NUMERAL_H
