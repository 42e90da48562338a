#include "support/loop.h"

#include "core/ports/inside.h"
#include "core/time/monotonic.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { OPEN_CAPACITY = 16, SENT_CAPACITY = 65536 };

typedef struct {
  pthread_mutex_t lock;
  bool            is_alive;
  PortList        devices[2];
  unsigned        n_open;
  Port*           open[OPEN_CAPACITY];
  unsigned        n_sent;
  unsigned        n_taken;
  MidiMessage     sent[SENT_CAPACITY]; ///< The first ones, no more
} Loop;

static Loop*
lock(const Ports* const ports)
{
  Loop* const loop = ports->inside;
  (void)pthread_mutex_lock(&loop->lock);
  return loop;
}

static void
unlock(Loop* const loop)
{
  (void)pthread_mutex_unlock(&loop->lock);
}

static bool
find(const PortList* const list, const char* const name, unsigned* const index)
{
  for (unsigned i = 0; i < list->n_names; ++i) {
    if (port_names_match(list->names[i], name)) {
      *index = i;
      return true;
    }
  }
  return false;
}

static Status
loop_list(Ports* const ports, const PortSide side, PortList* const list)
{
  Loop* const  loop   = lock(ports);
  const Status status = loop->is_alive ? STATUS_OK : STATUS_SYSTEM;
  if (!status) {
    *list = loop->devices[side];
  }
  unlock(loop);
  return status;
}

static bool
loop_is_alive(const Ports* const ports)
{
  Loop* const loop     = lock(ports);
  const bool  is_alive = loop->is_alive;
  unlock(loop);
  return is_alive;
}

static void
loop_free(Ports* const ports)
{
  Loop* const loop = ports->inside;
  (void)pthread_mutex_destroy(&loop->lock);
  free(loop);
}

// A port is connected as long as its `inside` is not NULL
static Status
connect(Loop* const loop, Port* const port)
{
  unsigned index = 0;
  port->inside   = NULL;
  if (!loop->is_alive) {
    return STATUS_SYSTEM;
  }
  if (!port->wish.is_own &&
      !find(&loop->devices[port->wish.side], port->name, &index)) {
    return STATUS_MISSING;
  }
  port->inside = loop;
  return STATUS_OK;
}

static Status
loop_open_port(Port* const port)
{
  Loop* const  loop = lock(port->ports);
  const Status status =
    loop->n_open == OPEN_CAPACITY ? STATUS_FULL : connect(loop, port);
  if (!status) {
    loop->open[loop->n_open++] = port;
  }
  unlock(loop);
  return status;
}

static Status
loop_reopen(Port* const port)
{
  Loop* const  loop   = lock(port->ports);
  const Status status = connect(loop, port);
  unlock(loop);
  return status;
}

static Status
loop_send(Port* const port, const uint8_t* const bytes, const size_t size)
{
  Loop* const loop = lock(port->ports);
  if (port->inside && size <= 3 && loop->n_sent < SENT_CAPACITY) {
    MidiMessage* const message = &loop->sent[loop->n_sent++];
    message->time_ns           = monotonic_ns();
    message->size              = (uint8_t)size;
    memcpy(message->bytes, bytes, size);
  }
  unlock(loop);
  return STATUS_OK; // As a system does whose device is gone
}

static void
loop_close_port(Port* const port)
{
  Loop* const loop = lock(port->ports);
  for (unsigned i = 0; i < loop->n_open; ++i) {
    if (loop->open[i] == port) {
      loop->open[i] = loop->open[--loop->n_open];
      break;
    }
  }
  unlock(loop);
}

static const PortsKind kind = {
  .list      = loop_list,
  .are_alive = loop_is_alive,
  .free      = loop_free,
  .open      = loop_open_port,
  .reopen    = loop_reopen,
  .send      = loop_send,
  .close     = loop_close_port,
};

Status
loop_open(Ports** const ports)
{
  Ports* const opened = calloc(1, sizeof(*opened));
  Loop* const  loop   = calloc(1, sizeof(*loop));
  if (!opened || !loop || pthread_mutex_init(&loop->lock, NULL)) {
    free(opened);
    free(loop);
    return STATUS_MEMORY;
  }
  loop->is_alive = true;
  *opened        = (Ports){.kind = &kind, .name = "loop", .inside = loop};
  *ports         = opened;
  return STATUS_OK;
}

void
loop_plug(Ports* const ports, const PortSide side, const char* const name)
{
  Loop* const     loop = lock(ports);
  PortList* const list = &loop->devices[side];
  if (list->n_names < PORTS_CAPACITY) {
    (void)snprintf(
      list->names[list->n_names++], PORT_NAME_CAPACITY, "%s", name);
  }
  unlock(loop);
}

void
loop_pull(Ports* const ports, const PortSide side, const char* const name)
{
  Loop* const     loop  = lock(ports);
  PortList* const list  = &loop->devices[side];
  unsigned        index = 0;
  if (find(list, name, &index)) {
    memmove(list->names[index],
            list->names[index + 1],
            (list->n_names - index - 1) * sizeof(*list->names));
    --list->n_names;
  }
  for (unsigned i = 0; i < loop->n_open; ++i) {
    Port* const port = loop->open[i];
    if (port->wish.side == side && !port->wish.is_own &&
        port_names_match(port->name, name)) {
      port->inside = NULL;
    }
  }
  unlock(loop);
}

void
loop_kill(Ports* const ports)
{
  Loop* const loop = lock(ports);
  loop->is_alive   = false;
  for (unsigned i = 0; i < loop->n_open; ++i) {
    loop->open[i]->inside = NULL;
  }
  unlock(loop);
}

void
loop_play(Ports* const         ports,
          const char* const    name,
          const uint8_t* const bytes,
          const size_t         size)
{
  Loop* const loop = lock(ports);
  for (unsigned i = 0; i < loop->n_open; ++i) {
    const Port* const port = loop->open[i];
    if (port->inside && port->wish.side == PORT_IN &&
        port_names_match(port->name, name)) {
      port_receive(port, bytes, size);
    }
  }
  unlock(loop);
}

bool
loop_take(Ports* const ports, MidiMessage* const message)
{
  Loop* const loop = lock(ports);
  const bool  any  = loop->n_taken < loop->n_sent;
  if (any) {
    *message = loop->sent[loop->n_taken++];
  }
  if (loop->n_taken == loop->n_sent) {
    loop->n_taken = loop->n_sent = 0;
  }
  unlock(loop);
  return any;
}
