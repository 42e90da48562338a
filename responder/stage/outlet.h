/// @file responder/stage/outlet.h Where the notes of a session go: a port, the
/// synthesiser, both or nowhere.
///
/// Threads: the sender sends; the supervisor takes a port away and puts another
/// in its place. A lock is held for the time of one message.

#ifndef RESPONDER_STAGE_OUTLET_H
#define RESPONDER_STAGE_OUTLET_H

#include "core/ports/ports.h"
#include "core/sound/live.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>

typedef struct {
  pthread_mutex_t lock;
  Port*           port;   ///< NULL: none
  Live*           live;   ///< NULL: none
  atomic_bool     is_new; ///< What is there has not been told its sounds
} Outlet;

/// Make one that leads nowhere.
void
outlet_begin(Outlet* outlet);

void
outlet_end(Outlet* outlet);

/// Send a message of up to three bytes. Thread: sender.
void
outlet_send(Outlet* outlet, const uint8_t bytes[3], unsigned size);

/// Put others in their place; what was there is the caller's to close.
/// Thread: supervisor.
void
outlet_lead(Outlet* outlet, Port* port, Live* live);

/// Connect the port again to its device, if it has come back.
/// Thread: supervisor.
bool
outlet_reopen(Outlet* outlet);

#endif // RESPONDER_STAGE_OUTLET_H
