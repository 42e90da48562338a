/// @file responder/serve/base64.h Bytes as text and back, by libwebsockets.
/// What each call does stands in responder/page/base64.h.

#ifndef RESPONDER_SERVE_BASE64_H
#define RESPONDER_SERVE_BASE64_H

#include <stddef.h>

char*
serve_base64_of(const void* bytes, size_t size);

char*
serve_base64_read(const char* text, size_t* size);

#endif // RESPONDER_SERVE_BASE64_H
