#include "profiles/progress/progress.h"

#include "core/rng.h"
#include "profiles/journal/day.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DAYS = 400, TODAY = 20000 };

static JournalTotal  practised[4 * DAYS];
static ProgressSpans spans;

/// Practise on the days marked by a cross, up to today: "x.xx".
static JournalTotals
practise(const char* const days)
{
  const size_t  n      = strlen(days);
  JournalTotals totals = {0, practised};
  for (size_t i = 0; i < n; ++i) {
    if (days[i] == 'x') {
      practised[totals.n_totals++] = (JournalTotal){
        .session.day = TODAY - (int32_t)(n - 1 - i), .length_ms = 600000};
    }
  }
  return totals;
}

typedef struct {
  char     days[40]; ///< The last is today
  unsigned in_a_row;
  unsigned longest;
} InARowRow;

// By the sentence that the header says
ParameterizedTestParameters(progress, in_a_row)
{
  static InARowRow rows[] = {
    {"", 0, 0},
    {"x", 1, 1},
    {"xxx", 3, 3},
    {"xxx.", 3, 3},   // Today is not over
    {"xxx..", 3, 3},  // One missed day is bridged
    {"xxx...", 0, 3}, // Two on end are not
    {"xx.xx", 4, 4},  // Bridged
    {"xx..xx", 2, 2}, // Two missed days on end
    {"x.x.x", 2, 2},  // The second miss comes too soon: from behind the first
    {"xx.xxxxx.xx", 7, 7},    // Six days on: too soon still
    {"xx.xxxxxx.xx", 10, 10}, // A week on
    {"xxx.xx..", 2, 5},       // Yesterday's miss comes too soon after the other
    {"xxxxx.....xx", 2, 5},
    {"x.xxxxxx.xxxxxx.xxxxxx.", 19, 19},
  };
  return cr_make_param_array(InARowRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(InARowRow* row, progress, in_a_row)
{
  const JournalTotals totals   = practise(row->days);
  const Progress      progress = progress_of(&totals, TODAY);
  cr_assert_eq(progress.days_in_a_row, row->in_a_row, "%s", row->days);
  cr_assert_eq(progress.longest_row, row->longest, "%s", row->days);
}

// The same by brute force: of all beginnings, the one that counts most

static bool
holds(const char* const days, const int from, const int to)
{
  int before = -100;
  for (int day = from; day <= to; ++day) {
    if (days[day] != 'x') {
      if (day - before < PROGRESS_GAP_DAYS) {
        return false;
      }
      before = day;
    }
  }
  return true;
}

static unsigned
count(const char* const days, const int from, const int to)
{
  unsigned n = 0;
  for (int day = from; day <= to; ++day) {
    n += days[day] == 'x';
  }
  return n;
}

/// Return the days of the best run that begins with practice and lasts up to
/// `to`.
static unsigned
best_up_to(const char* const days, const int to)
{
  unsigned best = 0;
  for (int from = 0; from <= to; ++from) {
    const unsigned n =
      days[from] == 'x' && holds(days, from, to) ? count(days, from, to) : 0;
    best = n > best ? n : best;
  }
  return best;
}

Test(progress, days_in_a_row_agree_with_brute_force)
{
  Rng rng = rng_seed(1, 6);
  for (unsigned round = 0; round < 3000; ++round) {
    char           days[60];
    const int      n    = 1 + (int)rng_below(&rng, 50);
    const uint32_t lazy = 2 + rng_below(&rng, 12);
    for (int i = 0; i < n; ++i) {
      days[i] = rng_below(&rng, lazy) ? 'x' : '.';
    }
    days[n]                      = '\0';
    const JournalTotals totals   = practise(days);
    const Progress      progress = progress_of(&totals, TODAY);
    // Today counts if there was practice, and is not missed otherwise
    const int      last     = days[n - 1] == 'x' ? n - 1 : n - 2;
    const unsigned in_a_row = last >= 0 ? best_up_to(days, last) : 0;
    unsigned       longest  = 0;
    for (int to = 0; to < n; ++to) {
      const unsigned one = days[to] == 'x' ? best_up_to(days, to) : 0;
      longest            = one > longest ? one : longest;
    }
    cr_assert_eq(
      progress.days_in_a_row, in_a_row, "%s: %u", days, progress.days_in_a_row);
    cr_assert_eq(
      progress.longest_row, longest, "%s: %u", days, progress.longest_row);
    cr_assert_eq(progress.days, count(days, 0, n - 1));
  }
}

Test(progress, counts_the_last_days)
{
  const JournalTotals totals =
    practise("xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx");
  const Progress progress = progress_of(&totals, TODAY);
  cr_assert_eq(progress.days, 39);
  cr_assert_eq(progress.days_this_week, 7);
  cr_assert_eq(progress.days_lately, PROGRESS_RECENT);
  cr_assert_eq(progress.length_ms, 39 * 600000);
  cr_assert_eq(progress.length_ms_this_week, 7 * 600000);
  cr_assert_eq(progress.length_ms_lately, PROGRESS_RECENT * 600000);
  cr_assert_eq(progress.first_day, TODAY - 38);
  cr_assert_eq(progress.last_day, TODAY);
}

// Two sessions on a day are one day of practice; a session dated a day back,
// by one who travels, begins no new day
Test(progress, a_day_is_a_day)
{
  practised[0] = (JournalTotal){.session.day = TODAY - 1, .length_ms = 1};
  practised[1] = (JournalTotal){.session.day = TODAY - 1, .length_ms = 1};
  practised[2] = (JournalTotal){.session.day = TODAY, .length_ms = 1};
  practised[3] = (JournalTotal){.session.day = TODAY - 1, .length_ms = 1};
  const JournalTotals totals   = {4, practised};
  const Progress      progress = progress_of(&totals, TODAY);
  cr_assert_eq(progress.days, 2);
  cr_assert_eq(progress.sessions, 4);
  cr_assert_eq(progress.days_in_a_row, 2);
  cr_assert_eq(progress.length_ms, 4);
}

// Spans

static bool
in_span(const int32_t day, const ProgressSpan* const span)
{
  const Date of_day  = day_date(day);
  const Date of_span = day_date(span->first_day);
  switch (spans.grain) {
    case PROGRESS_DAYS:
      return day == span->first_day;
    case PROGRESS_WEEKS:
      return day_monday(day) == span->first_day;
    case PROGRESS_MONTHS:
      break;
  }
  return of_day.year == of_span.year && of_day.month == of_span.month;
}

static void
check_span(const JournalTotals* const totals, const ProgressSpan* const span)
{
  unsigned sessions = 0;
  double   spread   = 0.0;
  double   timed    = 0.0;
  double   landed   = 0.0;
  double   aimed    = 0.0;
  double   space    = 0.0;
  double   heard    = 0.0;
  for (size_t i = 0; i < totals->n_totals; ++i) {
    const JournalTotal* const total = &totals->totals[i];
    if (in_span(total->session.day, span)) {
      ++sessions;
      spread += (double)total->spread_us / 1000.0;
      timed += (double)total->timed;
      landed += (double)total->landed;
      aimed += (double)total->aimed;
      space += (double)total->space / 1000.0;
      heard += (double)(total->turns - total->silent);
    }
  }
  cr_assert_eq(span->sessions, sessions);
  cr_assert_float_eq(span->spread_ms, spread / timed, 1e-9);
  cr_assert_float_eq(span->landed, landed / aimed, 1e-9);
  cr_assert_float_eq(span->space, space / heard, 1e-9);
}

Test(progress, spans_hold_their_sessions)
{
  Rng           rng    = rng_seed(2, 6);
  JournalTotals totals = {0, practised};
  for (int32_t day = 0; day < DAYS; ++day) {
    for (unsigned i = rng_below(&rng, 3); i > 0; --i) {
      practised[totals.n_totals++] = (JournalTotal){
        .session.day = TODAY - DAYS + day,
        .turns       = 10,
        .silent      = rng_below(&rng, 9),
        .timed       = 1 + rng_below(&rng, 9),
        .spread_us   = rng_below(&rng, 90000),
        .aimed       = 1 + rng_below(&rng, 9),
        .landed      = 1,
        .space       = rng_below(&rng, 9000),
      };
    }
  }
  for (int grain = PROGRESS_DAYS; grain <= PROGRESS_MONTHS; ++grain) {
    unsigned sessions = 0;
    progress_spans(&spans, &totals, (ProgressGrain)grain);
    for (size_t i = 0; i < spans.n_spans; ++i) {
      check_span(&totals, &spans.spans[i]);
      sessions += spans.spans[i].sessions;
      cr_assert(i == 0 ||
                spans.spans[i - 1].first_day < spans.spans[i].first_day);
    }
    // All of them, unless there are more spans than are kept
    cr_assert(sessions == totals.n_totals || spans.n_spans == PROGRESS_SPANS);
    cr_assert_gt(spans.n_spans, 10);
  }
}

Test(progress, what_no_turn_tells_is_not_a_number)
{
  const JournalTotals totals = practise("x");
  progress_spans(&spans, &totals, PROGRESS_DAYS);
  cr_assert_eq(spans.n_spans, 1);
  cr_assert(isnan(spans.spans[0].swing));
  cr_assert(isnan(spans.spans[0].success));
  cr_assert(isnan(spans.spans[0].spread_ms));
  cr_assert_not(spans.spans[0].has_stand);
}

Test(progress, grain_is_as_fine_as_fits)
{
  Progress progress = {.days = 2, .first_day = 100};
  progress.last_day = 111;
  cr_assert_eq(progress_grain(&progress, 12), PROGRESS_DAYS);
  progress.last_day = 112;
  cr_assert_eq(progress_grain(&progress, 12), PROGRESS_WEEKS);
  progress.last_day = 99 + 84;
  cr_assert_eq(progress_grain(&progress, 12), PROGRESS_WEEKS);
  progress.last_day = 100 + 84;
  cr_assert_eq(progress_grain(&progress, 12), PROGRESS_MONTHS);
}
