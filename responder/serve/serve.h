/// @file responder/serve/serve.h The page's server on libwebsockets. What each
/// call does stands in responder/page/server.h.

#ifndef RESPONDER_SERVE_SERVE_H
#define RESPONDER_SERVE_SERVE_H

#include "responder/page/server_module.h"

MUST_USE Status
serve_open(Serving**             serving,
           unsigned              port,
           const Asset*          assets,
           const ServerListener* listener,
           Fault*                fault);

void
serve_close(Serving* serving);

unsigned
serve_port(const Serving* serving);

bool
serve_serve(Serving* serving);

void
serve_wake(Serving* serving);

void
serve_send(Serving* serving, unsigned client, const char* text, size_t size);

bool
serve_is_quiet(const Serving* serving);

void
serve_drop(Serving* serving, unsigned client, const char* why);

#endif // RESPONDER_SERVE_SERVE_H
