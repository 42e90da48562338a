/// @file responder/page/choosing.h What is chosen on the page: who plays, what
/// the next session is made of, and what changes at once.

#ifndef RESPONDER_PAGE_CHOOSING_H
#define RESPONDER_PAGE_CHOOSING_H

#include "responder/page/face.h"

/// What can be changed at once, while a session is played; the page's own.
typedef struct {
  const char* name;
  const char* help;
} PageSwitch;

enum { PAGE_SWITCHES = 5 };

/// Return a switch, 0..PAGE_SWITCHES - 1.
const PageSwitch*
choosing_switch(unsigned index);

/// Return whether it is on.
bool
choosing_is_on(const Page* page, unsigned index);

/// Whether a choice is the page's to set.
bool
choosing_may(Choice choice);

/// Load what is chosen for who plays; STATUS_OK, or faults are noted and
/// nothing has changed.
MUST_USE Status
choosing_prepare(Page* page, const Who* who, const Said* said, Faults* faults);

// Requests

json_t*
choosing_choose(Page* page, WireCall* call);

json_t*
choosing_who(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_CHOOSING_H
