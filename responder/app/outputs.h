/// @file responder/app/outputs.h The files that a command is to write.

#ifndef RESPONDER_APP_OUTPUTS_H
#define RESPONDER_APP_OUTPUTS_H

#include "core/fault.h"
#include "core/files/file.h"
#include "core/status.h"
#include "responder/app/options.h"

#include <stdbool.h>
#include <stdio.h>

/**
   Make sure, before anything is written, told or counts as practice, that no
   file takes the place of what was played nor of another (devices and standard
   output may be shared), that each has a folder to lie in, and sound a sound
   font. What is wrong is said.

   @param source The take or the recording that is read; NULL if there is none.
   @param made Those options whose folder is made when it is written to.
   @return The exit status, EXIT_DONE on success.
*/
int
outputs_check(const char* source, const Options* options, OptionSet made);

/// Return where words go: to standard output, unless the report does.
FILE*
outputs_stream(const Options* options);

/**
   Write a report to a file, `-` for standard output.

   @param text Freed; NULL: there was no memory for it.
   @param privacy Of the file.
   @return STATUS_OK; STATUS_SYSTEM or STATUS_MEMORY with the fault written.
*/
MUST_USE Status
outputs_report(char* text, const char* path, FilePrivacy privacy, Fault* fault);

/// Show on a terminal how far long work is, which always goes on: a Watch's
/// look.
bool
outputs_show(void* nothing, double done);

#endif // RESPONDER_APP_OUTPUTS_H
