/// @file responder/serve/files.h Who may ask, and the page's files, by HTTP.
///
/// Host, and the Origin of a channel, must be the address that was given.

#ifndef RESPONDER_SERVE_FILES_H
#define RESPONDER_SERVE_FILES_H

#include "responder/page/server_module.h"

#include <libwebsockets.h>
#include <stdbool.h>

/// Whether a channel may be opened at this path, before anything of it is read.
bool
files_may_open(struct lws* wsi, unsigned port, const char* channel);

/// Answer a request for a file: 421 to a foreign Host, 405, 404, or its head.
/// Return the file, to be sent when it can be; NULL to end the connection.
const Asset*
files_answer(struct lws*  wsi,
             unsigned     port,
             const Asset* assets,
             const char*  path);

/// Send a file; false to end the connection.
bool
files_send(struct lws* wsi, const Asset* asset);

#endif // RESPONDER_SERVE_FILES_H
