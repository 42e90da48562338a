/// @file core/picture/picture_module.h The module that knows librsvg, and much
/// under it.

#ifndef CORE_PICTURE_PICTURE_MODULE_H
#define CORE_PICTURE_PICTURE_MODULE_H

#include "core/module/module.h"
#include "core/status.h"

#include <stddef.h>

#define PICTURE_MODULE "barter-picture"

typedef struct {
  ModuleHead head;
  Status (*draw)(void*        pen,
                 const char*  svg,
                 size_t       n_svg,
                 const double box[4]); ///< As picture_draw()
} PictureModule;

#endif // CORE_PICTURE_PICTURE_MODULE_H
