/// @file responder/page/welcome.h What a page is told when it comes: all of the
/// state, of which most is kept as text for as long as it is so, each piece a
/// message. To make it anew for each takes milliseconds, for which keys would
/// wait.

#ifndef RESPONDER_PAGE_WELCOME_H
#define RESPONDER_PAGE_WELCOME_H

#include "responder/page/face.h"

/// Send the whole state to one page.
void
welcome_send(Page* page, unsigned client);

/// These parts of the state are not any more what they were.
void
welcome_forget(Page* page, unsigned parts);

/// What was played is told to nobody any more.
void
welcome_clear_turns(Page* page);

#endif // RESPONDER_PAGE_WELCOME_H
