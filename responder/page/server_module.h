/// @file responder/page/server_module.h The module that knows libwebsockets,
/// and OpenSSL under it. What each call does stands in server.h and base64.h.

#ifndef RESPONDER_PAGE_SERVER_MODULE_H
#define RESPONDER_PAGE_SERVER_MODULE_H

#include "core/module/module.h"
#include "responder/page/assets.h"
#include "responder/page/server.h"

#include <stdbool.h>
#include <stddef.h>

#define SERVER_MODULE "barter-page"

/// What listens. Opaque.
typedef struct Serving Serving;

typedef struct {
  ModuleHead head;
  Status (*open)(Serving**             serving,
                 unsigned              port,
                 const Asset*          assets, ///< That are served
                 const ServerListener* listener,
                 Fault*                fault);
  void (*close)(Serving* serving);
  unsigned (*port)(const Serving* serving);
  bool (*serve)(Serving* serving);
  void (*wake)(Serving* serving);
  void (*send)(Serving*    serving,
               unsigned    client,
               const char* text,
               size_t      size);
  bool (*is_quiet)(const Serving* serving);
  void (*drop)(Serving* serving, unsigned client, const char* why);
  char* (*to_base64)(const void* bytes, size_t size);
  char* (*from_base64)(const char* text, size_t* size);
} ServerModule;

#endif // RESPONDER_PAGE_SERVER_MODULE_H
