#include "core/ports/system.h"

#include "core/ports/inside.h"
#include "core/ports/jack_watch.h"
#include "core/quiet/quiet.h"
#include "core/time/monotonic.h"

#include <rtmidi_c.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// RtMidi 5.0.0 behind its C interface: `ok` stays false after one error, so it
// is set before each call; `msg` points to what is gone, so it is never read.

enum {
  API_CAPACITY   = 8,
  QUEUE_LIMIT    = 100,
  LAST_CALLS_MS  = 50,   ///< An input may still be calling us so long
  UNSEEN_SENDING = 1000, ///< Messages that a dead server surely takes
};

static const char client_name[] = "barter";
static const char helper_name[] = "barter-look"; ///< It opens no lasting port

typedef struct {
  enum RtMidiApi api;
  JackWatch*     watch;      ///< Of JACK only
  RtMidiPtr      listers[2]; ///< By PortSide; they open no port
} System;

/// What stands behind a port.
typedef struct {
  RtMidiPtr device;
  unsigned  n_unseen;  ///< Sent since the server last showed life
  unsigned  n_periods; ///< Of the server, then
} Wire;

// Devices

static void
free_device(const RtMidiPtr device, const PortSide side)
{
  if (device && side == PORT_IN) {
    rtmidi_in_free(device);
  } else if (device) {
    rtmidi_out_free(device);
  }
}

static RtMidiPtr
make_device(const enum RtMidiApi api,
            const PortSide       side,
            const char* const    name)
{
  const RtMidiPtr device = side == PORT_IN
                             ? rtmidi_in_create(api, name, QUEUE_LIMIT)
                             : rtmidi_out_create(api, name);
  if (!device || !device->ok || !device->ptr) {
    free_device(device, side);
    return NULL;
  }
  device->ok                 = true;
  const enum RtMidiApi given = side == PORT_IN
                                 ? rtmidi_in_get_current_api(device)
                                 : rtmidi_out_get_current_api(device);
  if (given != api) {
    free_device(device, side);
    return NULL;
  }
  return device;
}

// An index out of range gives an empty name and no error
static bool
read_name(const RtMidiPtr device,
          const unsigned  index,
          char            name[PORT_NAME_CAPACITY])
{
  int size        = PORT_NAME_CAPACITY;
  name[0]         = '\0';
  device->ok      = true;
  const int wrote = rtmidi_get_port_name(device, index, name, &size);
  return device->ok && wrote > 0 && wrote < PORT_NAME_CAPACITY && name[0];
}

static unsigned
count_ports(const RtMidiPtr device)
{
  device->ok       = true;
  const unsigned n = rtmidi_get_port_count(device);
  return device->ok ? n : 0;
}

static bool
find_index(const RtMidiPtr   device,
           const char* const name,
           unsigned* const   index)
{
  char           read[PORT_NAME_CAPACITY];
  const unsigned n = count_ports(device);
  for (unsigned i = 0; i < n; ++i) {
    if (read_name(device, i, read) && port_names_match(read, name)) {
      *index = i;
      return true;
    }
  }
  return false;
}

// The list may change between looking and opening: the name is read once more
static Status
connect_by_name(const RtMidiPtr   device,
                const PortSide    side,
                const char* const name)
{
  unsigned index = 0;
  char     read[PORT_NAME_CAPACITY];
  if (!find_index(device, name, &index) || !read_name(device, index, read) ||
      !port_names_match(read, name)) {
    return STATUS_MISSING;
  }
  device->ok = true;
  rtmidi_open_port(device, index, side == PORT_IN ? "in" : "out");
  return device->ok ? STATUS_OK : STATUS_SYSTEM;
}

// The kind

static bool
system_is_alive(const Ports* const ports)
{
  const System* const system = ports->inside;
  return !system->watch || jack_watch_is_alive(system->watch);
}

static Status
system_list(Ports* const ports, const PortSide side, PortList* const list)
{
  System* const   system = ports->inside;
  const RtMidiPtr lister = system->listers[side];
  if (!system_is_alive(ports)) {
    return STATUS_SYSTEM;
  }
  const unsigned n = count_ports(lister);
  for (unsigned i = 0; i < n && list->n_names < PORTS_CAPACITY; ++i) {
    list->n_names += read_name(lister, i, list->names[list->n_names]);
  }
  return STATUS_OK;
}

static void
free_inside(System* const system)
{
  free_device(system->listers[PORT_IN], PORT_IN);
  free_device(system->listers[PORT_OUT], PORT_OUT);
  jack_watch_close(system->watch);
  free(system);
}

static void
system_free(Ports* const ports)
{
  free_inside(ports->inside);
}

static void
receive(const double               since_last,
        const unsigned char* const bytes,
        const size_t               size,
        void* const                context)
{
  (void)since_last; // Of the call, not of the message
  port_receive(context, bytes, size);
}

static Status
connect_wire(Port* const port, const RtMidiPtr device)
{
  const PortWish* const wish = &port->wish;
  if (wish->side == PORT_IN) {
    device->ok = true;
    rtmidi_in_set_callback(device, receive, port); // Once, before opening
    if (!device->ok) {
      return STATUS_SYSTEM;
    }
  }
  if (!wish->is_own) {
    return connect_by_name(device, wish->side, wish->name);
  }
  device->ok = true;
  rtmidi_open_virtual_port(device, wish->name);
  return device->ok ? STATUS_OK : STATUS_SYSTEM;
}

static void
close_device(const RtMidiPtr device, const PortSide side)
{
  device->ok = true;
  rtmidi_close_port(device); // Sends what is on its way
  if (side == PORT_IN) {
    monotonic_sleep_ms(LAST_CALLS_MS);
  }
  free_device(device, side);
}

static Status
system_open_port(Port* const port)
{
  const System* const system = port->ports->inside;
  const int           kept   = quiet_begin();
  Wire* const         wire   = calloc(1, sizeof(*wire));
  const RtMidiPtr     device =
    wire && system_is_alive(port->ports)
          ? make_device(system->api, port->wish.side, client_name)
          : NULL;
  const Status status = device ? connect_wire(port, device) : STATUS_SYSTEM;
  if (status && device) {
    close_device(device, port->wish.side);
  }
  quiet_end(kept);
  if (status) {
    free(wire);
    return status;
  }
  wire->device = device;
  port->inside = wire;
  return STATUS_OK;
}

static Status
system_reopen(Port* const port)
{
  const System* const system = port->ports->inside;
  Wire* const         wire   = port->inside;
  if (port->wish.is_own) {
    return STATUS_OK;
  }
  const int kept = quiet_begin();
  if (system->api != RTMIDI_API_UNIX_JACK) { // JACK connects once more instead
    wire->device->ok = true;
    rtmidi_close_port(wire->device);
  }
  const Status status =
    connect_by_name(wire->device, port->wish.side, port->name);
  quiet_end(kept);
  return status;
}

// A dead server takes messages until its ring is full, and then the call never
// comes back: count what was sent since it last showed life
static bool
may_send(const System* const system, Wire* const wire)
{
  if (!system->watch) {
    return true;
  }
  const unsigned n_periods = jack_watch_periods(system->watch);
  if (n_periods != wire->n_periods) {
    wire->n_periods = n_periods;
    wire->n_unseen  = 0;
  }
  return jack_watch_is_alive(system->watch) &&
         wire->n_unseen++ < UNSEEN_SENDING;
}

static Status
system_send(Port* const port, const uint8_t* const bytes, const size_t size)
{
  Wire* const wire = port->inside;
  if (!may_send(port->ports->inside, wire)) {
    return STATUS_FULL;
  }
  wire->device->ok = true;
  const int failed = rtmidi_out_send_message(wire->device, bytes, (int)size);
  return failed || !wire->device->ok ? STATUS_SYSTEM : STATUS_OK;
}

static void
system_close_port(Port* const port)
{
  Wire* const wire = port->inside;
  close_device(wire->device, port->wish.side);
  free(wire);
}

static const PortsKind kind = {
  .list      = system_list,
  .are_alive = system_is_alive,
  .free      = system_free,
  .open      = system_open_port,
  .reopen    = system_reopen,
  .send      = system_send,
  .close     = system_close_port,
};

// Opening

// Creating succeeds without a server; a port of our own does not. Windows has
// no such ports, and tells at once.
static bool
can_open(const enum RtMidiApi api)
{
  const RtMidiPtr device = make_device(api, PORT_OUT, helper_name);
  if (!device) {
    return false;
  }
  bool can = true;
  if (api != RTMIDI_API_WINDOWS_MM) {
    device->ok = true;
    rtmidi_open_virtual_port(device, "trial");
    can        = device->ok;
    device->ok = true;
    rtmidi_close_port(device);
  }
  free_device(device, PORT_OUT);
  return can;
}

static System*
try_api(const enum RtMidiApi api)
{
  System* const system = calloc(1, sizeof(*system));
  if (!system) {
    return NULL;
  }
  system->api = api;
  if (api == RTMIDI_API_UNIX_JACK) {
    system->watch = jack_watch_open();
  }
  const bool may_try = api != RTMIDI_API_UNIX_JACK || system->watch;
  if (may_try && can_open(api)) {
    system->listers[PORT_IN]  = make_device(api, PORT_IN, helper_name);
    system->listers[PORT_OUT] = make_device(api, PORT_OUT, helper_name);
  }
  if (!system->listers[PORT_IN] || !system->listers[PORT_OUT]) {
    free_inside(system);
    return NULL;
  }
  return system;
}

static void
add_remark(char remark[SYSTEM_REMARK_CAPACITY], const char* const name)
{
  const size_t n = strlen(remark);
  (void)snprintf(remark + n,
                 SYSTEM_REMARK_CAPACITY - n,
                 "%s%s",
                 n ? " and " : "no MIDI by ",
                 name);
}

static System*
try_all(const char* const  wanted,
        const char** const name,
        char               remark[SYSTEM_REMARK_CAPACITY])
{
  enum RtMidiApi apis[API_CAPACITY];
  System*        system = NULL;
  const int      n      = rtmidi_get_compiled_api(apis, API_CAPACITY);
  for (int i = 0; i < n && i < API_CAPACITY && !system; ++i) {
    const char* const tried = rtmidi_api_name(apis[i]);
    if (apis[i] == RTMIDI_API_RTMIDI_DUMMY ||
        (wanted && strcmp(wanted, tried) != 0)) {
      continue;
    }
    *name  = tried;
    system = try_api(apis[i]);
    if (!system) {
      add_remark(remark, tried);
    }
  }
  return system;
}

Status
system_open(Ports** const     ports,
            const char* const wanted,
            char              remark[SYSTEM_REMARK_CAPACITY],
            Fault* const      fault)
{
  const char* name = NULL;
  remark[0]        = '\0';
  quiet_devices();
  Ports* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return fault_memory(fault, NULL);
  }
  const int     kept   = quiet_begin();
  System* const system = try_all(wanted, &name, remark);
  quiet_end(kept);
  if (!system) {
    free(opened);
    return name ? fault_say(fault,
                            STATUS_SYSTEM,
                            "%s; plug in a keyboard, or start a JACK server",
                            remark)
                : fault_say(
                    fault,
                    STATUS_MISSING,
                    "there is no MIDI system \"%s\" here; alsa, jack, core "
                    "or winmm may be",
                    wanted ? wanted : "");
  }
  *opened = (Ports){.kind = &kind, .inside = system};
  (void)snprintf(opened->name, sizeof(opened->name), "%s", name);
  *ports = opened;
  return STATUS_OK;
}
