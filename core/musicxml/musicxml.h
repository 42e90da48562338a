/// @file core/musicxml/musicxml.h A conversation on paper as MusicXML 4.0 (W3C
/// Community Group Final Report, 2021).
///
/// libxml2 writes the letters.

#ifndef CORE_MUSICXML_MUSICXML_H
#define CORE_MUSICXML_MUSICXML_H

#include "core/attributes.h"
#include "core/notation/score.h"
#include "core/status.h"

#include <stddef.h>

/**
   Write a score.

   Pitches below C0, which the format has no octave for, are written in the
   lowest one.

   @param[out] bytes Owned by the caller: free(). Written on success only.
   @return STATUS_OK or STATUS_MEMORY.
*/
MUST_USE Status
musicxml_bytes(const Score* score, char** bytes, size_t* size);

#endif // CORE_MUSICXML_MUSICXML_H
