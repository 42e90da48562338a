/// @file responder/record/drive.h A session offline, from its first tick to its
/// last or to where it is left, as fast as it goes.

#ifndef RESPONDER_RECORD_DRIVE_H
#define RESPONDER_RECORD_DRIVE_H

#include "core/attributes.h"
#include "core/status.h"
#include "responder/record/conversation.h"
#include "responder/session/session.h"

#include <stddef.h>

/// Called for each turn as it is decided; the record lives only as long as the
/// call.
typedef void (*TurnListener)(void* context, const TurnRecord* record);

/// Who plays, and who is told of the turns.
typedef struct {
  const HeardKey*      keys; ///< What is still to be played, rising by tick
  size_t               n_keys;
  TurnListener         hear_turn; ///< May put other keys in place of those
  void*                context;
  const SessionChange* changes; ///< Asked for in time for theirs, rising
  size_t               n_changes;
  Tick                 left; ///< Where the session is left; 0: to its end
} DrivePlayer;

/**
   Let a session pass.

   Of the keys before the count-in, the ones that are down when it begins are
   struck then; those after the end are left out.

   @param player What is not played stays in it.
   @param[out] conversation Give it to conversation_free().
   @return STATUS_OK, or STATUS_MEMORY with nothing to free.
*/
MUST_USE Status
drive_session(Conversation*         conversation,
              const SessionOptions* options,
              DrivePlayer*          player);

#endif // RESPONDER_RECORD_DRIVE_H
