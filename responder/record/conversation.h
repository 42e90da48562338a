/// @file responder/record/conversation.h All that sounded in a session,
/// gathered note by note, and what was changed while it went on.

#ifndef RESPONDER_RECORD_CONVERSATION_H
#define RESPONDER_RECORD_CONVERSATION_H

#include "core/attributes.h"
#include "core/band/part.h"
#include "core/music/note.h"
#include "core/status.h"
#include "core/tick.h"
#include "responder/session/change.h"
#include "responder/session/hearing.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/// A conversation; begin it with its two ticks and the rest zero. Owned.
typedef struct {
  Tick           first;   ///< Of the count-in, below 0
  Tick           last;    ///< After the closing bar, or where it was left
  bool           is_left; ///< Before its end
  PartNote*      notes;   ///< Rising by tick once it is ended
  size_t         n_notes;
  size_t         capacity;
  Note           held[128]; ///< The player's sounding notes; velocity 0: none
  SessionChange* changes;   ///< Rising by tick
  size_t         n_changes;
} Conversation;

/// Return the MIDI channel of a part, 0..15; the drums have General MIDI's.
uint8_t
conversation_channel(Part part);

/// Add a note; STATUS_OK or STATUS_MEMORY.
MUST_USE Status
conversation_add(Conversation* conversation, PartNote note);

/// Add a key of the player's at the tick that it counted as: a note is added
/// when it comes up or is struck again. STATUS_OK or STATUS_MEMORY.
MUST_USE Status
conversation_hear(Conversation* conversation, HeardKey key);

/// Add what was changed; STATUS_OK or STATUS_MEMORY.
MUST_USE Status
conversation_change(Conversation* conversation, SessionChange change);

/// Let go, at a tick, of the keys that are still down; STATUS_OK or
/// STATUS_MEMORY.
MUST_USE Status
conversation_release(Conversation* conversation, Tick tick);

/// Leave it before its end: what is down or sounds ends there, and nothing
/// begins from there on. STATUS_OK or STATUS_MEMORY.
MUST_USE Status
conversation_leave(Conversation* conversation, Tick tick);

/// Put the notes in order.
void
conversation_sort(Conversation* conversation);

void
conversation_free(Conversation* conversation);

#endif // RESPONDER_RECORD_CONVERSATION_H
