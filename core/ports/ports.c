#include "core/ports/ports.h"

#include "core/ports/inside.h"
#include "core/time/monotonic.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { OWN_NAME_MOST = 40 };

/// Ports that no one means when nothing is said.
static const char* const not_obvious[] = {"barter", "midi through"};

// Choosing

static bool
has_part(const char* const name, const char* const part)
{
  const size_t n = strlen(part);
  for (const char* at = name; *at; ++at) {
    size_t i = 0;
    while (i < n && at[i] &&
           tolower((unsigned char)at[i]) == tolower((unsigned char)part[i])) {
      ++i;
    }
    if (i == n) {
      return true;
    }
  }
  return false;
}

static bool
is_obvious(const char* const name)
{
  for (size_t i = 0; i < sizeof(not_obvious) / sizeof(*not_obvious); ++i) {
    if (has_part(name, not_obvious[i])) {
      return false;
    }
  }
  return true;
}

static const char*
side_text(const PortSide side)
{
  return side == PORT_IN ? "input" : "output";
}

static Status
no_such_port(const PortList* const list,
             const PortSide        side,
             const char* const     wanted,
             const bool            are_several,
             Fault* const          fault)
{
  char   names[160] = "";
  size_t n          = 0;
  for (unsigned i = 0; i < list->n_names && n < sizeof(names); ++i) {
    n += (size_t)snprintf(names + n,
                          sizeof(names) - n,
                          "%s%u %s",
                          i ? ", " : "",
                          i + 1,
                          list->names[i]);
  }
  return fault_say(fault,
                   are_several ? STATUS_RANGE : STATUS_MISSING,
                   "%s MIDI %s %.40s; there %s %.100s",
                   are_several ? "more than one port is called like the"
                               : "there is no",
                   side_text(side),
                   wanted ? wanted : "to be had",
                   list->n_names == 1 ? "is" : "are",
                   list->n_names ? names : "none at all");
}

static bool
is_number(const char* const text)
{
  return text[0] && strspn(text, "0123456789") == strlen(text);
}

static Status
choose_obvious(const PortList* const list,
               const PortSide        side,
               unsigned* const       index,
               Fault* const          fault)
{
  for (unsigned i = 0; i < list->n_names; ++i) {
    if (is_obvious(list->names[i])) {
      *index = i;
      return STATUS_OK;
    }
  }
  return no_such_port(list, side, NULL, false, fault);
}

Status
ports_choose(const PortList* const list,
             const PortSide        side,
             const char* const     wanted,
             unsigned* const       index,
             Fault* const          fault)
{
  if (!wanted) {
    return choose_obvious(list, side, index, fault);
  }
  if (is_number(wanted)) {
    const unsigned long number = strtoul(wanted, NULL, 10);
    if (number < 1 || number > list->n_names) {
      return no_such_port(list, side, wanted, false, fault);
    }
    *index = (unsigned)number - 1;
    return STATUS_OK;
  }
  unsigned n_found = 0;
  unsigned found   = 0;
  for (unsigned i = 0; i < list->n_names; ++i) {
    if (strcmp(list->names[i], wanted) == 0) {
      *index = i;
      return STATUS_OK;
    }
    if (wanted[0] && has_part(list->names[i], wanted)) {
      ++n_found;
      found = i;
    }
  }
  if (n_found != 1) {
    return no_such_port(list, side, wanted, n_found > 1, fault);
  }
  *index = found;
  return STATUS_OK;
}

// Names

// The length of a name without ` 24:0` at its end
static size_t
lasting_length(const char* const name)
{
  size_t       n     = strlen(name);
  const size_t whole = n;
  while (n && isdigit((unsigned char)name[n - 1])) {
    --n;
  }
  if (n == whole || !n || name[n - 1] != ':') {
    return whole;
  }
  const size_t colon = --n;
  while (n && isdigit((unsigned char)name[n - 1])) {
    --n;
  }
  return n < colon && n && name[n - 1] == ' ' ? n - 1 : whole;
}

bool
port_names_match(const char* const a, const char* const b)
{
  const size_t n = lasting_length(a);
  return n == lasting_length(b) && strncmp(a, b, n) == 0;
}

// Of every system

void
ports_close(Ports* const ports)
{
  if (ports) {
    ports->kind->free(ports);
    free(ports);
  }
}

const char*
ports_name(const Ports* const ports)
{
  return ports->name;
}

Status
ports_list(Ports* const ports, const PortSide side, PortList* const list)
{
  list->n_names = 0;
  return ports->kind->list(ports, side, list);
}

bool
ports_are_alive(const Ports* const ports)
{
  return ports->kind->are_alive(ports);
}

Status
port_open(Port** const   port,
          Ports* const   ports,
          const PortWish wish,
          Fault* const   fault)
{
  Port* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return fault_memory(fault, NULL);
  }
  opened->ports = ports;
  opened->wish  = wish;
  (void)snprintf(opened->name,
                 sizeof(opened->name),
                 "%.*s",
                 wish.is_own ? OWN_NAME_MOST : PORT_NAME_CAPACITY,
                 wish.name);
  opened->wish.name   = opened->name;
  const Status status = ports->kind->open(opened);
  if (status) {
    (void)fault_say(fault,
                    status,
                    "the MIDI port %s cannot be opened (%s); barter ports "
                    "lists what there is",
                    opened->name,
                    status_text(status));
    free(opened);
    return status;
  }
  *port = opened;
  return STATUS_OK;
}

void
port_close(Port* const port)
{
  if (port) {
    port->ports->kind->close(port);
    free(port);
  }
}

bool
port_is_there(Port* const port)
{
  PortList list;
  if (port->wish.is_own) {
    return ports_are_alive(port->ports);
  }
  if (ports_list(port->ports, port->wish.side, &list)) {
    return false;
  }
  for (unsigned i = 0; i < list.n_names; ++i) {
    if (port_names_match(list.names[i], port->name)) {
      return true;
    }
  }
  return false;
}

Status
port_reopen(Port* const port)
{
  return port->ports->kind->reopen(port);
}

Status
port_send(Port* const port, const uint8_t* const bytes, const size_t size)
{
  return port->ports->kind->send(port, bytes, size);
}

void
port_receive(const Port* const    port,
             const uint8_t* const bytes,
             const size_t         size)
{
  const int64_t now = monotonic_ns();
  MidiMessage   message;
  for (size_t at = 0; message_next(bytes, size, &at, &message);) {
    message.time_ns = now;
    port->wish.receive(port->wish.context, &message);
  }
}
