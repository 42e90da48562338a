/// @file responder/stage/engine.h The thread that lets time pass for a session.
///
/// It sleeps until absolute moments, hears the keys that came, advances the
/// session to now and casts the notes ahead to the sender. On it: no memory,
/// lock, file, print or call that may do so.
///
/// Threads: made and ended by one, which writes `asked` and reads `laid`; the
/// input's thread writes `keys`, the storage reads `kept` and `turns`, the
/// screen reads `told` and the numbers.
///
/// A pause begins at once. Time goes on after a bar of clicks, where it stood.

#ifndef RESPONDER_STAGE_ENGINE_H
#define RESPONDER_STAGE_ENGINE_H

#include "core/attributes.h"
#include "core/status.h"
#include "core/time/monotonic.h"
#include "core/time/realtime.h"
#include "core/time/ring.h"
#include "core/time/tempo_clock.h"
#include "responder/session/session.h"
#include "responder/stage/gesture.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>

enum {
  ENGINE_KEYS  = 4096, ///< Slots of the ring of the player's messages
  ENGINE_KEPT  = 16384,
  ENGINE_TURNS = 16,
  ENGINE_ASKED = 64, ///< Requests
  ENGINE_LAID  = 64,
};

typedef enum { KEPT_NOTE, KEPT_KEY, KEPT_CHANGE } KeptKind;

/// What is to be recorded, in the order that it was.
typedef struct {
  KeptKind      kind;
  PartNote      note;
  HeardKey      key; ///< With the tick that it counted as
  SessionChange change;
} Kept;

typedef enum { REQUEST_CHANGE, REQUEST_PAUSE, REQUEST_GO_ON } RequestKind;

/// What is asked of a session while it goes on.
typedef struct {
  RequestKind   kind;
  SessionChange change; ///< Of REQUEST_CHANGE; its tick is not looked at
} Request;

/// How time lies from now on: the tempo has changed, or it stands still, or it
/// goes on again.
typedef struct {
  TempoClock    clock;
  SessionChange change;    ///< None: the tempo stays
  bool          is_paused; ///< Since the tick that was reached
} Laid;

/// How a session is played.
typedef struct {
  const SessionOptions* session;
  Trigger               control;
  bool                  click; ///< In the player's turns, at first
  bool                  sync;  ///< Send clock, start and stop
  Ring*                 typed; ///< As `keys`, of another face; NULL: none
} EngineOptions;

/// About 3 MiB, keep it in place.
typedef struct {
  const Pace*   pace;
  Ring*         notes; ///< The sender's
  Ring*         keys;  ///< MidiMessage; outlives the engine
  EngineOptions options;
  TempoClock    clock; ///< The engine's own; others have it by `laid`
  Ring          asked; ///< Request; another thread's
  Ring          laid;  ///< Laid
  Ring          kept;  ///< Kept
  Ring          turns; ///< TurnRecord, to be stored
  Ring          told;  ///< TurnRecord, to be shown
  atomic_bool   stops;
  atomic_bool   is_over;
  atomic_bool   clicks;  ///< In the player's turns; may change at any time
  atomic_llong  tick;    ///< The present one
  atomic_int    gesture; ///< The last Gesture, until it is taken
  atomic_uint   n_skips; ///< How often time was lost
  pthread_t     thread;
  // The engine's own
  Tapping    tapping;
  Tick       reached;
  int64_t    woke_ns;
  Tick       next_beat;
  Tick       next_pulse;
  bool       has_started;
  bool       is_out_of_step; ///< Pulses were lost
  bool       is_paused;
  Session    session;
  SessionOut out;
  Request    asked_slots[ENGINE_ASKED];
  Laid       laid_slots[ENGINE_LAID];
  Kept       kept_slots[ENGINE_KEPT];
  TurnRecord turn_slots[ENGINE_TURNS];
  TurnRecord told_slots[ENGINE_TURNS];
} Engine;

/// Make a session ready; nothing runs yet.
void
engine_setup(Engine*       engine,
             const Pace*   pace,
             Ring*         keys,
             Ring*         notes,
             EngineOptions options);

/// Return how long before it is due a note is cast at the latest, nanoseconds
/// of the machine's clock; below 0 at a great speed.
int64_t
engine_notice_ns(const TempoClock* clock, const Pace* pace);

/// Begin soon, with how time lies in `laid`; STATUS_OK or STATUS_SYSTEM.
MUST_USE Status
engine_begin(Engine* engine);

/// End it, wherever it is; the tick it reached is then `reached`.
void
engine_end(Engine* engine);

#endif // RESPONDER_STAGE_ENGINE_H
