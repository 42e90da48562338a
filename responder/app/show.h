/// @file responder/app/show.h Playing live at a terminal: what it is opened
/// by, and a session shown as it goes.

#ifndef RESPONDER_APP_SHOW_H
#define RESPONDER_APP_SHOW_H

#include "profiles/choices/choices.h"
#include "responder/app/options.h"
#include "responder/app/tap.h"
#include "responder/app/typed.h"
#include "responder/lesson/playing.h"
#include "responder/record/drive.h"

#include <stdbool.h>
#include <stdio.h>

/// The options that every live command knows.
#define SHOW_OPTIONS                                                           \
  (OPTION_BIT(OPTION_IN) | OPTION_BIT(OPTION_OUT) |                            \
   OPTION_BIT(OPTION_VIRTUAL) | OPTION_BIT(OPTION_MIDI) |                      \
   OPTION_BIT(OPTION_SOUNDFONT) | OPTION_BIT(OPTION_THRU) |                    \
   OPTION_BIT(OPTION_CLICK) | OPTION_BIT(OPTION_SYNC) |                        \
   OPTION_BIT(OPTION_RECORD) | OPTION_BIT(OPTION_CONTROL))

/// What lasts through all sessions of one start; keep it in place.
typedef struct {
  Playing  playing;
  Typed    typed;
  Tap      tap;
  Choices* choices;   ///< What keys change; the caller's
  unsigned steering;  ///< Gestures that do what such keys do: GESTURE_BIT()
  bool     is_course; ///< Of things that come one after the other
  bool     has_next;  ///< ... of which another comes
  bool     is_paused; ///< By a key
  bool     leaves;    ///< By a key
} Show;

/// Open ports and sound as the options say, and tell which; else say the fault.
/// @param choices Those of the first session.
/// @return The exit status.
int
show_open(Show* show, const Options* options, const Choices* choices);

/// Return where to say which keys there are: to the terminal, wherever the rest
/// goes.
FILE*
show_hints(void);

/// Close what was opened.
void
show_close(Show* show);

/// Whether the player can be waited for: by a key of the terminal or by their
/// control.
bool
show_can_wait(const Show* show);

/**
   Wait until the player begins; keys change tempo and rung meanwhile, and are
   told of.

   @param choices As they are changed.
   @return Whether they do: not when they leave, or their patience ends.
*/
bool
show_wait(Show* show, Choices* choices);

/// Show a session that has begun, until it does not go on.
/// @param kept NULL: it is one of which nothing is kept.
/// @param hear_turn Told of each turn; may be NULL.
void
show_session(Show*                 show,
             const SessionOptions* session,
             PlayingSession*       kept,
             TurnListener          hear_turn,
             void*                 context,
             StageResult*          result);

/// Play a session of which nothing is kept, to its end; return the exit status.
int
show_drill(Show* show, const SessionOptions* session, StageResult* result);

/// Write the form of a session that is kept and has begun, and show it as
/// show_session() does; it is still to be ended.
void
show_kept(Show* show, PlayingSession* session, StageResult* result);

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
  int (*play)(void* context, Show* show, unsigned index, StageResult* result);
  void* context;
} Course;

/// Open ports and sound, play to the end, a signal or a gesture, and close;
/// return the exit status.
int
show_course(const Course* course);

#endif // RESPONDER_APP_SHOW_H
