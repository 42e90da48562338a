/// @file core/abc/abc.h A score as ABC notation (The abc music standard 2.1,
/// abcnotation.com, 2011), which engravers and players of many kinds read.
///
/// Grace notes are slashed and slurred, tuplets and ties written out, chord
/// symbols in quotes; swing is said once, with the tempo. Accidentals count for
/// their octave until the bar line. Fingerings are decorations (!1!).

#ifndef CORE_ABC_ABC_H
#define CORE_ABC_ABC_H

#include "core/attributes.h"
#include "core/notation/score.h"
#include "core/status.h"
#include "core/tick.h"

#include <stddef.h>

/// How the tune is laid out.
typedef struct {
  unsigned bars_per_line; ///< 1 or more; a pick-up does not count
  unsigned n_lines;       ///< At most: the last has what is left; 0: any
  double   width_cm;      ///< Of the page
  double   height_cm;     ///< Of the page, where there are pages; 0: any
  bool     has_title;     ///< ... and tempo; else only the notes
} AbcLayout;

/// Where a note or chord stands in the text.
typedef struct {
  size_t offset; ///< Of what belongs to it: grace notes, what is over it
  Tick   tick;   ///< In the score
} AbcPlace;

/// Places, rising by offset; owned: free(places).
typedef struct {
  AbcPlace* places;
  size_t    n;
  size_t    capacity;
} AbcPlaces;

/**
   Write a score as one tune.

   @param[out] text Owned by the caller: free(). Written on success only; it
   ends with NUL, which `size` does not count.
   @return STATUS_OK or STATUS_MEMORY.
*/
MUST_USE Status
abc_text(const Score*     score,
         const AbcLayout* layout,
         char**           text,
         size_t*          size);

/// As abc_text(); tells, too, where each note stands.
/// @param[out] places Begin it zeroed.
MUST_USE Status
abc_text_placed(const Score*     score,
                const AbcLayout* layout,
                AbcPlaces*       places,
                char**           text,
                size_t*          size);

#endif // CORE_ABC_ABC_H
