/// @file responder/lesson/playing.h Playing live: the stage with its equipment,
/// and one session after another on it, with its recording and its journal.
///
/// Threads: one thread calls what is here; nothing in it waits but
/// playing_end(), for the last chord to ring.

#ifndef RESPONDER_LESSON_PLAYING_H
#define RESPONDER_LESSON_PLAYING_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/places.h"
#include "core/status.h"
#include "responder/lesson/equipment.h"
#include "responder/lesson/notices.h"
#include "responder/lesson/practice.h"
#include "responder/record/recorded.h"
#include "responder/session/summary.h"
#include "responder/stage/stage.h"

#include <stdbool.h>

/// What is wished for, beside what is chosen.
typedef struct {
  EquipmentWish equipment;
  const char*   record;   ///< A folder, or `none`; NULL: the usual one
  unsigned      steering; ///< Gestures that end no session (stage.h)
  bool          thru;     ///< Sound the player's own keys
  bool          click;    ///< In the player's turns
  bool          sync;     ///< Send clock, start and stop
} PlayingWish;

/// What lasts through all sessions of one start; keep it in place.
typedef struct {
  PlayingWish wish;
  Equipment   equipment;
  Guardian    guardian;
  Stage*      stage;
  char        folder[PLACE_PATH_CAPACITY]; ///< Empty: nothing is recorded
  StageNews   news;
} Playing;

/// One session that is recorded, and kept in the journal where it is practice.
typedef struct {
  char        path[PLACE_PATH_CAPACITY]; ///< Empty: it is not recorded
  Recorded    recorded;
  Summary     summary;
  Practice    practice; ///< Its stand is where the learner stands after it
  bool        has_turn; ///< One that the journal is to take
  JournalTurn turn;
  Fault       kept; ///< STATUS_OK as long as the journal took every turn
} PlayingSession;

/**
   Open ports and sound; before any library makes a thread.

   @param choices Those of the first session.
   @param[out] playing Give it to playing_close() on success.
   @param notices What cannot be had, and is gone on without.
   @return STATUS_OK; else the fault is written.
*/
MUST_USE Status
playing_open(Playing*           playing,
             const PlayingWish* wish,
             const Choices*     choices,
             Notices*           notices,
             Fault*             fault);

/// Close what was opened.
void
playing_close(Playing* playing);

/**
   Begin a session that is kept.

   @param setup Loaded for it; outlives it.
   @param kind `trade`, as the journal and the recording are named.
   @param who Who practises; NULL: it is no practice.
   @return STATUS_OK; else the fault is written and nothing began.
*/
MUST_USE Status
playing_begin(Playing*        playing,
              PlayingSession* session,
              const Setup*    setup,
              const char*     kind,
              const Who*      who,
              Fault*          fault);

/**
   Begin to try an idea: a session that is no practice, and recorded to be heard
   again, not made again.

   @param setup Of the phrase.
   @param of_try Outlives the session.
   @return STATUS_OK; else the fault is written and nothing began.
*/
MUST_USE Status
playing_begin_try(Playing*              playing,
                  PlayingSession*       session,
                  const Setup*          setup,
                  const SessionOptions* of_try,
                  Fault*                fault);

/// Begin a session of which nothing is kept: a drill; it outlives the session.
/// STATUS_OK, or the fault is written.
MUST_USE Status
playing_begin_drill(Playing*              playing,
                    const SessionOptions* session,
                    Fault*                fault);

/// Whether it goes on; see stage_goes_on().
bool
playing_goes_on(Playing* playing, StageResult* result);

/// Take what is new, to be looked at before the next; NULL if nothing is. Then
/// keep it.
/// @param session NULL: it is one of which nothing is kept.
const StageNews*
playing_take_news(Playing* playing, PlayingSession* session);

/// Write the turn that was taken last, if one was, into the journal; it is on
/// the disk when this returns.
void
playing_keep(PlayingSession* session);

/// End a session that does not go on, after its news were taken.
/// @param session As above.
void
playing_end(Playing* playing, PlayingSession* session, StageResult* result);

/// Let a gesture of the player's change what is played next: easier, harder,
/// slower, faster.
void
playing_obey(Choices* choices, Gesture gesture);

/// Return what comes after the one of `n` things that was played: itself again,
/// the next, or `n`: nothing.
unsigned
playing_next(unsigned index, unsigned n, const StageResult* result);

#endif // RESPONDER_LESSON_PLAYING_H
