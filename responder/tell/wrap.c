#include "responder/tell/wrap.h"

#include "responder/tell/columns.h"

#include <string.h>

static void
indent(Wrap* const wrap, const unsigned from)
{
  for (unsigned i = from; i < wrap->indent; ++i) {
    (void)fputc(' ', wrap->stream);
  }
  wrap->column   = wrap->indent;
  wrap->is_fresh = true;
}

static void
add(Wrap* const wrap, const char* const piece, const size_t n_bytes)
{
  const unsigned width = columns_of(piece, n_bytes);
  if (!wrap->is_fresh && wrap->column + 1 + width > wrap->width) {
    (void)fputc('\n', wrap->stream);
    indent(wrap, 0);
  } else if (!wrap->is_fresh) {
    (void)fputc(' ', wrap->stream);
    ++wrap->column;
  }
  (void)fwrite(piece, 1, n_bytes, wrap->stream);
  wrap->column += width;
  wrap->is_fresh = false;
}

Wrap
wrap_begin(FILE* const       stream,
           const unsigned    indentation,
           const char* const left)
{
  const unsigned here = columns_here(stream);
  Wrap           wrap = {.stream = stream,
                         .width  = here < COLUMNS_USUAL ? here : COLUMNS_USUAL,
                         .indent = indentation};
  (void)fputs(left, stream);
  indent(&wrap, columns_of(left, strlen(left)));
  return wrap;
}

void
wrap_piece(Wrap* const wrap, const char* const piece)
{
  add(wrap, piece, strlen(piece));
}

void
wrap_words(Wrap* const wrap, const char* const words)
{
  for (const char* at = words + strspn(words, " "); *at;) {
    const size_t n_bytes = strcspn(at, " ");
    add(wrap, at, n_bytes);
    at += n_bytes;
    at += strspn(at, " ");
  }
}

void
wrap_end(Wrap* const wrap)
{
  (void)fputc('\n', wrap->stream);
  wrap->column = 0;
}
