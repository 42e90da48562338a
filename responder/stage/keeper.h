/// @file responder/stage/keeper.h The thread that keeps a session on disk as it
/// goes: what was heard up to the last finished turn survives a crash.

#ifndef RESPONDER_STAGE_KEEPER_H
#define RESPONDER_STAGE_KEEPER_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "responder/record/recording.h"
#include "responder/stage/engine.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>

typedef struct {
  Engine*          engine;
  const Recording* recording; ///< NULL: nothing is written
  Conversation     conversation;
  unsigned         n_turns;
  atomic_bool      stops;
  atomic_bool      has_failed; ///< `fault` is written, for good
  Fault            fault;
  pthread_t        thread;
} Keeper;

/// Begin to keep what an engine plays, before it plays; STATUS_OK or
/// STATUS_SYSTEM.
/// @param recording NULL: nothing is written.
MUST_USE Status
keeper_begin(Keeper* keeper, Engine* engine, const Recording* recording);

/// Keep the rest and end, after engine_end(). Return whether a file was
/// written whole.
bool
keeper_end(Keeper* keeper);

#endif // RESPONDER_STAGE_KEEPER_H
