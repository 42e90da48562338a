/// @file responder/page/assets.h The page's own files, compiled in.

#ifndef RESPONDER_PAGE_ASSETS_H
#define RESPONDER_PAGE_ASSETS_H

#include <stddef.h>

typedef struct {
  const char*          name; ///< `index.html`; NULL ends the list
  const unsigned char* bytes;
  size_t               size;
} Asset;

extern const Asset page_assets[];

#endif // RESPONDER_PAGE_ASSETS_H
