/// @file responder/app/sitting.h What the live commands share: the stage with
/// its equipment, and one session on it with its recording and its journal.

#ifndef RESPONDER_APP_SITTING_H
#define RESPONDER_APP_SITTING_H

#include "core/settings/places.h"
#include "responder/app/equipment.h"
#include "responder/app/options.h"
#include "responder/app/practice.h"
#include "responder/app/who.h"
#include "responder/record/drive.h"
#include "responder/record/recorded.h"
#include "responder/session/summary.h"
#include "responder/setup/setup.h"
#include "responder/stage/stage.h"

#include <stdbool.h>

/// The options that every live command knows.
#define SITTING_OPTIONS                                                        \
  (OPTION_BIT(OPTION_IN) | OPTION_BIT(OPTION_OUT) |                            \
   OPTION_BIT(OPTION_VIRTUAL) | OPTION_BIT(OPTION_MIDI) |                      \
   OPTION_BIT(OPTION_SOUNDFONT) | OPTION_BIT(OPTION_THRU) |                    \
   OPTION_BIT(OPTION_CLICK) | OPTION_BIT(OPTION_SYNC) |                        \
   OPTION_BIT(OPTION_RECORD) | OPTION_BIT(OPTION_CONTROL))

/// What lasts through all sessions of one start; keep it in place.
typedef struct {
  const Options* options;
  Who*           who; ///< Found by the caller
  Equipment      equipment;
  Guardian       guardian;
  Stage*         stage;
  char           folder[PLACE_PATH_CAPACITY]; ///< Empty: nothing is recorded
} Sitting;

/// One session.
typedef struct {
  Setup*      setup; ///< Loaded by the caller
  const char* kind;  ///< `trade`, as the journal and the recording are named
  bool        is_practice;
  // Written by sitting_play()
  char      path[PLACE_PATH_CAPACITY];
  Recorded  recorded;
  Summary   summary;
  Practice  practice;
  StageNews news;
} SittingSession;

/**
   Open ports and sound, and say which; before any library makes a thread.

   @param sitting `options` and `who` set.
   @param choices Those of the first session.
   @return EXIT_DONE, with sitting_close() to come; else the exit status, with
   what is wrong told.
*/
int
sitting_open(Sitting* sitting, const Choices* choices);

/// Close what was opened.
void
sitting_close(Sitting* sitting);

/// Play a session to an end of some kind, keep it and tell what came of it;
/// return the exit status.
int
sitting_play(const Sitting*  sitting,
             SittingSession* session,
             StageResult*    result);

/// Play, and show it as it goes; `listener` may be NULL. Return as
/// stage_begin().
MUST_USE Status
sitting_perform(const Sitting*     sitting,
                const Performance* performance,
                StageNews*         news,
                TurnListener       listener,
                void*              context,
                StageResult*       result);

/// Let a gesture of the player's change what is played next.
void
sitting_obey(Choices* choices, Gesture gesture);

#endif // RESPONDER_APP_SITTING_H
