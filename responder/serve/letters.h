/// @file responder/serve/letters.h Bytes as text and back, by libwebsockets.
/// What each call does stands in responder/page/base64.h.

#ifndef RESPONDER_SERVE_LETTERS_H
#define RESPONDER_SERVE_LETTERS_H

#include <stddef.h>

char*
letters_of(const void* bytes, size_t size);

char*
letters_read(const char* text, size_t* size);

#endif // RESPONDER_SERVE_LETTERS_H
