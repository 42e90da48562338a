/// @file responder/app/show.h Playing live at a terminal: what it is opened
/// by, and a session shown as it goes.

#ifndef RESPONDER_APP_SHOW_H
#define RESPONDER_APP_SHOW_H

#include "responder/app/options.h"
#include "responder/lesson/playing.h"
#include "responder/record/drive.h"

/// The options that every live command knows.
#define SHOW_OPTIONS                                                           \
  (OPTION_BIT(OPTION_IN) | OPTION_BIT(OPTION_OUT) |                            \
   OPTION_BIT(OPTION_VIRTUAL) | OPTION_BIT(OPTION_MIDI) |                      \
   OPTION_BIT(OPTION_SOUNDFONT) | OPTION_BIT(OPTION_THRU) |                    \
   OPTION_BIT(OPTION_CLICK) | OPTION_BIT(OPTION_SYNC) |                        \
   OPTION_BIT(OPTION_RECORD) | OPTION_BIT(OPTION_CONTROL))

/// Open ports and sound, and say which; give it to playing_close() on success.
/// @param choices Those of the first session.
/// @return The exit status.
int
show_open(Playing* playing, const Options* options, const Choices* choices);

/// Show a session that has begun, until it does not go on.
/// @param kept NULL: it is one of which nothing is kept.
/// @param hear_turn Told of each turn; may be NULL.
void
show_session(Playing*              playing,
             const SessionOptions* session,
             PlayingSession*       kept,
             TurnListener          hear_turn,
             void*                 context,
             StageResult*          result);

/// Play a session of which nothing is kept, to its end; return the exit status.
int
show_drill(Playing*              playing,
           const SessionOptions* session,
           StageResult*          result);

/// Write the form of a session that is kept and has begun, and show it as
/// show_session() does; it is still to be ended.
void
show_kept(Playing* playing, PlayingSession* session, StageResult* result);

/// Tell what came of a session that has ended; return the exit status.
int
show_result(const PlayingSession* session, const StageResult* result);

/// Things that are played one after the other. The player's control repeats
/// one, goes on, or leaves.
typedef struct {
  const Options* options;
  Choices*       choices; ///< A gesture may change their tempo
  unsigned       n;       ///< How many there are
  /// Tell of one before it begins.
  void (*tell)(void* context, unsigned index);
  /// Play one; return the exit status. GESTURE_STOP in the result leaves.
  int (*play)(void*        context,
              Playing*     playing,
              unsigned     index,
              StageResult* result);
  void* context;
} Course;

/// Open ports and sound, play to the end, a signal or a gesture, and close;
/// return the exit status.
int
show_course(const Course* course);

#endif // RESPONDER_APP_SHOW_H
