#include "responder/stage/ledger.h"

#include <criterion/criterion.h>

static Ledger ledger;

Test(ledger, ends_only_what_began)
{
  const uint32_t first = ledger_begin(&ledger, 1, 60);
  cr_assert_neq(first, 0);
  cr_assert_neq(ledger.sounding[1][60], 0);
  cr_assert_eq(ledger.sounding[2][60], 0);
  cr_assert(!ledger_end(&ledger, 1, 61, 0));
  cr_assert(ledger_end(&ledger, 1, 60, first));
  cr_assert(!ledger_end(&ledger, 1, 60, first));
  cr_assert_eq(ledger.n_sounding[1], 0);
}

// An end that comes late must not end the next note of its key
Test(ledger, an_old_end_ends_nothing)
{
  const uint32_t first = ledger_begin(&ledger, 9, 38);
  cr_assert(ledger_end(&ledger, 9, 38, 0));
  const uint32_t second = ledger_begin(&ledger, 9, 38);
  cr_assert_neq(first, second);
  cr_assert(!ledger_end(&ledger, 9, 38, first));
  cr_assert_neq(ledger.sounding[9][38], 0);
  cr_assert(ledger_end(&ledger, 9, 38, second));
}

Test(ledger, numbers_go_round_without_0)
{
  ledger.n_begun = UINT32_MAX - 1;
  for (unsigned key = 0; key < 4; ++key) {
    cr_assert_neq(ledger_begin(&ledger, 0, key), 0);
  }
}
