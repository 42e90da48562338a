/// @file responder/lesson/progress_view.h The way come: to be told in words, as
/// JSON, as a picture.

#ifndef RESPONDER_LESSON_PROGRESS_VIEW_H
#define RESPONDER_LESSON_PROGRESS_VIEW_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/progress/progress.h"
#include "responder/lesson/who.h"
#include "responder/session/outcome.h"

#include <stdint.h>

enum {
  PROGRESS_MISSING_CAPACITY = 320,
  PROGRESS_ALL_DAYS         = 36500 ///< So many are all there are
};

/// Why turns did not come off; one may have missed several.
typedef struct {
  unsigned days; ///< The last ones, today among them, that are counted
  unsigned n_judged;
  unsigned n_turns; ///< Of these that did not come off
  unsigned n[N_OUTCOME_REASONS];
  unsigned n_goals; ///< That missed the goal of a way of playing
} ProgressMissing;

/// All there is to tell; give it to progress_view_free().
typedef struct {
  const Who*      who;
  int32_t         today;
  JournalTotals   totals;
  Progress        progress;
  JournalMoves    moves;
  ProgressMissing missing;
} ProgressView;

/**
   Read what was practised; nothing is there to read before the first time.

   @param who Outlives the view.
   @param day The day that it is looked at, days since 1970-01-01.
   @param days Before it, that it is counted over what was missing.
   @param[out] view Written on success only.
   @return STATUS_OK, or that of the journal with the fault written.
*/
MUST_USE Status
progress_view_read(ProgressView* view,
                   const Who*    who,
                   int32_t       day,
                   unsigned      days,
                   Fault*        fault);

void
progress_view_free(ProgressView* view);

/// Return it as JSON without a line's end, to be freed: `"format":
/// "barter-progress", "version": 1`; NULL when there is no memory.
MUST_USE char*
progress_report(const ProgressView* view);

/**
   Draw it into a file: `.svg`, `.png` or `.pdf`.

   @return STATUS_OK; STATUS_RANGE if the name ends otherwise; STATUS_SYSTEM or
   STATUS_MEMORY with the fault written.
*/
MUST_USE Status
progress_draw(const ProgressView* view, const char* path, Fault* fault);

/// Say why turns did not come off, in a sentence; empty if all did. Return
/// `text`.
const char*
progress_missing(const ProgressMissing* missing,
                 char                   text[PROGRESS_MISSING_CAPACITY]);

/// Return when a turn is said to have come off, a sentence.
const char*
progress_came_off(void);

#endif // RESPONDER_LESSON_PROGRESS_VIEW_H
