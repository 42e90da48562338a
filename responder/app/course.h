/// @file responder/app/course.h Things played live one after the other: drills,
/// ideas. The player's control repeats one, goes on, or leaves.

#ifndef RESPONDER_APP_COURSE_H
#define RESPONDER_APP_COURSE_H

#include "responder/app/options.h"
#include "responder/app/sitting.h"
#include "responder/app/who.h"
#include "responder/session/script.h"
#include "responder/setup/setup.h"

/// What is played. Each is told before it begins.
typedef struct {
  const Options* options;
  Who*           who;
  Setup*         setup; ///< A gesture may change its tempo
  unsigned       n;     ///< How many there are
  void (*tell)(void* teller, unsigned index);
  void* teller;
  /// Play one; return the exit status. GESTURE_STOP in the result leaves.
  int (*play)(void*          player,
              const Sitting* sitting,
              unsigned       index,
              StageResult*   result);
  void* player;
} Course;

/// Open ports and sound, play to the end, a signal or a gesture, and close;
/// return the exit status.
int
course_run(const Course* course);

/**
   Return a session in which the partner begins and plays what is written.

   @param chart One turn of each after the other, `bars` long; it and the script
   outlive the session.
*/
SessionOptions
course_session(const Setup*  setup,
               const Chart*  chart,
               unsigned      bars,
               const Script* script);

/// Play such a session, which is not kept; return the exit status. `hear_turn`
/// may be NULL.
int
course_perform(const Sitting*        sitting,
               const SessionOptions* session,
               void (*hear_turn)(void* player, const TurnRecord* record),
               void*        player,
               StageResult* result);

#endif // RESPONDER_APP_COURSE_H
