/// @file profiles/exchange/inside.h Reading a file from inside: for the sources
/// of this room only. Only these know the library that reads JSON.

#ifndef PROFILES_EXCHANGE_INSIDE_H
#define PROFILES_EXCHANGE_INSIDE_H

#include "core/attributes.h"
#include "profiles/exchange/exchange.h"

#include <jansson.h>

/// Reading under way.
typedef struct {
  FILE*                 stream;
  const ExchangeReader* reader;
  Fault*                fault;
  const char*           name;
  unsigned              line; ///< 1-based, of the one in `text`
  size_t                length;
  char*                 text;
  size_t                n_sessions;
  size_t                n_turns;
  size_t                n_ideas;
  bool                  has_ended;
} Reading;

/// Write a fault of the present line; return STATUS_SYNTAX.
__attribute__((format(printf, 2, 3))) Status
reading_wrong(const Reading* reading, const char* format, ...);

/// Take an ID.
MUST_USE Status
reading_id(const Reading* reading, JournalId* id, const json_t* value);

/// Take the head; what was taken is the caller's, even on failure.
MUST_USE Status
reading_head(const Reading* reading, ExchangeHead* head, const json_t* value);

#endif // PROFILES_EXCHANGE_INSIDE_H
