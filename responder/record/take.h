/// @file responder/record/take.h A player's take, out of a Standard MIDI File.

#ifndef RESPONDER_RECORD_TAKE_H
#define RESPONDER_RECORD_TAKE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/midi/smf_reader.h"
#include "core/music/note.h"
#include "core/status.h"
#include "responder/session/change.h"
#include "responder/session/hearing.h"

#include <stdbool.h>
#include <stddef.h>

/// The tempos that a take can be heard at, quarters a minute.
#define TAKE_TEMPO_LEAST 20.0
#define TAKE_TEMPO_MOST 400.0

/// What was played, in ticks from the first beat of bar 1.
typedef struct {
  SmfTake        file;
  Note*          notes; ///< The player's, rising by tick, then by pitch; owned
  size_t         n_notes;
  double         tempo_bpm; ///< The file's, on average
  Tick           last;      ///< Where the last note begins; 0 if there is none
  SessionChange* changes;   ///< By take_changes(); else none. Owned
  size_t         n_changes;
  Tick           left; ///< Where it was left, by take_changes(); 0: to its end
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
   ticks; of one pitch struck twice at a tick the longer note is kept.

   @param[out] take Written on success; give it to take_free().
   @return STATUS_OK; else the status of the reader, STATUS_MISSING if there is
   no such track, STATUS_MEMORY, with the fault written.
*/
MUST_USE Status
take_load(Take* take, const char* path, TakeChoice choice, Fault* fault);

void
take_free(Take* take);

/// Return the take's tempo, or the nearest to it that it can be heard at.
double
take_tempo(const Take* take);

/// Let what was changed in a session be changed again, and let it be left where
/// it was left: STATUS_OK, or as changes_read() with the fault written.
MUST_USE Status
take_changes(Take* take, const char* path, Fault* fault);

/// Move all notes and changes by so many ticks.
void
take_shift(Take* take, Tick by);

/// How room is opened in a take.
typedef struct {
  Tick form;       ///< Length of the form, as it was before
  Tick group;      ///< Of a turn; the last of a form may be shorter
  Tick pick_up;    ///< A note struck so much before a group goes with it
  bool room_first; ///< Whether the room comes before its group
} TakeRoom;

/// Open room: after every group of bars, let as much time pass again.
void
take_make_room(Take* take, TakeRoom room);

/**
   Turn the notes into keys going down and up, in order of time; at one tick
   keys come up first. A note lasts no longer than to where its key is struck
   again; its own end is left out then.

   @param[out] keys Owned by the caller: free(). Written on success only.
   @return STATUS_OK, or STATUS_MEMORY.
*/
MUST_USE Status
take_keys(const Take* take, HeardKey** keys, size_t* n_keys);

#endif // RESPONDER_RECORD_TAKE_H
