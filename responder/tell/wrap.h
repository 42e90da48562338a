/// @file responder/tell/wrap.h Words set in lines that fit the terminal.

#ifndef RESPONDER_TELL_WRAP_H
#define RESPONDER_TELL_WRAP_H

#include <stdbool.h>
#include <stdio.h>

/// A paragraph in the making.
typedef struct {
  FILE*    stream;
  unsigned width;    ///< As columns_here(), COLUMNS_USUAL at the most
  unsigned indent;   ///< Where its words begin, on every line
  unsigned column;   ///< Columns taken of the present line
  bool     is_fresh; ///< Nothing stands on it yet but the indent
} Wrap;

/// Begin with words that stand to the left of the indent, shorter than it.
Wrap
wrap_begin(FILE* stream, unsigned indentation, const char* left);

/// Add a piece that is not to be broken, a space before it.
void
wrap_piece(Wrap* wrap, const char* piece);

/// Add words, broken at their spaces.
void
wrap_words(Wrap* wrap, const char* words);

/// End the line.
void
wrap_end(Wrap* wrap);

#endif // RESPONDER_TELL_WRAP_H
