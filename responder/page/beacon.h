/// @file responder/page/beacon.h Where this person's open page is told of: a
/// file for its owner alone, so that a second start finds the first.
///
/// The file is locked (fcntl(2)) by the program whose page it is: what one that
/// was killed left behind is told from one that is there. While a program ends
/// its file is empty: a start in that moment waits for the sound and the ports
/// that it still holds.

#ifndef RESPONDER_PAGE_BEACON_H
#define RESPONDER_PAGE_BEACON_H

#include "responder/page/page.h"

enum { BEACON_NONE = -1 };

/// Tell of a page; the beacon, or BEACON_NONE where there is no place for it:
/// then nothing is told.
int
beacon_light(const char* address);

/// Tell of it no more: it is about to end.
void
beacon_dim(int beacon);

/// It has ended. BEACON_NONE does nothing.
void
beacon_put_out(int beacon);

/// Find a page that is there to stay; false if there is none.
bool
beacon_find(char address[PAGE_ADDRESS_CAPACITY]);

#endif // RESPONDER_PAGE_BEACON_H
