#include "core/ports/jack_ports.h"

#ifdef BARTER_HAS_JACK

#include "core/ports/inside.h"
#include "core/ports/jack_join.h"
#include "core/ports/jack_watch.h"
#include "core/time/monotonic.h"
#include "core/time/ring.h"

#include <jack/jack.h>
#include <jack/midiport.h>

#include <assert.h>
#include <errno.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

// JACK2's library walks the list of a client's ports on a thread of its own
// and locks nothing: a port that goes while its client is active can be the end
// of the program. So each port has a client, is there before that is active,
// and goes with it.

enum {
  SENT_CAPACITY  = 1024, ///< Over a guardian's 650 at once; JACK2 takes twice
  PERIODS_TO_END = 3,    ///< The one that runs, ours, and who hears us
  LAST_SENT_MS   = 1000, ///< A server that stands still is not waited for
};

typedef struct {
  uint8_t size;
  uint8_t bytes[3];
} Sent;

/// What stands behind a port; the last three are an output's.
typedef struct {
  jack_client_t* client;
  jack_port_t*   port;
  atomic_uint    n_periods;
  Ring           ring;
  Sent           sent[SENT_CAPACITY];
} Wire;

// The client's thread

static int
hear(const jack_nframes_t n_frames, void* const context)
{
  const Port* const port   = context;
  const Wire* const wire   = port->inside;
  void* const       buffer = jack_port_get_buffer(wire->port, n_frames);
  const uint32_t    n      = jack_midi_get_event_count(buffer);
  for (uint32_t i = 0; i < n; ++i) {
    jack_midi_event_t event;
    if (!jack_midi_event_get(&event, buffer, i)) {
      port_receive(port, event.buffer, event.size);
    }
  }
  return 0;
}

static int
say(const jack_nframes_t n_frames, void* const context)
{
  const Port* const port   = context;
  Wire* const       wire   = port->inside;
  void* const       buffer = jack_port_get_buffer(wire->port, n_frames);
  Sent              sent;
  jack_midi_clear_buffer(buffer);
  while (ring_pop(&wire->ring, &sent)) {
    (void)jack_midi_event_write(buffer, 0, sent.bytes, sent.size);
  }
  atomic_fetch_add(&wire->n_periods, 1);
  return 0;
}

// The kind

static bool
server_is_alive(const Ports* const ports)
{
  return jack_watch_is_alive(ports->inside);
}

static Status
server_list(Ports* const ports, const PortSide side, PortList* const list)
{
  if (!server_is_alive(ports)) {
    return STATUS_SYSTEM;
  }
  jack_watch_list(ports->inside, side, list);
  return STATUS_OK;
}

static void
server_free(Ports* const ports)
{
  jack_watch_close(ports->inside);
}

static Status
connect_by_name(const Port* const port)
{
  const Wire* const wire = port->inside;
  const char* const mine = jack_port_name(wire->port);
  const bool        ins  = port->wish.side == PORT_IN;
  PortList          list;
  const Status      status = ports_list(port->ports, port->wish.side, &list);
  if (status) {
    return status;
  }
  for (unsigned i = 0; i < list.n_names; ++i) {
    const char* const other = list.names[i];
    if (port_names_match(other, port->name)) {
      const int failed =
        jack_connect(wire->client, ins ? other : mine, ins ? mine : other);
      return failed && failed != EEXIST ? STATUS_SYSTEM : STATUS_OK;
    }
  }
  return STATUS_MISSING;
}

static Status
begin(Wire* const wire, Port* const port)
{
  const bool        ins   = port->wish.side == PORT_IN;
  const char* const usual = ins ? "in" : "out";
  wire->client            = jack_join("barter");
  if (!wire->client) {
    return STATUS_SYSTEM;
  }
  wire->port = jack_port_register(wire->client,
                                  port->wish.is_own ? port->name : usual,
                                  JACK_DEFAULT_MIDI_TYPE,
                                  ins ? JackPortIsInput : JackPortIsOutput,
                                  0);
  if (!wire->port ||
      jack_set_process_callback(wire->client, ins ? hear : say, port) ||
      jack_activate(wire->client)) {
    return STATUS_SYSTEM;
  }
  return port->wish.is_own ? STATUS_OK : connect_by_name(port);
}

static void
end(Wire* const wire)
{
  if (wire->client) {
    (void)jack_client_close(wire->client);
  }
  free(wire);
}

static Status
wire_open(Port* const port)
{
  if (!server_is_alive(port->ports)) {
    return STATUS_SYSTEM;
  }
  Wire* const wire = calloc(1, sizeof(*wire));
  if (!wire) {
    return STATUS_MEMORY;
  }
  atomic_init(&wire->n_periods, 0);
  ring_setup(&wire->ring, wire->sent, sizeof(*wire->sent), SENT_CAPACITY);
  port->inside        = wire;
  const Status status = begin(wire, port);
  if (status) {
    end(wire);
  }
  return status;
}

static Status
wire_reopen(Port* const port)
{
  return port->wish.is_own ? STATUS_OK : connect_by_name(port);
}

static Status
wire_send(Port* const port, const uint8_t* const bytes, const size_t size)
{
  Wire* const wire = port->inside;
  Sent        sent = {.size = (uint8_t)size};
  assert(size <= sizeof(sent.bytes));
  memcpy(sent.bytes, bytes, size);
  return ring_push(&wire->ring, &sent) ? STATUS_OK : STATUS_FULL;
}

static void
await_last_sent(const Port* const port)
{
  const Wire* const wire  = port->inside;
  const unsigned    first = atomic_load(&wire->n_periods);
  for (unsigned ms = 0; ms < LAST_SENT_MS && server_is_alive(port->ports) &&
                        atomic_load(&wire->n_periods) - first < PERIODS_TO_END;
       ++ms) {
    monotonic_sleep_ms(1);
  }
}

static void
wire_close(Port* const port)
{
  if (port->wish.side == PORT_OUT) {
    await_last_sent(port);
  }
  end(port->inside);
}

static const PortsKind kind = {
  .list      = server_list,
  .are_alive = server_is_alive,
  .free      = server_free,
  .open      = wire_open,
  .reopen    = wire_reopen,
  .send      = wire_send,
  .close     = wire_close,
};

Status
jack_ports_open(Ports** const ports)
{
  Ports* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return STATUS_MEMORY;
  }
  JackWatch* const watch = jack_watch_open();
  if (!watch) {
    free(opened);
    return STATUS_SYSTEM;
  }
  *opened = (Ports){.kind = &kind, .inside = watch};
  *ports  = opened;
  return STATUS_OK;
}

#else

Status
jack_ports_open(Ports** const ports)
{
  (void)ports;
  return STATUS_SYSTEM;
}

#endif
