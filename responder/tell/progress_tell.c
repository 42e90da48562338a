#include "responder/tell/progress_tell.h"

#include "profiles/journal/day.h"
#include "responder/tell/tell.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

enum { ROWS_TOLD = 12, CELL_TEXT = 16 };

static const int64_t minute_ms = 60000;

static int64_t
minutes(const int64_t ms)
{
  return (ms + minute_ms / 2) / minute_ms;
}

static const char*
plural(const uint64_t n)
{
  return n == 1 ? "" : "s";
}

// The head

static void
tell_days(FILE* const stream, const Progress* const progress)
{
  (void)fprintf(stream,
                "  days       %u of the last 7, %u of the last %d; %u in all\n",
                progress->days_this_week,
                progress->days_lately,
                PROGRESS_RECENT,
                progress->days);
  (void)fprintf(stream, "  in a row   ");
  if (progress->days_in_a_row) {
    (void)fprintf(stream,
                  "%u day%s",
                  progress->days_in_a_row,
                  plural(progress->days_in_a_row));
  } else {
    (void)fprintf(stream, "none now; the next day of practice begins again");
  }
  (void)fprintf(stream,
                "; the longest %u (a day missed in a week does not count)\n",
                progress->longest_row);
  (void)fprintf(stream,
                "  time       %" PRId64 " min in the last 7 days, %" PRId64
                " in the last %d; %.1f h in all\n",
                minutes(progress->length_ms_this_week),
                minutes(progress->length_ms_lately),
                PROGRESS_RECENT,
                (double)progress->length_ms / 60.0 / (double)minute_ms);
}

static void
tell_stand(FILE* const stream, const Who* const who)
{
  char text[RUNG_TEXT_CAPACITY];
  if (who->has_stand) {
    (void)fprintf(
      stream,
      "  stands on  %s\n",
      rung_words(learner_hold(&who->learner, who->stand.rung), text));
  }
}

// The table

static const char*
cell(char text[CELL_TEXT], const double value, const char* const format)
{
  if (isnan(value)) {
    return "-";
  }
  (void)snprintf(text, CELL_TEXT, format, value);
  return text;
}

static const char*
percent(char text[CELL_TEXT], const double share)
{
  return cell(text, 100.0 * share, "%.0f %%");
}

/// Write when a span began, a month without its day.
static const char*
span_text(const ProgressGrain grain,
          const ProgressSpan* span,
          char                text[DAY_TEXT_CAPACITY])
{
  (void)day_text(span->first_day, text);
  if (grain == PROGRESS_MONTHS) {
    *strrchr(text, '-') = '\0';
  }
  return text;
}

/// Return how many weeks or months lie between two with practice.
static unsigned
spans_between(const ProgressGrain grain, const int32_t from, const int32_t to)
{
  const Date one   = day_date(from);
  const Date other = day_date(to);
  const int  months =
    12 * (other.year - one.year) + (int)other.month - (int)one.month;
  return grain == PROGRESS_DAYS    ? 0
         : grain == PROGRESS_WEEKS ? (unsigned)(to - from) / DAYS_PER_WEEK - 1
                                   : (unsigned)months - 1;
}

static void
tell_gap(FILE* const stream, const ProgressGrain grain, const unsigned n)
{
  if (n) {
    (void)fprintf(stream,
                  "  (%u %s%s without)\n",
                  n,
                  grain == PROGRESS_WEEKS ? "week" : "month",
                  plural(n));
  }
}

static void
tell_row(FILE* const               stream,
         const ProgressGrain       grain,
         const ProgressSpan* const span)
{
  char day[DAY_TEXT_CAPACITY];
  char cells[5][CELL_TEXT];
  (void)fprintf(stream,
                "  %-10s %4u %4" PRId64 " %7s %8s %7s %6s %7s",
                span_text(grain, span, day),
                span->days,
                minutes(span->length_ms),
                percent(cells[0], span->landed),
                percent(cells[1], span->success),
                cell(cells[2], span->spread_ms, "%.0f ms"),
                percent(cells[3], span->space),
                cell(cells[4], span->swing, "%.1f:1"));
  if (span->has_stand) {
    const uint8_t* const level = span->rung.level;
    (void)fprintf(stream,
                  "  %u %u %u %u",
                  (unsigned)level[DIMENSION_NOTES],
                  (unsigned)level[DIMENSION_RHYTHM],
                  (unsigned)level[DIMENSION_SHAPE],
                  (unsigned)level[DIMENSION_ORNAMENT]);
  }
  (void)fputc('\n', stream);
}

static void
tell_table(FILE* const stream, const ProgressView* const view)
{
  static const char* const firsts[] = {"day", "week of", "month"};
  ProgressSpans            spans;
  progress_spans(
    &spans, &view->totals, progress_grain(&view->progress, ROWS_TOLD));
  (void)fprintf(stream,
                "\n  %-10s %4s %4s %7s %8s %7s %6s %7s  %s\n",
                firsts[spans.grain],
                "days",
                "min",
                "landed",
                "came off",
                "spread",
                "space",
                "swing",
                "rungs");
  const size_t first =
    spans.n_spans > ROWS_TOLD ? spans.n_spans - ROWS_TOLD : 0;
  if (first) {
    (void)fprintf(stream, "  (%zu more before)\n", first);
  }
  for (size_t i = first; i < spans.n_spans; ++i) {
    const ProgressSpan* const span = &spans.spans[i];
    if (i > first) {
      tell_gap(stream,
               spans.grain,
               spans_between(spans.grain, span[-1].first_day, span->first_day));
    }
    tell_row(stream, spans.grain, span);
  }
  (void)fputc('\n', stream);
  tell_words(stream,
             2,
             "landed: aimed at a chord tone; spread: how far from the beat, "
             "give or take; space: share at rest; swing: long to short; rungs: "
             "notes rhythm shape ornament.");
  tell_words(stream, 2, progress_came_off());
  if (view->missing.n_turns) {
    char text[PROGRESS_MISSING_CAPACITY];
    (void)fputc('\n', stream);
    tell_words(stream, 2, progress_missing(&view->missing, text));
  }
}

static void
tell_moves(FILE* const stream, const ProgressView* const view)
{
  const JournalMoves* const moves = &view->moves;
  if (moves->n_moves) {
    (void)fprintf(stream, "\n  The ladder\n");
  }
  for (size_t i = 0; i < moves->n_moves && i < PROGRESS_MOVES; ++i) {
    char day[DAY_TEXT_CAPACITY];
    char line[JOURNAL_SAYS_CAPACITY + DAY_TEXT_CAPACITY];
    (void)snprintf(line,
                   sizeof(line),
                   "%s  %s",
                   day_text(moves->moves[i].day, day),
                   moves->moves[i].moved);
    tell_words(stream, 2, line);
  }
}

static void
tell_goals(FILE* const stream, const Learner* const learner)
{
  for (unsigned i = 0; i < learner->n_goals; ++i) {
    (void)fprintf(
      stream, "%s  - %s\n", i ? "" : "\n  Goals\n", learner->goals[i]);
  }
}

void
progress_tell(FILE* const stream, const ProgressView* const view)
{
  char day[DAY_TEXT_CAPACITY];
  (void)fprintf(
    stream, "%s, %s\n\n", view->who->learner.name, day_text(view->today, day));
  if (!view->progress.days) {
    (void)fprintf(stream, "  No practice yet; this is where it will show.\n");
    tell_goals(stream, &view->who->learner);
    return;
  }
  tell_days(stream, &view->progress);
  tell_stand(stream, view->who);
  tell_table(stream, view);
  tell_moves(stream, view);
  tell_goals(stream, &view->who->learner);
}
