#include "core/ports/system.h"

#include "core/ports/inside.h"
#include "core/ports/jack_ports.h"
#include "core/quiet/quiet.h"
#include "core/time/monotonic.h"

#include <rtmidi_c.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// RtMidi 5.0.0 behind its C interface: `ok` stays false after one error, so it
// is set before each call; `msg` points to what is gone, so it is never read.

enum {
  API_CAPACITY  = 8,
  QUEUE_LIMIT   = 100,
  LAST_CALLS_MS = 50, ///< An input may still be calling us so long
};

static const char client_name[] = "barter";
static const char helper_name[] = "barter-look"; ///< It opens no port

typedef struct {
  enum RtMidiApi api;
  RtMidiPtr      listers[2]; ///< By PortSide; they open no port
} System;

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
  (void)ports; // Neither a driver nor a kernel ends
  return true;
}

static Status
system_list(Ports* const ports, const PortSide side, PortList* const list)
{
  const System* const system = ports->inside;
  const RtMidiPtr     lister = system->listers[side];
  const unsigned      n      = count_ports(lister);
  for (unsigned i = 0; i < n && list->n_names < PORTS_CAPACITY; ++i) {
    list->n_names += read_name(lister, i, list->names[list->n_names]);
  }
  return STATUS_OK;
}

static void
system_free(Ports* const ports)
{
  System* const system = ports->inside;
  free_device(system->listers[PORT_IN], PORT_IN);
  free_device(system->listers[PORT_OUT], PORT_OUT);
  free(system);
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
connect_port(Port* const port, const RtMidiPtr device)
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
  const RtMidiPtr     device =
    make_device(system->api, port->wish.side, client_name);
  const Status status = device ? connect_port(port, device) : STATUS_SYSTEM;
  if (status && device) {
    close_device(device, port->wish.side);
  }
  quiet_end(kept);
  port->inside = device;
  return status;
}

static Status
system_reopen(Port* const port)
{
  const RtMidiPtr device = port->inside;
  if (port->wish.is_own) {
    return STATUS_OK;
  }
  const int kept = quiet_begin();
  device->ok     = true;
  rtmidi_close_port(device);
  const Status status = connect_by_name(device, port->wish.side, port->name);
  quiet_end(kept);
  return status;
}

static Status
system_send(Port* const port, const uint8_t* const bytes, const size_t size)
{
  const RtMidiPtr device = port->inside;
  device->ok             = true;
  const int failed       = rtmidi_out_send_message(device, bytes, (int)size);
  return failed || !device->ok ? STATUS_SYSTEM : STATUS_OK;
}

static void
system_close_port(Port* const port)
{
  close_device(port->inside, port->wish.side);
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

static Status
open_device(Ports** const ports, const enum RtMidiApi api)
{
  Ports* const  opened = calloc(1, sizeof(*opened));
  System* const system = calloc(1, sizeof(*system));
  if (!opened || !system) {
    free(opened);
    free(system);
    return STATUS_MEMORY;
  }
  *opened = (Ports){.kind = &kind, .inside = system};
  *system = (System){.api     = api,
                     .listers = {
                       [PORT_IN]  = make_device(api, PORT_IN, helper_name),
                       [PORT_OUT] = make_device(api, PORT_OUT, helper_name),
                     }};
  if (!system->listers[PORT_IN] || !system->listers[PORT_OUT]) {
    ports_close(opened);
    return STATUS_SYSTEM;
  }
  *ports = opened;
  return STATUS_OK;
}

static Status
open_api(Ports** const ports, const enum RtMidiApi api)
{
  return api == RTMIDI_API_UNIX_JACK ? jack_ports_open(ports)
                                     : open_device(ports, api);
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

// Whether one works; `name` is the last that was tried
static bool
open_first(Ports** const      ports,
           const char* const  wanted,
           const char** const name,
           char               remark[SYSTEM_REMARK_CAPACITY])
{
  enum RtMidiApi apis[API_CAPACITY];
  const int      n = rtmidi_get_compiled_api(apis, API_CAPACITY);
  for (int i = 0; i < n && i < API_CAPACITY; ++i) {
    const char* const tried = rtmidi_api_name(apis[i]);
    if (apis[i] == RTMIDI_API_RTMIDI_DUMMY ||
        (wanted && strcmp(wanted, tried) != 0)) {
      continue;
    }
    *name = tried;
    if (!open_api(ports, apis[i])) {
      return true;
    }
    add_remark(remark, tried);
  }
  return false;
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
  const int  kept    = quiet_begin();
  const bool is_open = open_first(ports, wanted, &name, remark);
  quiet_end(kept);
  if (is_open) {
    (void)snprintf((*ports)->name, sizeof((*ports)->name), "%s", name);
    return STATUS_OK;
  }
  return name
           ? fault_say(fault,
                       STATUS_SYSTEM,
                       "%s; plug in a keyboard, or start a JACK server",
                       remark)
           : fault_say(fault,
                       STATUS_MISSING,
                       "there is no MIDI system \"%s\" here; alsa, jack, core "
                       "or winmm may be",
                       wanted ? wanted : "");
}
