/// @file core/engrave/picture.h SVG as pages of a PDF, or as one PNG, by
/// rsvg-convert (Debian's librsvg2-bin), a program of its own: linked, its
/// library would double the time of every start.

#ifndef CORE_ENGRAVE_PICTURE_H
#define CORE_ENGRAVE_PICTURE_H

#include "core/attributes.h"
#include "core/status.h"

#include <stddef.h>

/**
   Make a PDF, a page for each SVG of several that stand one after the other.

   @param[out] bytes Owned by the caller: free(). Written on success only.
   @return STATUS_OK, STATUS_SYNTAX if it is no SVG; else as child_run().
*/
MUST_USE Status
picture_pdf(const char* svg, size_t n_svg, char** bytes, size_t* size);

/// Make a PNG on white, of twice the pixels that the SVG asks for; as above.
MUST_USE Status
picture_png(const char* svg, size_t n_svg, char** bytes, size_t* size);

#endif // CORE_ENGRAVE_PICTURE_H
