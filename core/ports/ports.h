/// @file core/ports/ports.h MIDI ports behind one small interface.
///
/// A system of ports is the machine's own (system.h) or a loop in memory for
/// tests (loop.h). A port is opened by its name, so that it can be opened again
/// when its device comes back.
///
/// Threads: one thread at a time calls what is here, but for port_send(), which
/// one other thread may call, as long as no one closes or reopens that port.

#ifndef CORE_PORTS_PORTS_H
#define CORE_PORTS_PORTS_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/ports/message.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
  PORT_NAME_CAPACITY = 128,
  PORTS_CAPACITY     = 64, ///< Ports of one side; more are not listed
};

typedef enum { PORT_IN, PORT_OUT } PortSide;

typedef struct {
  unsigned n_names;
  char     names[PORTS_CAPACITY][PORT_NAME_CAPACITY];
} PortList;

/// Opaque.
typedef struct Ports Ports;
typedef struct Port  Port;

/// Called for every channel message that arrives, on a thread of the system's:
/// no lock, no memory, no printing in it.
typedef void (*PortReceiver)(void* context, const MidiMessage* message);

/// How to open a port.
typedef struct {
  PortSide     side;
  bool         is_own;  ///< Make one that other programs connect to
  const char*  name;    ///< As listed; of an own one, at most 40 bytes
  PortReceiver receive; ///< Inputs only
  void*        context; ///< Handed to `receive`
} PortWish;

/// Close the system; its ports must have been closed. NULL does nothing.
void
ports_close(Ports* ports);

/// Return what the system is called: `alsa`, `jack`, `loop`.
const char*
ports_name(const Ports* ports);

/// List the ports of other programs and devices; STATUS_SYSTEM if the system
/// is gone.
MUST_USE Status
ports_list(Ports* ports, PortSide side, PortList* list);

/// Whether the system still runs. When it does not, close every port and the
/// system before opening anything again.
bool
ports_are_alive(const Ports* ports);

/**
   Find the port that a person means.

   @param wanted A number from 1, or a part of a name that only one port has,
   upper or lower case; NULL for the obvious one: the first that is neither ours
   nor the system's own way through.
   @param[out] index Written on success only.
   @return STATUS_OK; STATUS_MISSING if there is none; STATUS_RANGE if several
   are meant; the fault lists what there is.
*/
MUST_USE Status
ports_choose(const PortList* list,
             PortSide        side,
             const char*     wanted,
             unsigned*       index,
             Fault*          fault);

/**
   Open a port.

   @param[out] port Written on success only; give it to port_close().
   @return STATUS_OK; STATUS_MISSING if no port has this name; STATUS_SYSTEM;
   STATUS_MEMORY; with the fault written.
*/
MUST_USE Status
port_open(Port** port, Ports* ports, PortWish wish, Fault* fault);

/// Close a port; what was sent is on its way first. NULL does nothing.
void
port_close(Port* port);

/// Whether the other side of a port is still listed; an own one always is.
bool
port_is_there(Port* port);

/// Connect again to a port of the same name, once it is there. STATUS_MISSING
/// if it is not.
MUST_USE Status
port_reopen(Port* port);

/**
   Send a message.

   @param size Bytes, 1..3.
   @return STATUS_OK; STATUS_FULL if so much was sent since the system last
   showed life that it is taken for dead; STATUS_SYSTEM. What failed is lost.
*/
Status
port_send(Port* port, const uint8_t* bytes, size_t size);

#endif // CORE_PORTS_PORTS_H
