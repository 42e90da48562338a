/// @file responder/stage/stage.h The live side: ports, sound and threads around
/// one session after another.
///
/// Threads: one thread calls what is here. Signals: SIGINT, SIGTERM and SIGHUP
/// are taken between stage_open() and stage_close(), in the whole process.

#ifndef RESPONDER_STAGE_STAGE_H
#define RESPONDER_STAGE_STAGE_H

#include "core/attributes.h"
#include "core/band/part.h"
#include "core/fault.h"
#include "core/status.h"
#include "core/time/realtime.h"
#include "responder/session/session.h"
#include "responder/stage/gesture.h"
#include "responder/stage/guardian.h"
#include "responder/stage/keeper.h"
#include "responder/stage/sender.h"
#include "responder/stage/supervisor.h"

#include <stdbool.h>

/// Opaque; about 5 MiB.
typedef struct Stage Stage;

/// What lasts from session to session.
typedef struct {
  Wiring   wiring;
  Voice    voices[N_PARTS];
  Trigger  control;
  unsigned steering; ///< Gestures that end no session: GESTURE_BIT() of each
  bool     thru;     ///< Sound the player's own keys, at first
  int      speed;    ///< Of time; 1
} StageOptions;

/// One session.
typedef struct {
  const SessionOptions* session;
  bool                  click;
  bool                  sync;
  const Recording*      recording; ///< NULL: nothing is written
} Performance;

/// What there is to show of a session; keep it in place.
typedef struct {
  bool          is_turn; ///< A turn was decided
  TurnRecord    turn;
  bool          is_time_change; ///< Time lies otherwise: as it was asked
  SessionChange change;
  bool          is_paused;
  char          words[SUPERVISOR_LINE]; ///< Else: about ports and the machine
} StageNews;

/// How a session or a wait ended.
typedef enum {
  STAGE_OVER,    ///< The form was played to its end
  STAGE_SIGNAL,  ///< The system asked us to stop
  STAGE_GESTURE, ///< The player did
} StageEnd;

/// What came of a session.
typedef struct {
  StageEnd end;
  Gesture  gesture;   ///< Of STAGE_GESTURE
  bool     is_kept;   ///< The recording is on disk, whole
  Fault    fault;     ///< Of the recording; `status` STATUS_OK if there is none
  unsigned n_skips;   ///< How often time was lost
  unsigned n_lost;    ///< Keys or notes that did not fit
  unsigned n_dropped; ///< Notes that would have begun too late
} StageResult;

/**
   Open ports and sound, and begin the threads that last.

   @param[out] stage Written on success only; give it to stage_close().
   @return STATUS_OK; else as supervisor_open(), with the fault written.
*/
MUST_USE Status
stage_open(Stage** stage, const StageOptions* options, Fault* fault);

/// End every note, close everything. NULL does nothing.
void
stage_close(Stage* stage);

/// Return where notes come from and go to, for people: one line; the stage's.
const char*
stage_text(const Stage* stage);

/// Wait for a sound font that is read behind (supervisor.h).
void
stage_await_sound(const Stage* stage);

/// Return whether it is still being read.
bool
stage_loads_sound(const Stage* stage);

/// Return why it could not be loaded; NULL as long as nothing is wrong with it.
const Fault*
stage_no_font(const Stage* stage);

/**
   Begin to play a session, which lasts until stage_end(), as what it points to
   must; once there is sound.

   @return STATUS_OK, or STATUS_SYSTEM if it could not begin.
*/
MUST_USE Status
stage_begin(Stage* stage, const Performance* performance);

/**
   Whether the session goes on: not after its end, a signal or a gesture, unless
   that steers.

   @param[out] result Its `end` and `gesture` are written when it does not.
*/
bool
stage_goes_on(Stage* stage, StageResult* result);

/// Do as if the player had made a gesture: another face's buttons. It ends the
/// session that is played.
void
stage_gesture(Stage* stage, Gesture gesture);

/// Take the gesture that steers the session that goes on, if one was made.
Gesture
stage_take_steering(Stage* stage);

/// Ask for something to be otherwise from the next turn on.
void
stage_change(Stage* stage, const SessionChange* change);

/// Let the session stand still from now on, or go on after a bar of clicks.
void
stage_pause(Stage* stage, bool pauses);

/// Return where the session is now.
Tick
stage_now(const Stage* stage);

/// Return where the count-in of the session begins.
Tick
stage_first(const Stage* stage);

/// Return the moment of a tick of the session that is played or was last,
/// nanoseconds of the machine's clock.
int64_t
stage_moment_ns(const Stage* stage, Tick tick);

/// Take a key of the player's that another face brings, with the moment it was
/// struck. Thread: one, always the same.
void
stage_key(Stage* stage, const MidiMessage* message);

/// Whether there is a keyboard now. Thread: any.
bool
stage_hears_keyboard(const Stage* stage);

/// Take the next message that came from the player's keyboard, to show it;
/// false if there is none. Thread: one, always the same.
bool
stage_see(Stage* stage, MidiMessage* message);

/// Sound the player's own keys from now on, or do not.
void
stage_thru(Stage* stage, bool thru);

/// Click the beats of the player's turns of this session, or do not.
void
stage_clicks(Stage* stage, bool click);

/// Let a part sound so from now on: a program and a level, 0..127.
void
stage_voice(Stage* stage, Part part, uint8_t program, uint8_t level);

/// Take what is new, the oldest first; false if nothing is. There may still be
/// some when the session does not go on any more.
bool
stage_take_news(Stage* stage, StageNews* news);

/// Take a line about ports and the machine between sessions; false if there is
/// none.
bool
stage_take_words(Stage* stage, char words[SUPERVISOR_LINE]);

/// End every note of a session that does not go on, and its recording.
void
stage_end(Stage* stage, StageResult* result);

/**
   Wait for the player between sessions.

   @param ms At most so long; then STAGE_OVER.
   @param[out] gesture Of STAGE_GESTURE.
*/
StageEnd
stage_wait(Stage* stage, unsigned ms, Gesture* gesture);

/// Take the next message of the player's; false if none has come. Only between
/// sessions.
bool
stage_take(Stage* stage, MidiMessage* message);

/// Let a key of the drums sound at a moment of the machine's clock. Only
/// between sessions, and half a second ahead at most.
void
stage_click(Stage* stage, int64_t due_ns, uint8_t key, uint8_t velocity);

/// Let a note of a part sound, from one moment of the machine's clock to
/// another. Only between sessions, and half a second ahead at most.
void
stage_sound(Stage*  stage,
            Part    part,
            int64_t due_ns,
            int64_t off_ns,
            uint8_t pitch,
            uint8_t velocity);

/// End every note, and forget those to come. Only between sessions.
void
stage_hush(Stage* stage);

/// Whether a signal has asked us to stop.
bool
stage_is_asked_to_stop(const Stage* stage);

/// Tell a guardian which port of others notes go to, if they do.
void
stage_tell_guardian(const Stage* stage, const Guardian* guardian);

/// Return the lateness at the port, microseconds, that this share (0..1) of all
/// notes so far did not exceed. Only between sessions.
double
stage_lateness_us(const Stage* stage, double share);

#endif // RESPONDER_STAGE_STAGE_H
