/// @file core/music/key.h A key: tonic and mode.

#ifndef CORE_MUSIC_KEY_H
#define CORE_MUSIC_KEY_H

#include "core/attributes.h"
#include "core/music/spelling.h"
#include "core/status.h"

#include <stdbool.h>
#include <stdint.h>

/// A key; zeroed, it is C major.
typedef struct {
  Spelling tonic;
  bool     is_minor;
} Key;

enum { KEY_TEXT_CAPACITY = 16 };

/**
   Read `C`, `Eb major`, `F# minor`, `Am` is refused (a chord, not a key).

   Tonics whose signature would need more than seven accidentals are refused.

   @param[out] key Written on success only.
   @return STATUS_OK, or STATUS_SYNTAX.
*/
MUST_USE Status
key_parse(Key* key, const char* text);

/// Write `Eb major`; return `buffer`.
const char*
key_text(Key key, char buffer[KEY_TEXT_CAPACITY]);

/// Return the signature: sharps above 0, flats below, -7..7.
int
key_signature(Key key);

/// Return the key itself, or, if its signature would need more than seven, the
/// key that sounds the same with the fewest.
Key
key_readable(Key key);

/// Return the pitch classes of the key's own scale; bit n: pitch class n (0 =
/// C). A minor one has its leading tone beside the minor seventh.
uint16_t
key_pitch_classes(Key key);

/// Spell a pitch class that belongs to no chord or scale tone at hand: as the
/// key's own scale has it (natural minor in minor), else a natural, else with a
/// sharp in sharp keys, with a flat in flat keys and in C.
Spelling
key_spell(Key key, unsigned pitch_class);

#endif // CORE_MUSIC_KEY_H
