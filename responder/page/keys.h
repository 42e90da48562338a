/// @file responder/page/keys.h Keys: those that a page plays, and those of the
/// MIDI keyboard, to be shown.

#ifndef RESPONDER_PAGE_KEYS_H
#define RESPONDER_PAGE_KEYS_H

#include "responder/page/face.h"

/// Let a key be heard and sound.
void
keys_play(Page* page, const WireMessage* key);

/// Let go of every key that the page holds.
void
keys_release(Page* page);

/// Tell what has come from the keyboard.
void
keys_look(Page* page);

#endif // RESPONDER_PAGE_KEYS_H
