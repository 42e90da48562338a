/// @file core/picture/picture.h SVG drawn as lines and letters, by librsvg.

#ifndef CORE_PICTURE_PICTURE_H
#define CORE_PICTURE_PICTURE_H

#include "core/attributes.h"
#include "core/status.h"

#include <stddef.h>

/**
   Draw an SVG into a box, as large as it fits and in its middle.

   @param pen A `cairo_t*` whose lengths the box is in.
   @param box Left, top, width and height.
   @return STATUS_OK; STATUS_SYNTAX if it is none.
*/
MUST_USE Status
picture_draw(void* pen, const char* svg, size_t n_svg, const double box[4]);

#endif // CORE_PICTURE_PICTURE_H
