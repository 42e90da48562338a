/// @file responder/app/warn.h What is said of a take that is not quite whole.

#ifndef RESPONDER_APP_WARN_H
#define RESPONDER_APP_WARN_H

#include "core/midi/smf_warnings.h"

/// Print the warnings about a file on standard error, one a line.
void
warn_of_take(const char* path, const SmfWarnings* warnings);

#endif // RESPONDER_APP_WARN_H
