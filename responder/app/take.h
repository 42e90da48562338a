/// @file responder/app/take.h A player's take, out of a Standard MIDI File.

#ifndef RESPONDER_APP_TAKE_H
#define RESPONDER_APP_TAKE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/midi/smf_reader.h"
#include "core/music/note.h"
#include "core/status.h"
#include "responder/session/hearing.h"

#include <stdbool.h>
#include <stddef.h>

/// What was played, in ticks from the first beat of bar 1.
typedef struct {
  SmfTake file;
  Note*   notes; ///< The player's, rising by tick; owned
  size_t  n_notes;
  double  tempo_bpm; ///< The file's, on average
  Tick    end;       ///< Of the last note
} Take;

/// How to take it.
typedef struct {
  const char* track; ///< A name or a number from 1; NULL: `player`, or all
  double      lead_in_beats; ///< Quarters before bar 1
} TakeChoice;

/**
   Read a take.

   Without a track to go by, the track named `player` is taken, else every note
   that is not on the drum channel. Notes before bar 1 are kept, with negative
   ticks.

   @param[out] take Written on success; give it to take_free().
   @return STATUS_OK; else the status of the reader, STATUS_MISSING if there is
   no such track, STATUS_MEMORY, with the fault written.
*/
MUST_USE Status
take_load(Take* take, const char* path, TakeChoice choice, Fault* fault);

void
take_free(Take* take);

/**
   Open room: after every `group` ticks, let as much time pass again.

   A note struck up to `pick_up` ticks before a group begins goes with it.

   @param room_first Whether the room comes before its group.
*/
void
take_make_room(Take* take, Tick group, Tick pick_up, bool room_first);

/**
   Turn the notes into keys going down and up, in order of time; at one tick
   keys come up first.

   @param[out] keys Owned by the caller: free().
   @return STATUS_OK, or STATUS_MEMORY.
*/
MUST_USE Status
take_keys(const Take* take, HeardKey** keys, size_t* n_keys);

#endif // RESPONDER_APP_TAKE_H
