// What the program finds in the module

#include "core/musicxml/musicxml.h"
#include "core/musicxml/musicxml_module.h"

extern const MusicxmlModule barter_module;

const MusicxmlModule barter_module = {
  .head  = {BARTER_VERSION},
  .bytes = musicxml_bytes,
};
