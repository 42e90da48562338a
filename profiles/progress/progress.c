#include "profiles/progress/progress.h"

#include "profiles/journal/day.h"

#include <math.h>

// Days in a row

/// A run of days of practice with the missed days that it bridges.
typedef struct {
  int32_t  last; ///< Day of practice
  int32_t  miss; ///< The latest day that was bridged
  bool     has_miss;
  unsigned days;       ///< Of practice in the run
  unsigned since_miss; ///< ... after the latest miss
  unsigned longest;
} Run;

/// Bridge a missed day; the run goes on from behind the miss before if that
/// was too near.
static void
bridge(Run* const run, const int32_t miss)
{
  if (run->has_miss && miss - run->miss < PROGRESS_GAP_DAYS) {
    run->days = run->since_miss;
  }
  run->has_miss   = true;
  run->miss       = miss;
  run->since_miss = 0;
}

/// Go on to the next day of practice.
static void
run_on(Run* const run, const int32_t day)
{
  const int32_t gap = day - run->last;
  if (run->days && gap == 2) {
    bridge(run, day - 1);
  } else if (gap > 2) {
    *run = (Run){.longest = run->longest};
  }
  run->last = day;
  ++run->days;
  ++run->since_miss;
  if (run->days > run->longest) {
    run->longest = run->days;
  }
}

/// Return how many days a run counts today.
static unsigned
run_today(Run run, const int32_t today)
{
  const int32_t gap = today - run.last;
  if (gap > 2) {
    return 0;
  }
  if (gap == 2) {
    bridge(&run, today - 1);
  }
  return run.days;
}

/// Return the day of a session. Days never go back: who travels west may begin
/// a session on the day before that of the last.
static int32_t
day_after(const JournalTotal* const total, const int32_t last)
{
  return total->session.day > last ? total->session.day : last;
}

// The whole

static bool
is_within(const int32_t day, const int32_t today, const int32_t n_days)
{
  return day > today - n_days && day <= today;
}

static void
add_day(Progress* const progress, const int32_t day, const int32_t today)
{
  ++progress->days;
  progress->days_this_week += is_within(day, today, DAYS_PER_WEEK);
  progress->days_lately += is_within(day, today, PROGRESS_RECENT);
}

static void
add_session(Progress* const           progress,
            const JournalTotal* const total,
            const int32_t             day,
            const int32_t             today)
{
  const int64_t ms = total->length_ms;
  ++progress->sessions;
  progress->turns += total->turns;
  progress->length_ms += ms;
  progress->length_ms_this_week +=
    is_within(day, today, DAYS_PER_WEEK) ? ms : 0;
  progress->length_ms_lately += is_within(day, today, PROGRESS_RECENT) ? ms : 0;
}

Progress
progress_of(const JournalTotals* const totals, const int32_t today)
{
  Progress progress = {.days = 0};
  Run      run      = {.days = 0};
  int32_t  day      = 0;
  for (size_t i = 0; i < totals->n_totals; ++i) {
    const JournalTotal* const total  = &totals->totals[i];
    const int32_t             before = day;
    day                              = day_after(total, before);
    if (!i) {
      progress.first_day = day;
    }
    if (!i || day != before) {
      add_day(&progress, day, today);
      run_on(&run, day);
    }
    add_session(&progress, total, day, today);
  }
  progress.last_day      = day;
  progress.longest_row   = run.longest;
  progress.days_in_a_row = run.days ? run_today(run, today) : 0;
  return progress;
}

// Spans

/// Sums of a span under way.
typedef struct {
  JournalTotal sums;
  ProgressSpan span;
  int32_t      last_day;
} SpanSums;

static int32_t
span_start(const int32_t day, const ProgressGrain grain)
{
  switch (grain) {
    case PROGRESS_DAYS:
      return day;
    case PROGRESS_WEEKS:
      return day_monday(day);
    case PROGRESS_MONTHS:
      break;
  }
  return day - (int32_t)day_date(day).day + 1;
}

static double
ratio(const int64_t sum, const int64_t n, const double unit)
{
  return n ? (double)sum / (double)n / unit : NAN;
}

static void
add_to_sums(SpanSums* const           sums,
            const JournalTotal* const total,
            const int32_t             day)
{
  JournalTotal* const all = &sums->sums;
  sums->span.days += !sums->span.sessions || day != sums->last_day;
  ++sums->span.sessions;
  sums->last_day = day;
  all->length_ms += total->length_ms;
  all->turns += total->turns;
  all->silent += total->silent;
  all->judged += total->judged;
  all->successes += total->successes;
  all->aimed += total->aimed;
  all->landed += total->landed;
  all->timed += total->timed;
  all->spread_us += total->spread_us;
  all->offset_us += total->offset_us;
  all->space += total->space;
  all->swung += total->swung;
  all->swing += total->swing;
  all->complexity += total->complexity;
  if (total->last) {
    sums->span.has_stand = true;
    sums->span.rung      = total->stand.rung;
  }
}

static ProgressSpan
close_span(const SpanSums* const sums)
{
  const JournalTotal* const all   = &sums->sums;
  const int64_t             heard = all->turns - all->silent;
  ProgressSpan              span  = sums->span;
  span.length_ms                  = all->length_ms;
  span.turns                      = all->turns;
  span.judged                     = all->judged;
  span.landed                     = ratio(all->landed, all->aimed, 1.0);
  span.success                    = ratio(all->successes, all->judged, 1.0);
  span.spread_ms                  = ratio(all->spread_us, all->timed, 1000.0);
  span.offset_ms                  = ratio(all->offset_us, all->timed, 1000.0);
  span.space                      = ratio(all->space, heard, 1000.0);
  span.swing                      = ratio(all->swing, all->swung, 1000.0);
  span.complexity                 = ratio(all->complexity, heard, 1000.0);
  return span;
}

/// Keep a span, in place of the earliest if there are too many.
static void
keep_span(ProgressSpans* const spans, const ProgressSpan* const span)
{
  if (spans->n_spans == PROGRESS_SPANS) {
    for (size_t i = 1; i < PROGRESS_SPANS; ++i) {
      spans->spans[i - 1] = spans->spans[i];
    }
    --spans->n_spans;
  }
  spans->spans[spans->n_spans++] = *span;
}

void
progress_spans(ProgressSpans* const       spans,
               const JournalTotals* const totals,
               const ProgressGrain        grain)
{
  SpanSums sums  = {.last_day = 0};
  int32_t  day   = 0;
  spans->grain   = grain;
  spans->n_spans = 0;
  for (size_t i = 0; i < totals->n_totals; ++i) {
    const JournalTotal* const total = &totals->totals[i];
    day                             = day_after(total, day);
    const int32_t start             = span_start(day, grain);
    if (i && start != sums.span.first_day) {
      const ProgressSpan closed = close_span(&sums);
      keep_span(spans, &closed);
    }
    if (!i || start != sums.span.first_day) {
      sums = (SpanSums){.span.first_day = start};
    }
    add_to_sums(&sums, total, day);
  }
  if (totals->n_totals) {
    const ProgressSpan closed = close_span(&sums);
    keep_span(spans, &closed);
  }
}

ProgressGrain
progress_grain(const Progress* const progress, const unsigned most)
{
  const unsigned days =
    progress->days ? (unsigned)(progress->last_day - progress->first_day) + 1
                   : 0;
  return days <= most                   ? PROGRESS_DAYS
         : days <= most * DAYS_PER_WEEK ? PROGRESS_WEEKS
                                        : PROGRESS_MONTHS;
}
