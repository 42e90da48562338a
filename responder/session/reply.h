/// @file responder/session/reply.h When the partner comes in, and the thinking
/// ahead of it.
///
/// While a turn that the partner will answer goes by, there is a moment to
/// think every REPLY_STEP ticks. Thinking begins where the player's phrase
/// seems to have ended, in the second half of the turn, or a beat before the
/// line at the latest; a key struck begins it anew. What is thought when
/// depends on ticks and keys alone, so a replay thinks the same.
///
/// The answer is given SESSION_LEAD before the line; but
/// - a beat and a half before it, if the player has been silent for a beat:
/// then
///   it may begin with a pick-up;
/// - half a beat after it, if the player strikes a key in the last half beat
/// and
///   so may run over the line: then it begins after that.

#ifndef RESPONDER_SESSION_REPLY_H
#define RESPONDER_SESSION_REPLY_H

#include "core/music/meter.h"
#include "core/tick.h"
#include "responder/session/hearing.h"
#include "responder/session/turn.h"

#include <stdbool.h>

enum { REPLY_STEP = 8 };

/// An answer that is yet to be given; zeroed, none is.
typedef struct {
  Turn     turn;        ///< The partner's, to be answered in; index 0: none
  Turn     call;        ///< The player's before it; index 0: none
  Tick     next;        ///< When there is a moment to think
  bool     may_come_in; ///< Before the line
  bool     may_wait;    ///< For a landing after it
  bool     is_late;     ///< Given after the line
  bool     thinks;
  bool     has_thought; ///< Enough
  Tick     earliest;    ///< That is thought for
  unsigned n_struck;    ///< Keys, when the thinking began
  unsigned n_owed;      ///< Moments to think that are yet to be made use of
} Reply;

/// What a moment to think is for, in this order.
typedef struct {
  bool begins;  ///< To think, or anew
  bool goes_on; ///< Thinking
  bool gives;   ///< The answer
} ReplyStep;

/// Make ready to answer a turn.
Reply
reply_open(const Turn* call, const Turn* turn, Tick lead, Meter meter);

/**
   Return what is to be done at the moment `reply->next`, and go on to the next.

   @param[in,out] reply `earliest` is where the answer may begin.
*/
ReplyStep
reply_step(Reply* reply, const Hearing* hearing, Tick lead, Meter meter);

/// Whether a key was struck so near the line that it may lead over it.
bool
reply_runs_over(const Reply* reply, const Hearing* hearing, Meter meter);

/// Return where the answer may begin at the earliest, from a tick on that is
/// not yet heard.
Tick
reply_first(const Reply* reply, Tick from, Meter meter);

/// Return how long a landing after the line is waited for.
Tick
reply_wait(Meter meter);

/// Return where the answer's own first place is: the line, or a beat after it.
Tick
reply_start(const Reply* reply, Meter meter);

#endif // RESPONDER_SESSION_REPLY_H
