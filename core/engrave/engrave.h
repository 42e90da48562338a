/// @file core/engrave/engrave.h ABC notation engraved: as SVG, PDF or PNG.
///
/// abcm2ps (Debian's package of that name) sets the notes, in a process of its
/// own; pages and pictures are drawn of its SVG (paper_picture()).

#ifndef CORE_ENGRAVE_ENGRAVE_H
#define CORE_ENGRAVE_ENGRAVE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>

/// Zeroed: one picture in black.
typedef struct {
  const char* colour;    ///< Of all ink, as CSS names it; NULL: black
  bool        has_pages; ///< One SVG for each page, one after the other
  bool        has_marks; ///< <abc> elements tell of each symbol where in the
                         ///< text it stands (row, col) and where in the picture
  unsigned seconds;      ///< That it may take; 0: ten
} EngraveStyle;

/**
   Engrave a tune as SVG. Like every call here it waits for the other program;
   never on the clock thread.

   @param[out] svg Owned by the caller: free(). Written on success only; NUL
   stands behind its `size` bytes. It scales (`viewBox`), and names neither date
   nor machine.
   @param[out] fault Written on failure, without a file.
   @return STATUS_OK; STATUS_MISSING if abcm2ps is not installed; STATUS_FULL if
   it took too long; STATUS_SYNTAX if it made nothing of the text;
   STATUS_MEMORY; STATUS_SYSTEM.
*/
MUST_USE Status
engrave_svg(const char*         abc,
            size_t              n_abc,
            const EngraveStyle* style,
            char**              svg,
            size_t*             size,
            Fault*              fault);

/// One of the pictures that stand one after the other where a text has more
/// tunes or pages than one.
typedef struct {
  const char* svg;    ///< NULL: none yet
  size_t      n;      ///< Bytes
  double      width;  ///< Pixels
  double      height; ///< ...
} EngravedPiece;

#define ENGRAVED_POINTS 0.75 ///< A pixel, as CSS 2.1 has it (4.3.2)

/// Go on to the next picture of an SVG; false if there is no other.
bool
engrave_next(EngravedPiece* piece, const char* svg);

enum { ENGRAVE_DOTS = 1100 }; ///< What engrave_film() draws is no wider

/**
   Draw the first picture of an SVG by dots, on nothing: a browser that shows
   it has less to do.

   @param dots To a pixel of the SVG; fewer where it would be wider than
   ENGRAVE_DOTS.
   @param[out] png Owned by the caller: free(). Written on success only.
   @return STATUS_OK; STATUS_SYNTAX; STATUS_MEMORY; as module_open().
*/
MUST_USE Status
engrave_film(const char* svg,
             double      dots,
             char**      png,
             size_t*     size,
             Fault*      fault);

/// Whether a path ends as one that engrave_save() writes: .svg, .pdf, .png, or
/// .abc.
bool
engrave_can_save(const char* path);

/**
   Engrave a tune into a file by its ending: .svg and .png hold one picture, a
   .pdf pages, an .abc the tune as it is written.

   @return As engrave_svg(), or what file_save() returned.
*/
MUST_USE Status
engrave_save(const char* abc, size_t n_abc, const char* path, Fault* fault);

#endif // CORE_ENGRAVE_ENGRAVE_H
