/// @file responder/page/staves.h Turns engraved, off the server's thread.

#ifndef RESPONDER_PAGE_STAVES_H
#define RESPONDER_PAGE_STAVES_H

#include "core/abc/abc.h"
#include "responder/page/face.h"

/// Let a turn of a session be engraved, and told to every page when it is.
/// Nothing is done for one without a note.
void
staves_give(Page*                 page,
            const SessionOptions* session,
            const TurnRecord*     record);

/// Answer a request, later, with a turn engraved: `svg` and `marks`, or
/// `missing`. Return NULL.
json_t*
staves_answer(Page*                 page,
              const SessionOptions* session,
              const TurnRecord*     record,
              WireCall*             call);

/// Return how a few bars with so many notes are laid out, on one line.
AbcLayout
staves_layout(unsigned n_bars, unsigned n_notes);

/// Engrave ABC notation, on a thread which is not the server's; as
/// staves_engrave().
/// @param abc Taken over, as the places are.
json_t*
staves_picture(char* abc, size_t n_abc, AbcPlaces places);

/// Engrave a phrase on this thread, which is not the server's: `svg` and
/// `marks`, or `missing`; NULL if there is no note, or it could not be.
json_t*
staves_engrave(const SessionOptions* session, Turn turn, const Phrase* phrase);

#endif // RESPONDER_PAGE_STAVES_H
