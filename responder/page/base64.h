/// @file responder/page/base64.h Bytes as text and back (RFC 4648, section 4).

#ifndef RESPONDER_PAGE_BASE64_H
#define RESPONDER_PAGE_BASE64_H

#include <stddef.h>

/// Return bytes as text, to be freed; NULL when there is no memory.
char*
base64_text(const void* bytes, size_t size);

/// Return the bytes of a text, to be freed; NULL if it is none, or when there
/// is no memory.
char*
base64_bytes(const char* text, size_t* size);

#endif // RESPONDER_PAGE_BASE64_H
