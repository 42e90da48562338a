#include "responder/page/progress.h"

#include "profiles/journal/day.h"
#include "responder/lesson/progress_view.h"
#include "responder/lesson/today.h"
#include "responder/page/task.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ROWS = 12, CELL = 32 };

static const double ms_a_minute = 60000.0;

// Words

__attribute__((format(printf, 2, 3))) static void
add(json_t* const list, const char* const format, ...)
{
  char    line[PROGRESS_MISSING_CAPACITY];
  va_list args;
  va_start(args, format);
  (void)vsnprintf(line, sizeof(line), format, args);
  va_end(args);
  (void)json_array_append_new(list, json_string(line));
}

static const char*
plural(const unsigned n)
{
  return n == 1 ? "" : "s";
}

static json_t*
words_of(const ProgressView* const view, const Progress* const ever)
{
  const Progress* const progress = &view->progress;
  json_t* const         words    = json_array();
  if (!ever->days) {
    add(words, "No practice yet; this is where it will show.");
    return words;
  }
  if (!progress->days) {
    add(words, "There was no practice in this span.");
  } else {
    add(words,
        "Practice on %u day%s of it, %.0f min in all, in %u session%s.",
        progress->days,
        plural(progress->days),
        (double)progress->length_ms / ms_a_minute,
        progress->sessions,
        plural(progress->sessions));
  }
  if (ever->days_in_a_row) {
    add(words,
        "%u day%s in a row now, %u at the longest; a day missed in a week does "
        "not count.",
        ever->days_in_a_row,
        plural(ever->days_in_a_row),
        ever->longest_row);
  }
  if (view->missing.n_turns) {
    char text[PROGRESS_MISSING_CAPACITY];
    add(words, "%s", progress_missing(&view->missing, text));
  }
  if (view->who->has_stand) {
    const Learner* const learner = &view->who->learner;
    char                 text[RUNG_TEXT_CAPACITY];
    const Rung           rung = learner_hold(learner, view->who->stand.rung);
    add(words,
        "%s stands on the rungs %s.",
        learner->name,
        rung_words(rung, text));
  }
  return words;
}

// The table: numbers as they are, null where nothing tells

static json_t*
rounded(const double value, const double factor)
{
  return isnan(value) ? json_null() : json_integer(llround(factor * value));
}

static json_t*
row_of(const ProgressSpan* const span)
{
  const uint8_t* const level = span->rung.level;
  char                 day[DAY_TEXT_CAPACITY];
  json_t* const        row =
    json_pack("{ss si so so so so so so}",
              "from",
              day_text(span->first_day, day),
              "days",
              (int)span->days,
              "minutes",
              rounded((double)span->length_ms, 1.0 / ms_a_minute),
              "landed",
              rounded(span->landed, 100.0),
              "success",
              rounded(span->success, 100.0),
              "spread_ms",
              rounded(span->spread_ms, 1.0),
              "space",
              rounded(span->space, 100.0),
              "swing",
              isnan(span->swing) ? json_null()
                                 : json_real(round(10.0 * span->swing) / 10.0));
  if (span->has_stand) {
    (void)json_object_set_new(
      row, "rung", json_pack("[iiii]", level[0], level[1], level[2], level[3]));
  }
  return row;
}

static json_t*
table_of(const ProgressView* const view)
{
  static const char* const grains[] = {"day", "week of", "month of"};
  json_t* const            rows     = json_array();
  ProgressSpans* const     spans    = malloc(sizeof(*spans));
  const ProgressGrain      grain    = progress_grain(&view->progress, ROWS);
  if (spans) {
    progress_spans(spans, &view->totals, grain);
    const size_t first = spans->n_spans > ROWS ? spans->n_spans - ROWS : 0;
    for (size_t i = first; i < spans->n_spans; ++i) {
      (void)json_array_append_new(rows, row_of(&spans->spans[i]));
    }
  }
  free(spans);
  return json_pack("{ss so}", "grain", grains[grain], "rows", rows);
}

static json_t*
moves_of(const JournalMoves* const moves, const int32_t from)
{
  json_t* const list = json_array();
  for (size_t i = 0; i < moves->n_moves && moves->moves[i].day >= from; ++i) {
    char day[DAY_TEXT_CAPACITY];
    (void)json_array_append_new(list,
                                json_pack("{ss ss}",
                                          "when",
                                          day_text(moves->moves[i].day, day),
                                          "text",
                                          moves->moves[i].moved));
  }
  return list;
}

static json_t*
goals_of(const Learner* const learner)
{
  json_t* const list = json_array();
  for (unsigned i = 0; i < learner->n_goals; ++i) {
    (void)json_array_append_new(list, json_string(learner->goals[i]));
  }
  return list;
}

// What was practised before a day is left out
static void
cut(ProgressView* const view, const int32_t from)
{
  JournalTotals* const totals = &view->totals;
  size_t               n      = 0;
  for (size_t i = 0; i < totals->n_totals; ++i) {
    if (totals->totals[i].session.day >= from) {
      totals->totals[n++] = totals->totals[i];
    }
  }
  totals->n_totals = n;
  view->progress   = progress_of(totals, view->today);
}

static json_t*
show(ProgressView* const view, const int32_t days, const char* const folder)
{
  const Progress ever = view->progress;
  const int32_t  from = view->today - days + 1;
  char           path[PLACE_PATH_CAPACITY];
  size_t         size = 0;
  Fault          ignored;
  cut(view, from);
  (void)snprintf(path, sizeof(path), "%s/progress.svg", folder);
  const bool is_drawn =
    view->totals.n_totals && !progress_draw(view, path, &ignored);
  char* const   svg  = is_drawn ? task_read_file(path, &size) : NULL;
  json_t* const made = json_pack("{so so so so ss?}",
                                 "words",
                                 words_of(view, &ever),
                                 "table",
                                 table_of(view),
                                 "moves",
                                 moves_of(&view->moves, from),
                                 "goals",
                                 goals_of(&view->who->learner),
                                 "svg",
                                 svg);
  free(svg);
  return made;
}

static json_t*
make(Task* const task, const char* const folder)
{
  ProgressView view;
  Fault        fault;
  if (progress_view_read(&view, &task->who, today(), task->number, &fault)) {
    return task_fail(task, &fault);
  }
  json_t* const made = show(&view, (int32_t)task->number, folder);
  progress_view_free(&view);
  return made;
}

json_t*
progress_show(Page* const page, WireCall* const call)
{
  const WireValue* const days = &call->values[0];
  Task* const            task = task_begin(page, call, make);
  if (!task) {
    return NULL;
  }
  task->number = days->is_there ? (unsigned)days->number : PROGRESS_RECENT;
  return task_give(page, task, call);
}
