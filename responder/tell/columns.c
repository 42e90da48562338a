#define _XOPEN_SOURCE 700 // For wcwidth()

#include "responder/tell/columns.h"

#include <string.h>
#include <sys/ioctl.h>
#include <wchar.h>

/// Return the width of the character at the beginning, and its bytes.
static unsigned
width_at(const char* const text, const size_t n_bytes, size_t* const n_taken)
{
  mbstate_t state;
  wchar_t   character = L'\0';
  memset(&state, 0, sizeof(state));
  const size_t n = mbrtowc(&character, text, n_bytes, &state);
  *n_taken       = 1;
  if (n == 0 || n > n_bytes) { // No character of UTF-8
    return 1;
  }
  const int width = wcwidth(character);
  *n_taken        = n;
  return width < 0 ? 1 : (unsigned)width;
}

/// Take characters while they fit; return the columns that they take.
static unsigned
take(const char* const text,
     const size_t      n_bytes,
     const unsigned    most,
     size_t* const     n_taken)
{
  unsigned columns = 0;
  size_t   n       = 0;
  for (size_t n_one = 0; n < n_bytes; n += n_one) {
    const unsigned width = width_at(text + n, n_bytes - n, &n_one);
    if (columns + width > most) {
      break;
    }
    columns += width;
  }
  *n_taken = n;
  return columns;
}

unsigned
columns_of(const char* const text, const size_t n_bytes)
{
  size_t n_taken = 0;
  return take(text, n_bytes, (unsigned)-1 / 2U, &n_taken);
}

size_t
columns_fit(const char* const text, const unsigned columns)
{
  size_t n_taken = 0;
  (void)take(text, strlen(text), columns, &n_taken);
  return n_taken;
}

void
columns_put(FILE* const stream, const char* const text, const unsigned columns)
{
  const unsigned width = columns_of(text, strlen(text));
  (void)fprintf(
    stream, "%s%*s", text, width < columns ? (int)(columns - width) : 1, "");
}

unsigned
columns_here(FILE* const stream)
{
  struct winsize size = {0};
  if (ioctl(fileno(stream), TIOCGWINSZ, &size) || !size.ws_col) {
    return COLUMNS_USUAL;
  }
  const unsigned columns = size.ws_col - 1U;
  return columns < COLUMNS_LEAST ? COLUMNS_LEAST : columns;
}
