/// @file responder/lesson/listen.h A take heard, phrase by phrase: nobody
/// answers.

#ifndef RESPONDER_LESSON_LISTEN_H
#define RESPONDER_LESSON_LISTEN_H

#include "core/attributes.h"
#include "core/status.h"
#include "responder/hear/hear.h"
#include "responder/hear/ideas.h"
#include "responder/record/drive.h"
#include "responder/record/report.h"
#include "responder/record/take.h"
#include "responder/session/remark.h"
#include "responder/session/summary.h"
#include "responder/setup/setup.h"

/// What hearing a take needs, and what comes of it; about 200 KiB, keep it in
/// place.
typedef struct {
  HearWork     work;
  Acquaintance player;
  Ideas        ideas;
  Remarks      remarks;
  TurnRecord   record;
  Summary      summary;
} Listening;

/// Return where hearing ends: choruses enough for any take, few enough for a
/// stray note at the end of time.
Tick
listen_end(const Setup* setup);

/**
   Hear a take, cut into turns that are all the player's.

   @param setup Loaded.
   @param[out] listening Its summary is of all of it.
   @param hear_turn Told of each turn; may be NULL.
   @param report Turns and summary are added to it; NULL: none is wanted.
*/
void
listen_to_take(Listening*   listening,
               const Setup* setup,
               const Take*  take,
               Report*      report,
               TurnListener hear_turn,
               void*        context);

#endif // RESPONDER_LESSON_LISTEN_H
