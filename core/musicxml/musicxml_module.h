/// @file core/musicxml/musicxml_module.h The module that knows libxml2, and ICU
/// under it.

#ifndef CORE_MUSICXML_MUSICXML_MODULE_H
#define CORE_MUSICXML_MUSICXML_MODULE_H

#include "core/module/module.h"
#include "core/notation/score.h"
#include "core/status.h"

#include <stddef.h>

#define MUSICXML_MODULE "barter-musicxml"

typedef struct {
  ModuleHead head;
  Status (*bytes)(const Score* score,
                  char**       bytes,
                  size_t*      size); ///< As musicxml_bytes()
} MusicxmlModule;

#endif // CORE_MUSICXML_MUSICXML_MODULE_H
