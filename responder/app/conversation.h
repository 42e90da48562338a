/// @file responder/app/conversation.h A session driven by a file, from its
/// first tick to its last.

#ifndef RESPONDER_APP_CONVERSATION_H
#define RESPONDER_APP_CONVERSATION_H

#include "core/attributes.h"
#include "core/status.h"
#include "responder/session/session.h"
#include "responder/stage/conversation.h"

#include <stddef.h>

/// Called for each turn as it is decided; the record lives only as long as the
/// call.
typedef void (*TurnListener)(void* context, const TurnRecord* record);

/**
   Run a session.

   @param keys What the player does, rising by tick. Of those before the
   count-in, the ones that are down when it begins are struck then; those after
   the end are left out.
   @param[out] conversation Give it to conversation_free().
   @return STATUS_OK, or STATUS_MEMORY with nothing to free.
*/
MUST_USE Status
conversation_run(Conversation*         conversation,
                 const SessionOptions* options,
                 const HeardKey*       keys,
                 size_t                n_keys,
                 TurnListener          listener,
                 void*                 context);

#endif // RESPONDER_APP_CONVERSATION_H
