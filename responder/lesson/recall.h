/// @file responder/lesson/recall.h Looking back: a session that was recorded,
/// or a take from elsewhere, turn by turn.

#ifndef RESPONDER_LESSON_RECALL_H
#define RESPONDER_LESSON_RECALL_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/faults.h"
#include "core/status.h"
#include "responder/lesson/notices.h"
#include "responder/record/conversation.h"
#include "responder/session/session.h"
#include "responder/session/summary.h"
#include "responder/setup/setup.h"

#include <stdbool.h>

/// What is looked back on.
typedef struct {
  Setup          setup;
  SessionOptions session; ///< Points to the setup
  Conversation   conversation;
  TurnRecord*    turns;
  unsigned       n_turns;
  unsigned       capacity;
  Summary        summary;
  Notices        notices;     ///< What is not as it was then
  bool           is_answered; ///< Else a take that was only heard
} Recall;

/**
   Have a recorded session again. It takes a while: never on a thread that is
   waited for.

   @param[out] recall Written on success; give it to recall_free().
   @return STATUS_OK; else faults are noted.
*/
MUST_USE Status
recall_session(Recall** recall, const char* path, Faults* faults);

/**
   Hear a take over what is chosen, at its own tempo; nobody answers.

   @return As recall_session().
*/
MUST_USE Status
recall_take(Recall**       recall,
            const char*    path,
            const Choices* choices,
            Faults*        faults);

/// Release; NULL does nothing.
void
recall_free(Recall* recall);

/**
   Make a file of a recorded session: `.xml`, `.pdf`, `.svg` or `.wav`, by how
   the path ends. It takes a while.

   @return STATUS_OK; else faults are noted.
*/
MUST_USE Status
recall_save(const char* recording, const char* path, Faults* faults);

#endif // RESPONDER_LESSON_RECALL_H
