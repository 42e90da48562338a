/// @file responder/tell/warmup_tell.h A warm-up in words.

#ifndef RESPONDER_TELL_WARMUP_TELL_H
#define RESPONDER_TELL_WARMUP_TELL_H

#include "profiles/plan/warmup.h"
#include "responder/setup/setup.h"

#include <stdint.h>
#include <stdio.h>

/// What is told; it points to what it is made of.
typedef struct {
  const Setup*  setup;
  const Warmup* warmup;
  const char*   name; ///< Of who warms up
  int32_t       day;  ///< Days since 1970-01-01
} WarmupTold;

/// Write whose it is, and what it is over.
void
warmup_tell_head(FILE* stream, const WarmupTold* told);

/// Write an item, after the pause that comes before it where half an hour has
/// gone by.
void
warmup_tell_item(FILE* stream, const WarmupTold* told, unsigned index);

/// Write the usual cautions.
void
warmup_tell_care(FILE* stream);

#endif // RESPONDER_TELL_WARMUP_TELL_H
