/// @file responder/tell/columns.h How much room text takes on a terminal.
///
/// Letters of some scripts are two columns wide, accents that are written by
/// themselves none. The program's LC_CTYPE is to be one of UTF-8: main() sets
/// it once.

#ifndef RESPONDER_TELL_COLUMNS_H
#define RESPONDER_TELL_COLUMNS_H

#include <stddef.h>
#include <stdio.h>

enum {
  COLUMNS_USUAL = 79, ///< Of what is no terminal, and the most for words
  COLUMNS_LEAST = 39,
};

/// Return the columns of some bytes of UTF-8; a byte that is none takes one.
unsigned
columns_of(const char* text, size_t n_bytes);

/// Return how many bytes of a text fit into so many columns, cut between
/// characters.
size_t
columns_fit(const char* text, unsigned columns);

/// Write a text and blanks up to so many columns; at least one of them.
void
columns_put(FILE* stream, const char* text, unsigned columns);

/// Return the columns to write in: those of the terminal at this moment but
/// the last, within bounds.
unsigned
columns_here(FILE* stream);

#endif // RESPONDER_TELL_COLUMNS_H
