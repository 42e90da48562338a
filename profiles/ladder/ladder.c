#include "profiles/ladder/ladder.h"

#include <assert.h>
#include <string.h>

static const char* const dimension_names[N_DIMENSIONS] = {
  [DIMENSION_NOTES]    = "notes",
  [DIMENSION_RHYTHM]   = "rhythm",
  [DIMENSION_SHAPE]    = "shape",
  [DIMENSION_ORNAMENT] = "ornament",
};

static const uint8_t dimension_highest[N_DIMENSIONS] = {
  [DIMENSION_NOTES]    = N_NOTES_RUNGS,
  [DIMENSION_RHYTHM]   = N_RHYTHM_RUNGS,
  [DIMENSION_SHAPE]    = N_SHAPE_RUNGS,
  [DIMENSION_ORNAMENT] = N_ORNAMENT_RUNGS,
};

enum { HIGHEST_RUNG = N_NOTES_RUNGS };

/// Read one or two digits; return what follows them, NULL if there are none.
static const char*
read_number(const char* const text, unsigned* const number)
{
  const size_t n_digits = strspn(text, "0123456789");
  if (n_digits < 1 || n_digits > 2) {
    return NULL;
  }
  *number = 0;
  for (size_t i = 0; i < n_digits; ++i) {
    *number = *number * 10U + (unsigned)(text[i] - '0');
  }
  return text + n_digits;
}

/// Find the dimension that a text begins with, `NAME=`; return what follows.
static const char*
read_dimension(const char* const text, unsigned* const dimension)
{
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    const size_t length = strlen(dimension_names[d]);
    if (strncmp(text, dimension_names[d], length) == 0 && text[length] == '=') {
      *dimension = d;
      return text + length + 1;
    }
  }
  return NULL;
}

static Status
parse_all(Rung* const rung, const char* const text)
{
  unsigned          number = 0;
  const char* const rest   = read_number(text, &number);
  if (!rest || *rest) {
    return STATUS_SYNTAX;
  }
  if (number < 1 || number > HIGHEST_RUNG) {
    return STATUS_RANGE;
  }
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    const unsigned highest = dimension_highest[d];
    rung->level[d]         = (uint8_t)(number < highest ? number : highest);
  }
  return STATUS_OK;
}

/// Read one `NAME=N` into `rung`; `*text` is moved behind it.
static Status
parse_one(Rung* const rung, const char** const text)
{
  unsigned    dimension = 0;
  unsigned    number    = 0;
  const char* rest      = read_dimension(*text, &dimension);
  if (rest) {
    rest = read_number(rest, &number);
  }
  if (!rest) {
    return STATUS_SYNTAX;
  }
  if (number < 1 || number > dimension_highest[dimension]) {
    return STATUS_RANGE;
  }
  rung->level[dimension] = (uint8_t)number;
  *text                  = rest;
  return STATUS_OK;
}

/// Append to a text that has room; return its new end.
static char*
append(char* end, const char* text)
{
  while (*text) {
    *end++ = *text++;
  }
  return end;
}

static char*
append_number(char* end, const unsigned number)
{
  if (number >= 100) {
    *end++ = (char)('0' + number / 100);
  }
  if (number >= 10) {
    *end++ = (char)('0' + number / 10 % 10);
  }
  *end++ = (char)('0' + number % 10);
  return end;
}

const char*
dimension_name(const Dimension dimension)
{
  assert((unsigned)dimension < N_DIMENSIONS);
  return dimension_names[dimension];
}

unsigned
dimension_rungs(const Dimension dimension)
{
  assert((unsigned)dimension < N_DIMENSIONS);
  return dimension_highest[dimension];
}

Status
rung_parse(Rung* const rung, const char* text)
{
  Rung read = *rung;
  if (*text >= '0' && *text <= '9') {
    const Status status = parse_all(&read, text);
    if (status == STATUS_OK) {
      *rung = read;
    }
    return status;
  }

  for (;;) {
    const Status status = parse_one(&read, &text);
    if (status != STATUS_OK) {
      return status;
    }
    if (*text == '\0') {
      *rung = read;
      return STATUS_OK;
    }
    if (*text++ != ',') {
      return STATUS_SYNTAX;
    }
  }
}

static const char*
write_rung(const Rung        rung,
           const char* const between,
           const char* const is,
           char              buffer[RUNG_TEXT_CAPACITY])
{
  char* end = buffer;
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    if (rung.level[d]) {
      end = append(end, end == buffer ? "" : between);
      end = append(end, dimension_names[d]);
      end = append(end, is);
      end = append_number(end, rung.level[d]);
    }
  }
  *end = '\0';
  return buffer;
}

const char*
rung_text(const Rung rung, char buffer[RUNG_TEXT_CAPACITY])
{
  return write_rung(rung, ",", "=", buffer);
}

const char*
rung_words(const Rung rung, char buffer[RUNG_TEXT_CAPACITY])
{
  return write_rung(rung, ", ", " ", buffer);
}
