/// @file core/ports/inside.h What every system of ports is made of; for the
/// files of this room only.

#ifndef CORE_PORTS_INSIDE_H
#define CORE_PORTS_INSIDE_H

#include "core/ports/ports.h"

/// What a system can do; as ports.h says of each.
typedef struct {
  Status (*list)(Ports* ports, PortSide side, PortList* list);
  bool (*are_alive)(const Ports* ports);
  void (*free)(Ports* ports);
  Status (*open)(Port* port);
  Status (*reopen)(Port* port);
  Status (*send)(Port* port, const uint8_t* bytes, size_t size);
  void (*close)(Port* port);
} PortsKind;

struct Ports {
  const PortsKind* kind;
  char             name[16];
  void*            inside; ///< The system's own
};

struct Port {
  Ports*   ports;
  PortWish wish; ///< Its name points to `name`
  char     name[PORT_NAME_CAPACITY];
  void*    inside; ///< The system's own
};

/// Hand on what arrived at an input, whatever it is.
void
port_receive(const Port* port, const uint8_t* bytes, size_t size);

/// Whether two names are of the same device: numbers that a system gives anew
/// at each plugging in, as in `Piano 24:0`, do not count.
bool
port_names_match(const char* a, const char* b);

#endif // CORE_PORTS_INSIDE_H
