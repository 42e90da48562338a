/// What "sounds like the trade" comes to: the built program's answers to the
/// fours of a folder of takes and to calls of invented learners, measured from
/// outside by arithmetic on its report. Ends with 1 if a must is missed.
///
///   musicianship BARTER SCRATCH_FOLDER [FOLDER_OF_TAKES [SEEDS]]

#include "calls.h"
#include "form_print.h"
#include "table.h"
#include "tally.h"
#include "told.h"

#include <stdio.h>
#include <stdlib.h>

enum {
  USUAL_SEEDS    = 5,
  MANY_SEEDS     = 100,
  MANY_CALLS     = 3,
  MANY_RUNG      = 4,
  LEAST_DISTINCT = 60,
  CHORUSES       = 2, // So that the answer is not the last
};

static Calls    calls;
static unsigned n_seeds = USUAL_SEEDS;
static Pair     pairs[CALLS]; // Or as many answers to one call

/// Ask once; false, told on standard error, if there is no answer.
static bool
ask(Pair* const pair, const Take* const take, const Asked* const asked)
{
  json_t* const report = said_ask(take, asked);
  const bool    is     = said_read_pair(pair, report);
  json_decref(report);
  return is;
}

static bool
measure(Sums* const sums, Asked asked)
{
  for (asked.seed = 1; asked.seed <= n_seeds; ++asked.seed) {
    for (unsigned call = 0; call < calls.n; ++call) {
      if (!ask(&pairs[call], &calls.takes[call], &asked)) {
        return false;
      }
      tally_add(sums, &pairs[call]);
    }
    for (unsigned call = 0; call < calls.n; ++call) {
      tally_add_others(sums, pairs, calls.n, call);
    }
    const double most = tally_most_moved(pairs, calls.n);
    sums->most_moved  = most > sums->most_moved ? most : sums->most_moved;
  }
  return true;
}

/// Return how many different answers a call has over many seeds.
static unsigned
count_different(const Take* const take, Asked asked)
{
  unsigned n = 0;
  asked.rung = MANY_RUNG;
  for (asked.seed = 1; asked.seed <= MANY_SEEDS; ++asked.seed) {
    unsigned i = 0;
    if (!ask(&pairs[n], take, &asked)) {
      return 0;
    }
    while (i < n && !sums_is_copy(&pairs[i].answer, &pairs[n].answer)) {
      ++i;
    }
    n += i == n;
  }
  return n;
}

static bool
print_different(const Asked asked)
{
  unsigned least = MANY_SEEDS;
  for (unsigned i = 0; i < MANY_CALLS; ++i) {
    const Take* const take = &calls.takes[i * calls.n / MANY_CALLS];
    const unsigned    n    = count_different(take, asked);
    least                  = n < least ? n : least;
  }
  return table_value("different answers over 100 seeds, least",
                     least,
                     LEAST_DISTINCT,
                     MANY_SEEDS,
                     "60 and more");
}

/// Measure the answers to the calls at every rung.
static bool
print_calls(Asked asked, const bool are_solos)
{
  static Sums sums[N_RUNGS];
  char        title[80];
  for (unsigned i = 0; i < N_RUNGS; ++i) {
    sums[i]    = (Sums){.is_solos = are_solos};
    asked.rung = table_rungs[i];
    if (!measure(&sums[i], asked)) {
      return false;
    }
  }
  (void)snprintf(
    title, sizeof(title), "%u %s, %u seeds", calls.n, calls.name, n_seeds);
  const bool meets = tally_print(sums, title);
  return print_different(asked) && meets;
}

int
main(const int argc, const char** const argv)
{
  char        out[SAID_PATH];
  const Asked asked = {
    .program = argv[1], .out = out, .choruses = CHORUSES, .rung = 0};
  if (argc < 3 || argc > 5) {
    fprintf(stderr, "musicianship: BARTER SCRATCH [TAKES [SEEDS]] expected\n");
    return 2;
  }
  if (argc == 5) {
    n_seeds = (unsigned)strtoul(argv[4], NULL, 10);
  }
  (void)setvbuf(stdout, NULL, _IOLBF, BUFSIZ); // It takes minutes
  (void)snprintf(out, sizeof(out), "%s/answer.mid", argv[2]);
  bool meets = form_print(asked, argv[2]);
  if (argc >= 4) {
    meets = told_print(asked, argv[3], argv[2]) && meets;
    meets = calls_fours(&calls, argv[3]) && print_calls(asked, true) && meets;
  } else {
    printf("\nBARTER_TAKES is not set: no fours\n");
  }
  meets = calls_invented(&calls, argv[2]) && print_calls(asked, false) && meets;
  return meets ? EXIT_SUCCESS : EXIT_FAILURE;
}
