#include "responder/serve/files.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  HEAD = 2048, ///< Bytes of an answer's head
  NAME = 160,  ///< Of a Host, an Origin or a path
};

// Nothing but ours; staves are shown as images out of memory
static const char policy[] =
  "default-src 'none'; script-src 'self'; style-src 'self'; "
  "img-src 'self' blob: data:; connect-src 'self'; base-uri 'none'; "
  "form-action 'none'; frame-ancestors 'none'";

// Who asks

static bool
has_header(struct lws* const            wsi,
           const enum lws_token_indexes token,
           char                         text[NAME])
{
  return lws_hdr_copy(wsi, text, NAME, token) > 0;
}

// Host, and Origin without its scheme, must be the address we gave
static bool
is_ours(const unsigned port, const char* const name)
{
  char right[NAME];
  (void)snprintf(right, sizeof(right), "127.0.0.1:%u", port);
  if (strcmp(name, right) == 0) {
    return true;
  }
  (void)snprintf(right, sizeof(right), "localhost:%u", port);
  return strcmp(name, right) == 0;
}

static bool
has_our_host(struct lws* const wsi, const unsigned port)
{
  char host[NAME];
  return has_header(wsi, WSI_TOKEN_HOST, host) && is_ours(port, host);
}

static bool
has_our_origin(struct lws* const wsi, const unsigned port)
{
  static const char scheme[] = "http://";
  char              origin[NAME];
  return has_header(wsi, WSI_TOKEN_ORIGIN, origin) &&
         strncmp(origin, scheme, strlen(scheme)) == 0 &&
         is_ours(port, origin + strlen(scheme));
}

// Files

static const char*
type_of(const char* const name)
{
  static const struct {
    const char* ending;
    const char* type;
  } types[] = {
    {".html", "text/html; charset=utf-8"},
    {".css", "text/css; charset=utf-8"},
    {".js", "text/javascript; charset=utf-8"},
    {".mjs", "text/javascript; charset=utf-8"},
    {".svg", "image/svg+xml"},
    {".png", "image/png"},
    {".woff2", "font/woff2"},
  };
  const char* const ending = strrchr(name, '.');
  for (unsigned i = 0; ending && i < sizeof(types) / sizeof(*types); ++i) {
    if (strcmp(ending, types[i].ending) == 0) {
      return types[i].type;
    }
  }
  return "application/octet-stream";
}

static bool
add_header(struct lws* const    wsi,
           const char* const    name,
           const char* const    value,
           unsigned char**      at,
           unsigned char* const end)
{
  return !lws_add_http_header_by_name(wsi,
                                      (const unsigned char*)name,
                                      (const unsigned char*)value,
                                      (int)strlen(value),
                                      at,
                                      end);
}

static bool
send_head(struct lws* const wsi,
          const unsigned    status,
          const char* const type,
          const size_t      size)
{
  unsigned char        buffer[LWS_PRE + HEAD];
  unsigned char* const begin = buffer + LWS_PRE;
  unsigned char* const end   = buffer + sizeof(buffer) - 1;
  unsigned char*       at    = begin;
  return !lws_add_http_common_headers(wsi, status, type, size, &at, end) &&
         add_header(wsi, "content-security-policy:", policy, &at, end) &&
         add_header(wsi, "x-content-type-options:", "nosniff", &at, end) &&
         add_header(wsi, "referrer-policy:", "no-referrer", &at, end) &&
         add_header(
           wsi, "cross-origin-opener-policy:", "same-origin", &at, end) &&
         add_header(
           wsi, "cross-origin-resource-policy:", "same-origin", &at, end) &&
         add_header(wsi, "cache-control:", "no-store", &at, end) &&
         !lws_finalize_write_http_header(wsi, begin, &at, end);
}

static const Asset*
asset_at(const Asset* const assets, const char* const path)
{
  const char* const name = strcmp(path, "/") == 0 ? "index.html" : path + 1;
  for (const Asset* asset = assets; asset->name; ++asset) {
    if (strcmp(asset->name, name) == 0) {
      return asset;
    }
  }
  return NULL;
}

// Both

bool
files_may_open(struct lws* const wsi,
               const unsigned    port,
               const char* const channel)
{
  char path[NAME];
  return has_our_host(wsi, port) && has_our_origin(wsi, port) &&
         has_header(wsi, WSI_TOKEN_GET_URI, path) && strcmp(path, channel) == 0;
}

const Asset*
files_answer(struct lws* const  wsi,
             const unsigned     port,
             const Asset* const assets,
             const char* const  path)
{
  char               asked[NAME];
  const bool         is_get = has_header(wsi, WSI_TOKEN_GET_URI, asked);
  const Asset* const asset  = asset_at(assets, path);
  const unsigned     status = !has_our_host(wsi, port) ? 421
                              : !is_get                ? 405
                              : !asset                 ? 404
                                                       : 200;
  if (status != 200) {
    (void)send_head(wsi, status, "text/plain", 0);
    return NULL;
  }
  if (!send_head(wsi, status, type_of(asset->name), asset->size)) {
    return NULL;
  }
  (void)lws_callback_on_writable(wsi);
  return asset;
}

bool
files_send(struct lws* const wsi, const Asset* const asset)
{
  unsigned char* const buffer = malloc(LWS_PRE + asset->size);
  if (!buffer) {
    return false;
  }
  memcpy(buffer + LWS_PRE, asset->bytes, asset->size);
  const int n =
    lws_write(wsi, buffer + LWS_PRE, asset->size, LWS_WRITE_HTTP_FINAL);
  free(buffer);
  return n >= 0 && !lws_http_transaction_completed(wsi);
}
