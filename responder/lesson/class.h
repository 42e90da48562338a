/// @file responder/lesson/class.h Everybody who is kept, as a teacher looks
/// over them: who practised when, and who needs a look.

#ifndef RESPONDER_LESSON_CLASS_H
#define RESPONDER_LESSON_CLASS_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/faults.h"
#include "core/status.h"
#include "profiles/learner/people.h"
#include "profiles/progress/look.h"
#include "profiles/progress/progress.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct {
  char     id[PEOPLE_ID_CAPACITY];
  char     name[LEARNER_NAME_CAPACITY];
  bool     is_known; ///< What they practised could be read
  Progress progress;
  int32_t  days_away; ///< Since the last day of practice; -1: there is none
  Look     look;
} ClassMember;

/// Give it to class_free().
typedef struct {
  size_t       n;
  ClassMember* members; ///< Owned
} Class;

typedef enum {
  CLASS_BY_ID,
  CLASS_BY_LAST, ///< Of practice, the longest ago first
  CLASS_BY_LOOK, ///< Who needs one most first, else by ID
} ClassOrder;

/// Which of them, in what order.
typedef struct {
  ClassOrder order;
  bool       only_looks; ///< Those who need one
} ClassWish;

/**
   Read everybody.

   @param day Today, days since 1970-01-01.
   @param[out] class_of Written on success only.
   @param faults What of some of them cannot be read; they are told of as far as
   it can.
   @return STATUS_OK; else that of the list, with the fault noted.
*/
MUST_USE Status
class_read(Class* class_of, const ClassWish* wish, int32_t day, Faults* faults);

void
class_free(Class* class_of);

#endif // RESPONDER_LESSON_CLASS_H
