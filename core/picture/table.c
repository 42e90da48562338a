// What the program finds in the module

#include "core/picture/picture.h"
#include "core/picture/picture_module.h"

extern const PictureModule barter_module;

const PictureModule barter_module = {
  .head = {BARTER_VERSION},
  .draw = picture_draw,
};
