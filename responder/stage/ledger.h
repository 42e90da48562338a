/// @file responder/stage/ledger.h Every note that sounds, so that every one can
/// be ended.

#ifndef RESPONDER_STAGE_LEDGER_H
#define RESPONDER_STAGE_LEDGER_H

#include <stdbool.h>
#include <stdint.h>

enum { LEDGER_CHANNELS = 16, LEDGER_KEYS = 128 };

/// Zeroed, nothing sounds.
typedef struct {
  uint32_t n_begun;
  /// Which beginning sounds on a key; 0: none.
  uint32_t sounding[LEDGER_CHANNELS][LEDGER_KEYS];
  unsigned n_sounding[LEDGER_CHANNELS];
} Ledger;

/// Note that a key begins; one that sounds must be ended first. Return the
/// number of this beginning, never 0.
uint32_t
ledger_begin(Ledger* ledger, unsigned channel, unsigned key);

/// Whether this beginning still sounds; it is then taken as ended.
/// @param number 0: whichever it is.
bool
ledger_end(Ledger* ledger, unsigned channel, unsigned key, uint32_t number);

#endif // RESPONDER_STAGE_LEDGER_H
