/// @file responder/stage/guardian.h Who ends the notes of a program that was
/// killed: a process of its own, asleep until the other one is gone.

#ifndef RESPONDER_STAGE_GUARDIAN_H
#define RESPONDER_STAGE_GUARDIAN_H

#include "core/attributes.h"
#include "core/status.h"

#include <sys/types.h>

/// Zeroed, there is none.
typedef struct {
  pid_t pid;
  int   pipe; ///< It sleeps until this is closed
} Guardian;

/// Begin one, before any thread is made; STATUS_OK or STATUS_SYSTEM.
MUST_USE Status
guardian_begin(Guardian* guardian);

/**
   Tell it where notes go.

   @param system As system_open() takes it.
   @param port The name of an output of another program or device.
*/
void
guardian_tell(const Guardian* guardian, const char* system, const char* port);

/// Send it home: every note has ended.
void
guardian_end(Guardian* guardian);

#endif // RESPONDER_STAGE_GUARDIAN_H
