/// @file responder/page/page.h The page: Barter in a browser on this machine.
///
/// A page speaks `barter-page`, version 1: JSON, one text frame a message, over
/// the WebSocket `/wire`, subprotocol `barter-page-1`. Its requests and keys
/// are described in wire.h and requests.c. It is sent answers, and events,
/// `{"tell": NAME, ...}`:
///
///   state     `set`: members of the state that have changed, see state.h; all
///             of them, in pieces, before `open` is answered
///   place     at the server's moment `at` (ms) the session stood at `tick`, at
///             `tempo`; `running`, or it stands still
///   turn      `turn`: as decided, an object of barter-report
///   staff     `turn` (its index), `svg`, `marks`, and `png` (base64) where it
///             can be drawn here; of a long turn `halves`, too, the same on two
///             lines; or `missing`: why there is none
///   says      `text`, `kind`: `remark`, `news`, `care`, or `trouble`: what was
///             lost or could not be done
///   progress  `n`: of a request, `done`: 0..1
///   close     `why`; the channel is closed then
///
/// Threads: one thread calls what is here.

#ifndef RESPONDER_PAGE_PAGE_H
#define RESPONDER_PAGE_PAGE_H

#include "core/attributes.h"
#include "core/settings/faults.h"
#include "core/status.h"
#include "profiles/choices/choices.h"
#include "responder/lesson/notices.h"
#include "responder/lesson/playing.h"

#include <stdbool.h>

enum { PAGE_ADDRESS_CAPACITY = 96 };

/// Opaque; about 8 MiB.
typedef struct Page Page;

/// What it begins with.
typedef struct {
  PlayingWish playing;
  Said        said;    ///< Choices that were asked for
  const char* learner; ///< Who plays at first; NULL: nobody, nothing is kept
  unsigned    port;    ///< 0: any that is free
} PageWish;

/**
   Open ports, sound and the server.

   Without sound it goes on in silence, and says so on the page.

   @param[out] page Written on success only; give it to page_close().
   @param notices What cannot be had, and is gone on without.
   @return STATUS_OK; else faults are noted.
*/
MUST_USE Status
page_open(Page** page, const PageWish* wish, Notices* notices, Faults* faults);

/// Close it; a session that is played is ended and kept. NULL does nothing.
void
page_close(Page* page);

/// Return the whole address, key included; the page's.
const char*
page_address(const Page* page);

/// Serve until a page closes it or a signal comes.
void
page_serve(Page* page);

/**
   Find the page of this person that is open already.

   @param[out] address Written if there is one.
*/
bool
page_find_open(char address[PAGE_ADDRESS_CAPACITY]);

#endif // RESPONDER_PAGE_PAGE_H
