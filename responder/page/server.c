#include "responder/page/server.h"

#include "responder/page/assets.h"
#include "responder/page/server_module.h"

#include <stdlib.h>

struct Server {
  const ServerModule* module;
  Serving*            serving;
};

Status
server_open(Server** const              server,
            const unsigned              port,
            const ServerListener* const listener,
            Fault* const                fault)
{
  const void* table  = NULL;
  Status      status = module_open(SERVER_MODULE, &table, fault);
  if (status) {
    return status;
  }
  Server* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return fault_memory(fault, NULL);
  }
  opened->module = table;
  status =
    opened->module->open(&opened->serving, port, page_assets, listener, fault);
  if (status) {
    free(opened);
    return status;
  }
  *server = opened;
  return STATUS_OK;
}

void
server_close(Server* const server)
{
  if (server) {
    server->module->close(server->serving);
    free(server);
  }
}

unsigned
server_port(const Server* const server)
{
  return server->module->port(server->serving);
}

bool
server_serve(Server* const server)
{
  return server->module->serve(server->serving);
}

void
server_wake(Server* const server)
{
  server->module->wake(server->serving);
}

void
server_send(Server* const     server,
            const unsigned    client,
            const char* const text,
            const size_t      size)
{
  server->module->send(server->serving, client, text, size);
}

bool
server_is_quiet(const Server* const server)
{
  return server->module->is_quiet(server->serving);
}

void
server_drop(Server* const server, const unsigned client, const char* const why)
{
  server->module->drop(server->serving, client, why);
}
