/// @file responder/page/beacon.h Where this person's open page is told of: a
/// file for its owner alone, so that a second start finds the first.

#ifndef RESPONDER_PAGE_BEACON_H
#define RESPONDER_PAGE_BEACON_H

#include "responder/page/page.h"

/// Tell of a page. Where there is no place for it nothing is told.
void
beacon_light(const char* address);

/// Tell of it no more, if it is still the one that is told of.
void
beacon_put_out(const char* address);

/// Find a page that answers; false if there is none.
bool
beacon_find(char address[PAGE_ADDRESS_CAPACITY]);

#endif // RESPONDER_PAGE_BEACON_H
