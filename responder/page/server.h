/// @file responder/page/server.h The page's files and its channel, for browsers
/// on this machine, by the module that knows libwebsockets.
///
/// It listens on 127.0.0.1 only. Who asks by another name than the address is
/// sent away (421), so is a channel that another page opens (its Origin),
/// before anything is read. What is compiled in is served; nothing else is.
///
/// Threads: one calls what is here, but for server_wake().

#ifndef RESPONDER_PAGE_SERVER_H
#define RESPONDER_PAGE_SERVER_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>

enum {
  SERVER_CLIENTS      = 32,    ///< Channels at once
  SERVER_MESSAGE      = 65536, ///< Bytes of a message to the server, at most
  SERVER_A_SECOND     = 500,   ///< Messages of one client, at most
  SERVER_WAITING      = 512,   ///< Messages that may wait for a slow reader
  SERVER_PATIENCE_MS  = 10000, ///< For a reader that takes nothing
  SERVER_WHY_CAPACITY = 120,
};

/// Opaque.
typedef struct Server Server;

/// Told of what happens; clients are numbered 0..SERVER_CLIENTS - 1, and a
/// number is free again after `left`.
typedef struct {
  void* context;
  void (*came)(void* context, unsigned client);
  /// `text` ends with NUL and lives as long as the call.
  void (*said)(void* context, unsigned client, const char* text, size_t size);
  void (*left)(void* context, unsigned client);
  /// Time went by, or server_wake() was called; returns in how many
  /// milliseconds it wants to be called again.
  unsigned (*looks)(void* context);
} ServerListener;

/**
   Listen.

   @param port 0: any that is free.
   @param[out] server Written on success only; give it to server_close().
   @return STATUS_OK; STATUS_SYSTEM with the fault written, if the port is taken
   for one.
*/
MUST_USE Status
server_open(Server**              server,
            unsigned              port,
            const ServerListener* listener,
            Fault*                fault);

/// Close every channel, at once. NULL does nothing.
void
server_close(Server* server);

/// Return the port it listens on.
unsigned
server_port(const Server* server);

/// Serve whatever has come, or wait until something does; false if it can no
/// more.
bool
server_serve(Server* server);

/// Let server_serve() return, and `looks` be called. Thread: any.
void
server_wake(Server* server);

/// Send a text, which is copied, when the client can take it. One who reads too
/// slowly is dropped, never waited for.
void
server_send(Server* server, unsigned client, const char* text, size_t size);

/// Whether nothing waits to be sent.
bool
server_is_quiet(const Server* server);

/// Send what waits, then close a channel, with a reason.
void
server_drop(Server* server, unsigned client, const char* why);

#endif // RESPONDER_PAGE_SERVER_H
