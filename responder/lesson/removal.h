/// @file responder/lesson/removal.h Who is removed, and for how long it can be
/// taken back.
///
/// An export of who is removed is kept for REMOVAL_DAYS in a folder of its own
/// among our data, for its owner alone. Recordings stay where they are, and a
/// list of whose they were is kept. Then all of it goes, but for what is of
/// somebody who is here again.

#ifndef RESPONDER_LESSON_REMOVAL_H
#define RESPONDER_LESSON_REMOVAL_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/places.h"
#include "core/status.h"
#include "profiles/learner/people.h"

#include <stdbool.h>
#include <stdint.h>

enum { REMOVAL_DAYS = 30 };

/// What became of the recordings of who is removed for good.
typedef struct {
  unsigned n_recordings; ///< That went
  bool     leaves_any;   ///< Listed for another time: a journal of another
                         ///< cannot be read, and it may name them
} Removed;

/**
   Remove all that is kept of a person, once an export of it is kept.

   @param day Today, days since 1970-01-01.
   @param[out] path Of the export; written on success only.
   @return STATUS_OK; else nothing is removed, and the fault is written.
*/
MUST_USE Status
removal_keep(const Person* person,
             int32_t       day,
             char          path[PLACE_PATH_CAPACITY],
             Fault*        fault);

/**
   Remove all that is kept of a person, exports of earlier removals and the
   recordings of their sessions among it, but for those that another journal
   names, too. Who is not there any more may still have these.

   @return STATUS_OK; STATUS_MISSING if there is nothing of that ID; else the
   fault is written.
*/
MUST_USE Status
removal_for_good(const Person* person, Removed* removed, Fault* fault);

/// Let exports and recordings go that were kept for long enough. What cannot be
/// seen to is left for another time.
void
removal_look(int32_t day);

#endif // RESPONDER_LESSON_REMOVAL_H
