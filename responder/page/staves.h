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

/// Answer a request, later, with a turn engraved: `svg`, `marks` and, where it
/// is long, `halves`, or `missing`. Return NULL.
json_t*
staves_answer(Page*                 page,
              const SessionOptions* session,
              const TurnRecord*     record,
              WireCall*             call);

/// A few bars of music that write themselves, once for each shape.
typedef struct {
  unsigned n_bars;
  unsigned n_notes;
  unsigned n_in_half; ///< Notes, in whichever half has more
  Status (*write)(void*            context,
                  const AbcLayout* layout,
                  AbcPlaces*       places,
                  char**           abc,
                  size_t*          size);
  void* context;
} StavesMusic;

/// Engrave music, on a thread which is not the server's; as staves_engrave().
json_t*
staves_picture(const StavesMusic* music);

/// Engrave a phrase on this thread, which is not the server's: `svg`, `marks`
/// and, where it is long, `halves`, or `missing`, in words; NULL if there is no
/// note.
json_t*
staves_engrave(const SessionOptions* session, Turn turn, const Phrase* phrase);

#endif // RESPONDER_PAGE_STAVES_H
