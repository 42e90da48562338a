/// @file responder/reference/complete.h What completes the command line in a
/// shell.

#ifndef RESPONDER_REFERENCE_COMPLETE_H
#define RESPONDER_REFERENCE_COMPLETE_H

#include <stdio.h>

void
complete_bash(FILE* stream);

void
complete_zsh(FILE* stream);

void
complete_fish(FILE* stream);

#endif // RESPONDER_REFERENCE_COMPLETE_H
