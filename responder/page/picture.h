/// @file responder/page/picture.h Notation engraved: a picture, and where the
/// notes stand in it.

#ifndef RESPONDER_PAGE_PICTURE_H
#define RESPONDER_PAGE_PICTURE_H

#include "core/abc/abc.h"
#include "core/attributes.h"
#include "core/status.h"
#include "core/tick.h"

#include <jansson.h>
#include <stddef.h>

/// A note, in the units of the picture's viewBox: along its line, and how far
/// that reaches.
typedef struct {
  Tick     tick;
  unsigned line; ///< From 0
  double   x, y, w, h;
} PictureMark;

/// Begin with a text and its places, all else zeroed; end by picture_free().
typedef struct {
  char*        abc;
  size_t       n_abc;
  AbcPlaces    places;
  char*        svg;
  size_t       n_svg;
  char*        png; ///< As text; NULL if it is not drawn by dots
  PictureMark* marks;
  size_t       n_marks;
} Picture;

/// Engrave the text; as engrave_svg(), for which it waits.
MUST_USE Status
picture_draw(Picture* picture);

/// Draw the picture by dots, too: while one plays, a browser's own drawing of
/// it would hold up the keys. Without librsvg it does that.
void
picture_draw_by_dots(Picture* picture);

/// Put `svg`, `marks` and, if there is one, `png` into an object.
void
picture_tell(const Picture* picture, json_t* object);

void
picture_free(Picture* picture);

#endif // RESPONDER_PAGE_PICTURE_H
