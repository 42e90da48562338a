/// @file responder/reference/manual.h The manual's pages, in mdoc(7).

#ifndef RESPONDER_REFERENCE_MANUAL_H
#define RESPONDER_REFERENCE_MANUAL_H

#include "responder/app/command.h"

#include <stdio.h>

/// Of when and what the pages are.
typedef struct {
  const char* date;    ///< `November 28, 2026`
  const char* version; ///< Of the program
} ManualEdition;

/// Write the page of a command.
void
manual_command(FILE*                stream,
               const ManualEdition* edition,
               const Command*       command);

/// Write the page of the program: a text, with the tables where it asks for
/// them by the lines @commands and @choices.
/// @return Whether all of the text could be read.
bool
manual_program(FILE* stream, const ManualEdition* edition, FILE* text);

#endif // RESPONDER_REFERENCE_MANUAL_H
