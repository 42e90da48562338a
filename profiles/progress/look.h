/// @file profiles/progress/look.h Whether someone needs a look, and why.
///
/// Plain values, worked out from the journal; what day it is is told.

#ifndef PROFILES_PROGRESS_LOOK_H
#define PROFILES_PROGRESS_LOOK_H

#include "profiles/journal/journal.h"

#include <stdint.h>

enum {
  LOOK_TEXT_CAPACITY = 160,
  LOOK_AWAY_DAYS     = 7,  ///< So long without practice needs a look,
  LOOK_FALLS         = 2,  ///< and so many steps down, with none up since,
  LOOK_FALL_DAYS     = 14, ///< ... of so many days, today among them;
  LOOK_SESSIONS      = 3,  ///< and much less in the latest sessions
  LOOK_BEFORE        = 5,  ///< ... than in so many before, or fewer
};

/// What is known of one person.
typedef struct {
  const JournalTotals* totals;
  const JournalMoves*  moves;
  int32_t              set_day; ///< When what is set for them was last written,
  int32_t              today;   ///< ... and today: days since 1970-01-01
} LookView;

typedef struct {
  unsigned n_reasons; ///< 0: they need none
  char     text[LOOK_TEXT_CAPACITY];
} Look;

/// Look at one person.
Look
look_at(const LookView* view);

#endif // PROFILES_PROGRESS_LOOK_H
