/// @file responder/setup/choices_text.h Choices as text, to replay a recording.
///
/// `barter-session 1`, then one `name=value` a line; `kept`, the idea of the
/// notebook that may come back, stands last where there is one. Numbers are
/// written so that they read back exactly.

#ifndef RESPONDER_SETUP_CHOICES_TEXT_H
#define RESPONDER_SETUP_CHOICES_TEXT_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/choices/choices.h"

/// How such a text begins.
#define CHOICES_HEADING "barter-session 1\n"

enum { CHOICES_TEXT_CAPACITY = 8192 };

/// Write choices that are complete: nothing in them is left open, and no name
/// has a line break in it.
void
choices_write(const Choices* choices, char text[CHOICES_TEXT_CAPACITY]);

/**
   Read choices back: only what choices_write() could have written.

   @param[out] choices Written on success only.
   @return STATUS_OK; STATUS_SYNTAX or STATUS_RANGE with the fault written.
*/
MUST_USE Status
choices_read(Choices* choices, const char* text, Fault* fault);

#endif // RESPONDER_SETUP_CHOICES_TEXT_H
