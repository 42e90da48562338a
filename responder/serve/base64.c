#include "responder/serve/base64.h"

#include <libwebsockets.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

char*
serve_base64_of(const void* const bytes, const size_t size)
{
  const size_t capacity = (size + 2) / 3 * 4 + 8; // It wants more room
  char* const  text     = capacity < INT_MAX ? malloc(capacity) : NULL;
  if (text &&
      lws_b64_encode_string(bytes, (int)size, text, (int)capacity) < 0) {
    free(text);
    return NULL;
  }
  return text;
}

char*
serve_base64_read(const char* const text, size_t* const size)
{
  const size_t capacity = strlen(text) + 4;
  char* const  bytes    = capacity < INT_MAX ? malloc(capacity) : NULL;
  const int n = bytes ? lws_b64_decode_string(text, bytes, (int)capacity) : -1;
  if (n < 0) {
    free(bytes);
    return NULL;
  }
  *size = (size_t)n;
  return bytes;
}
