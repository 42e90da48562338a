/// @file responder/app/endings.h What the ending of a file's name says of what
/// is written into it.

#ifndef RESPONDER_APP_ENDINGS_H
#define RESPONDER_APP_ENDINGS_H

#include "responder/app/options.h"

/**
   Refuse a name whose ending says that something else is in the file; an ending
   that says nothing is as good as any.

   @param as What names it: `--wav`.
   @param what Is written: `sound`.
   @param right The endings of that, as `.mid.midi`; empty: a folder.
   @return The exit status, a fault said.
*/
int
endings_check(const char* as,
              const char* path,
              const char* what,
              const char* right);

/// Check the files that are asked for; `--out` is a MIDI file.
int
endings_check_all(const Options* options);

#endif // RESPONDER_APP_ENDINGS_H
