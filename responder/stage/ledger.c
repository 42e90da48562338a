#include "responder/stage/ledger.h"

uint32_t
ledger_begin(Ledger* const ledger, const unsigned channel, const unsigned key)
{
  ledger->n_begun += ledger->n_begun == UINT32_MAX ? 2U : 1U; // Never 0
  ledger->sounding[channel][key] = ledger->n_begun;
  ++ledger->n_sounding[channel];
  return ledger->n_begun;
}

bool
ledger_end(Ledger* const  ledger,
           const unsigned channel,
           const unsigned key,
           const uint32_t number)
{
  uint32_t* const sounding = &ledger->sounding[channel][key];
  if (!*sounding || (number && *sounding != number)) {
    return false;
  }
  *sounding = 0;
  --ledger->n_sounding[channel];
  return true;
}
