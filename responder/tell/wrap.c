#include "responder/tell/wrap.h"

#include <string.h>

// Characters of UTF-8: bytes that continue none
static unsigned
width_of(const char* const text, const size_t n_bytes)
{
  unsigned width = 0;
  for (size_t i = 0; i < n_bytes; ++i) {
    width += ((unsigned char)text[i] & 0xC0U) != 0x80U;
  }
  return width;
}

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
  const unsigned width = width_of(piece, n_bytes);
  if (!wrap->is_fresh && wrap->column + 1 + width > WRAP_WIDTH) {
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
  Wrap wrap = {.stream = stream, .indent = indentation};
  (void)fputs(left, stream);
  indent(&wrap, width_of(left, strlen(left)));
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
