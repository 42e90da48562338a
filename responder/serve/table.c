// What the program finds in the module

#include "responder/serve/base64.h"
#include "responder/serve/serve.h"

extern const ServerModule barter_module;

const ServerModule barter_module = {
  .head        = {BARTER_VERSION},
  .open        = serve_open,
  .close       = serve_close,
  .port        = serve_port,
  .serve       = serve_serve,
  .wake        = serve_wake,
  .send        = serve_send,
  .is_quiet    = serve_is_quiet,
  .drop        = serve_drop,
  .to_base64   = serve_base64_of,
  .from_base64 = serve_base64_read,
};
