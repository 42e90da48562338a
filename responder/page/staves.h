/// @file responder/page/staves.h Turns engraved, off the server's thread.

#ifndef RESPONDER_PAGE_STAVES_H
#define RESPONDER_PAGE_STAVES_H

#include "responder/page/face.h"

/// Let a turn of a session be engraved, and told to every page when it is.
/// Nothing is done for one without a note.
void
staves_give(Page*                 page,
            const SessionOptions* session,
            const TurnRecord*     record);

#endif // RESPONDER_PAGE_STAVES_H
