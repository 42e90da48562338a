/// @file responder/stage/sender.h The thread that lets notes sound: the only
/// one that sends to ports and to the synthesiser.
///
/// Notes come ahead of their time by a ring and are sent when they are due; the
/// player's own keys come by another and are sent at once.

#ifndef RESPONDER_STAGE_SENDER_H
#define RESPONDER_STAGE_SENDER_H

#include "core/attributes.h"
#include "core/band/part.h"
#include "core/ports/message.h"
#include "core/status.h"
#include "core/time/bell.h"
#include "core/time/monotonic.h"
#include "core/time/realtime.h"
#include "core/time/ring.h"
#include "responder/stage/ledger.h"
#include "responder/stage/outlet.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>

enum {
  SENDER_NOTES   = 4096, ///< Slots of the ring of notes
  SENDER_KEYS    = 1024, ///< ... and of the player's keys
  SENDER_DUE     = 4096, ///< Messages that wait for their time
  SENDER_BINS    = 2000, ///< Of lateness
  SENDER_BIN_NS  = 10000,
  SENDER_LATE_NS = 100000000, ///< A note later than this does not begin
};

/// What the engine asks for.
typedef struct {
  int64_t due_ns; ///< Of the pace
  int64_t off_ns; ///< When a key struck comes up; of no matter for the rest
  uint8_t size;   ///< 0: take all notes of a channel for ended, bytes[0]
  uint8_t bytes[3];
} Outgoing;

/// How a part is to sound.
typedef struct {
  uint8_t channel;
  uint8_t program;
  uint8_t level;
} Voice;

/// A message that waits.
typedef struct {
  Outgoing outgoing;
  uint32_t begun; ///< Of a key that comes up: which beginning it ends
} Due;

/// About 400 KiB, keep it in place.
typedef struct {
  const Pace*  pace;
  Outlet*      outlet;
  Ring         notes;   ///< Outgoing; the engine's
  Ring         keys;    ///< MidiMessage; the input's
  Ring         typed;   ///< ... and those of another face
  Bell         bell;    ///< ... who ring it
  atomic_llong look_ns; ///< Of the machine's clock, between two looks
  atomic_bool  stops;
  atomic_bool  hushes;          ///< Asked to end everything
  atomic_uint  n_hushes;        ///< How often that was done
  atomic_uint  n_dropped;       ///< Notes too late to begin
  atomic_uint  sounds[N_PARTS]; ///< 128 times the program, and the level
  pthread_t    thread;
  // The sender's own
  Ledger      ledger;
  Voice       voices[N_PARTS];
  unsigned    n_due;
  Due         due[SENDER_DUE];     ///< Falling by time: the next one is last
  unsigned    n_late[SENDER_BINS]; ///< Notes by lateness; the last bin: or more
  Outgoing    note_slots[SENDER_NOTES];
  MidiMessage key_slots[SENDER_KEYS];
  MidiMessage typed_slots[SENDER_KEYS];
} Sender;

/// Make its rings ready; what is pushed waits for sender_begin().
void
sender_setup(Sender* sender);

/// Begin; STATUS_OK or STATUS_SYSTEM.
MUST_USE Status
sender_begin(Sender*     sender,
             const Pace* pace,
             Outlet*     outlet,
             const Voice voices[N_PARTS]);

/// Look for notes and keys at least so often, nanoseconds of the machine's
/// clock; each millisecond at first. Thread: any.
void
sender_look_every(Sender* sender, int64_t ns);

/// Take a key that another face brings, and send it at once. Thread: one, that
/// may wait a little.
void
sender_key(Sender* sender, const MidiMessage* message);

/// Let a part sound so from now on; its channel stays. Thread: any.
void
sender_voice(Sender* sender, Part part, uint8_t program, uint8_t level);

/// End everything that sounds, and forget what is still to come. Returns when
/// it is done. Thread: one that neither plays nor sends.
void
sender_hush(Sender* sender);

/// End everything that sounds, then the thread.
void
sender_end(Sender* sender);

/// Return the lateness, microseconds, that this share (0..1) of all notes did
/// not exceed. While nothing is sent.
double
sender_lateness_us(const Sender* sender, double share);

#endif // RESPONDER_STAGE_SENDER_H
