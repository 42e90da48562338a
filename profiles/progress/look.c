#include "profiles/progress/look.h"

#include "profiles/journal/day.h"
#include "profiles/ladder/climb.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

// What is a marked drop: more than chance makes of a dozen turns; common
// practice, no source
static const int64_t least_turns = 12;      // On either side, to be compared
static const double  share_less  = 0.3;     // Fewer turns that came off
static const double  times_wider = 1.5;     // Spread about the grid,
static const double  wider_us    = 10000.0; // ... and by so much

__attribute__((format(printf, 2, 3))) static void
say(Look* const look, const char* const format, ...)
{
  const size_t n = strlen(look->text);
  const size_t k = look->n_reasons ? 2 : 0;
  va_list      args;
  (void)snprintf(look->text + n, sizeof(look->text) - n, "%s", k ? ", " : "");
  va_start(args, format);
  (void)vsnprintf(look->text + n + k, sizeof(look->text) - n - k, format, args);
  va_end(args);
  ++look->n_reasons;
}

// Steps down of late; those of the first session only look for a place
static void
look_at_falls(Look* const look, const LookView* const view)
{
  const JournalMoves* const moves = view->moves;
  unsigned                  n     = 0;
  char                      since[DAY_TEXT_CAPACITY];
  while (n < moves->n_moves && !moves->moves[n].is_of_first &&
         moves->moves[n].day > view->today - LOOK_FALL_DAYS &&
         climb_text_is_down(moves->moves[n].moved)) {
    ++n;
  }
  if (n >= LOOK_FALLS) {
    (void)day_text(moves->moves[n - 1].day, since);
    if (n == 2) {
      say(look, "fell twice since %s", since);
    } else {
      say(look, "fell %u times since %s", n, since);
    }
  }
}

// How it was, over some sessions
typedef struct {
  int64_t judged;
  int64_t successes;
  int64_t timed;
  int64_t spread_us;
} Sums;

static Sums
sum_up(const JournalTotals* const totals, const size_t from, const size_t to)
{
  Sums sums = {.judged = 0};
  for (size_t i = from; i < to; ++i) {
    sums.judged += totals->totals[i].judged;
    sums.successes += totals->totals[i].successes;
    sums.timed += totals->totals[i].timed;
    sums.spread_us += totals->totals[i].spread_us;
  }
  return sums;
}

static void
look_at_drops(Look* const look, const LookView* const view)
{
  const size_t n      = view->totals->n_totals;
  const size_t middle = n > LOOK_SESSIONS ? n - LOOK_SESSIONS : 0;
  const size_t from   = middle > LOOK_BEFORE ? middle - LOOK_BEFORE : 0;
  const Sums   before = sum_up(view->totals, from, middle);
  const Sums   now    = sum_up(view->totals, middle, n);
  if (before.judged >= least_turns && now.judged >= least_turns) {
    const double was = (double)before.successes / (double)before.judged;
    const double is  = (double)now.successes / (double)now.judged;
    if (was - is >= share_less) {
      say(look, "fewer came off: %.0f %% after %.0f %%", 100 * is, 100 * was);
    }
  }
  if (before.timed >= least_turns && now.timed >= least_turns) {
    const double was = (double)before.spread_us / (double)before.timed;
    const double is  = (double)now.spread_us / (double)now.timed;
    if (is >= was * times_wider && is - was >= wider_us) {
      say(look, "less in time: %.0f ms after %.0f ms", is / 1000, was / 1000);
    }
  }
}

static void
look_at_days(Look* const look, const LookView* const view)
{
  const size_t  n = view->totals->n_totals;
  const int32_t last =
    n ? view->totals->totals[n - 1].session.day : view->set_day;
  const int days = (int)(view->today - last);
  if (days >= LOOK_AWAY_DAYS) {
    say(look,
        n ? "not practised for %d days" : "never practised, set %d days ago",
        days);
  }
}

Look
look_at(const LookView* const view)
{
  Look look = {.n_reasons = 0};
  look_at_falls(&look, view);
  look_at_drops(&look, view);
  look_at_days(&look, view);
  return look;
}
