/// @file responder/session/sounding.h What is to sound, into the session's
/// agenda: the band's bars, the partner's answers, and the coda.

#ifndef RESPONDER_SESSION_SOUNDING_H
#define RESPONDER_SESSION_SOUNDING_H

#include "responder/session/session.h"

/// Begin the band, and let it count in; the session then knows its first tick.
void
sounding_count_in(Session* session);

/// Let the band play the next bar; the one at the session's end closes it.
void
sounding_bar(Session* session);

/// Let the answer sound.
void
sounding_answer(Session* session);

/// Let the player's best phrase sound once more, alone, after the closing bar;
/// where there is none the session is over there.
void
sounding_coda(Session* session);

/// Return how long the coda may be; 0 if there is to be none.
Tick
sounding_coda_ticks(const SessionOptions* options);

#endif // RESPONDER_SESSION_SOUNDING_H
