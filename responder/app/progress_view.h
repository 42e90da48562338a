/// @file responder/app/progress_view.h The way come, to be told: in words, as
/// JSON, as a picture.

#ifndef RESPONDER_APP_PROGRESS_VIEW_H
#define RESPONDER_APP_PROGRESS_VIEW_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/progress/progress.h"
#include "responder/app/who.h"

#include <stdint.h>
#include <stdio.h>

enum { PROGRESS_MOVES = 5 }; ///< Of the ladder that are told in lines

/// All there is to tell.
typedef struct {
  const Who*           who;
  int32_t              today;
  const JournalTotals* totals;
  Progress             progress;
  JournalMoves         moves;
} ProgressView;

/// Tell it in lines of up to 80 characters.
void
progress_tell(FILE* stream, const ProgressView* view);

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

#endif // RESPONDER_APP_PROGRESS_VIEW_H
