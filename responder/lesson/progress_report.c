#include "responder/lesson/progress_view.h"

#include "profiles/journal/day.h"

#include <assert.h>
#include <jansson.h>
#include <math.h>

static const double minute_ms = 60000.0;

static json_t*
number(const double value)
{
  return isnan(value) ? json_null()
                      : json_real(round(value * 10000.0) / 10000.0);
}

static json_t*
day(const int32_t value)
{
  char text[DAY_TEXT_CAPACITY];
  return json_string(day_text(value, text));
}

static json_t*
rung_of(const Rung* const rung)
{
  json_t* const object = json_object();
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    json_object_set_new(
      object, dimension_name((Dimension)d), json_integer(rung->level[d]));
  }
  return object;
}

static json_t*
span_of(const ProgressSpan* const span)
{
  return json_pack("{so si si so sI so so so so so so so so}",
                   "first_day",
                   day(span->first_day),
                   "days",
                   (int)span->days,
                   "sessions",
                   (int)span->sessions,
                   "minutes",
                   number((double)span->length_ms / minute_ms),
                   "turns",
                   (json_int_t)span->turns,
                   "landed",
                   number(span->landed),
                   "success",
                   number(span->success),
                   "spread_ms",
                   number(span->spread_ms),
                   "offset_ms",
                   number(span->offset_ms),
                   "space",
                   number(span->space),
                   "swing_ratio",
                   number(span->swing),
                   "complexity",
                   number(span->complexity),
                   "rung",
                   span->has_stand ? rung_of(&span->rung) : json_null());
}

static json_t*
spans_of(const JournalTotals* const totals, const ProgressGrain grain)
{
  ProgressSpans spans;
  json_t* const list = json_array();
  progress_spans(&spans, totals, grain);
  for (size_t i = 0; i < spans.n_spans; ++i) {
    json_array_append_new(list, span_of(&spans.spans[i]));
  }
  return list;
}

static json_t*
moves_of(const ProgressView* const view)
{
  json_t* const list = json_array();
  for (size_t i = 0; i < view->moves.n_moves; ++i) {
    json_array_append_new(list,
                          json_pack("{so si ss}",
                                    "day",
                                    day(view->moves.moves[i].day),
                                    "turn",
                                    (int)view->moves.moves[i].turn,
                                    "moved",
                                    view->moves.moves[i].moved));
  }
  return list;
}

static json_t*
missing_of(const ProgressMissing* const missing)
{
  // In the order of outcome_reason()
  static const char* const keys[] = {"not_landed",
                                     "not_in_time",
                                     "left_notes_hanging",
                                     "left_no_space",
                                     "not_taken_up"};
  static_assert(sizeof(keys) / sizeof(*keys) == N_OUTCOME_REASONS,
                "a key for each reason");
  json_t* const object = json_pack("{si si si si}",
                                   "days",
                                   (int)missing->days,
                                   "judged",
                                   (int)missing->n_judged,
                                   "turns",
                                   (int)missing->n_turns,
                                   "goal_not_met",
                                   (int)missing->n_goals);
  for (unsigned i = 0; i < N_OUTCOME_REASONS; ++i) {
    json_object_set_new(
      object, keys[i], json_integer((json_int_t)missing->n[i]));
  }
  return object;
}

static json_t*
report_of(const ProgressView* const view)
{
  const Progress* const progress = &view->progress;
  const Who* const      who      = view->who;
  return json_pack(
    "{ss si ss ss so si sI s{si si si} s{si si} s{so so so} so so so so so so}",
    "format",
    "barter-progress",
    "version",
    1,
    "learner",
    who->person.id,
    "name",
    who->learner.name,
    "today",
    day(view->today),
    "sessions",
    (int)progress->sessions,
    "turns",
    (json_int_t)progress->turns,
    "days",
    "last_7",
    (int)progress->days_this_week,
    "last_28",
    (int)progress->days_lately,
    "all",
    (int)progress->days,
    "days_in_a_row",
    "now",
    (int)progress->days_in_a_row,
    "longest",
    (int)progress->longest_row,
    "minutes",
    "last_7",
    number((double)progress->length_ms_this_week / minute_ms),
    "last_28",
    number((double)progress->length_ms_lately / minute_ms),
    "all",
    number((double)progress->length_ms / minute_ms),
    "stands_on",
    who->has_stand ? rung_of(&who->stand.rung) : json_null(),
    "by_day",
    spans_of(&view->totals, PROGRESS_DAYS),
    "by_week",
    spans_of(&view->totals, PROGRESS_WEEKS),
    "by_month",
    spans_of(&view->totals, PROGRESS_MONTHS),
    "moves",
    moves_of(view),
    "missing",
    missing_of(&view->missing));
}

char*
progress_report(const ProgressView* const view)
{
  json_t* const report = report_of(view);
  char* const   text =
    report ? json_dumps(report, JSON_INDENT(1) | JSON_REAL_PRECISION(9)) : NULL;
  json_decref(report);
  return text;
}
