/// @file responder/page/play.h What is played live: it begins, is looked at and
/// told of, and ends.

#ifndef RESPONDER_PAGE_PLAY_H
#define RESPONDER_PAGE_PLAY_H

#include "responder/page/face.h"

/// Return how long the session waits for a key of the page, ticks at a tempo:
/// its way from a browser is not to make the player late.
unsigned
play_ticks_behind(double tempo_bpm);

/// Note that something has begun, and tell it.
/// @param live Its exercise is taken over; the rest outlives it.
void
play_has_begun(Page* page, FaceLive live);

/// Note that all has ended, and tell it.
void
play_has_ended(Page* page, const StageResult* result);

/// See what is new, and tell it.
void
play_look(Page* page);

/// End what is played, if anything is.
void
play_end(Page* page);

/// Tell one page the place, if anything is played.
void
play_place(Page* page, unsigned client);

/// The request `begin`.
json_t*
play_begin(Page* page, WireCall* call);

#endif // RESPONDER_PAGE_PLAY_H
