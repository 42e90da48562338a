/// @file responder/page/scratch.h A folder for what a page makes in passing,
/// for its owner alone. It goes with the program; what one left behind that was
/// killed goes when the next one begins.

#ifndef RESPONDER_PAGE_SCRATCH_H
#define RESPONDER_PAGE_SCRATCH_H

#include "core/attributes.h"

#include <stdbool.h>

enum { SCRATCH_PATH = 64 };

/// Make it, and take away those of programs that have ended; false if there is
/// no room in /tmp.
bool
scratch_open(char folder[SCRATCH_PATH]);

/// Take it away with all that is in it.
void
scratch_close(const char* folder);

/// Make a file in it, empty; false, and an empty path, if it cannot be.
/// @return Its descriptor, or below 0.
int
scratch_file(const char* folder, char path[SCRATCH_PATH]);

/// Make a folder in it; false if it cannot be.
bool
scratch_folder(const char* folder, char path[SCRATCH_PATH]);

#endif // RESPONDER_PAGE_SCRATCH_H
