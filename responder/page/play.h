/// @file responder/page/play.h The place where one plays: choices, the session,
/// what comes of it.

#ifndef RESPONDER_PAGE_PLAY_H
#define RESPONDER_PAGE_PLAY_H

#include "core/music/key.h"
#include "responder/page/face.h"

/// What can be changed at once, while a session is played; the page's own.
typedef struct {
  const char* name;
  const char* help;
} PlaySwitch;

enum { PLAY_SWITCHES = 5 };

/// Return a switch, 0..PLAY_SWITCHES - 1.
const PlaySwitch*
play_switch(unsigned index);

/// Return whether it is on.
bool
play_switch_is_on(const Page* page, unsigned index);

/// Whether a choice is the page's to set.
bool
play_may_choose(Choice choice);

/// Load what is chosen for who plays; STATUS_OK, or faults are noted and
/// nothing has changed.
MUST_USE Status
play_prepare(Page* page, const Who* who, const Said* said, Faults* faults);

/// Let a key be heard and sound.
void
play_key(Page* page, const WireMessage* key);

/// Let go of every key that the page holds.
void
play_release(Page* page);

/// See what is new, and tell it.
void
play_look(Page* page);

/// End the session that is played, if one is.
void
play_end(Page* page);

/// Tell one page the place, if a session is played.
void
play_place(Page* page, unsigned client);

// Requests

json_t*
play_choose(Page* page, WireCall* call);

json_t*
play_begin(Page* page, WireCall* call);

json_t*
play_stop(Page* page, WireCall* call);

json_t*
play_again(Page* page, WireCall* call);

json_t*
play_slower(Page* page, WireCall* call);

json_t*
play_faster(Page* page, WireCall* call);

json_t*
play_easier(Page* page, WireCall* call);

json_t*
play_harder(Page* page, WireCall* call);

json_t*
play_who(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_PLAY_H
