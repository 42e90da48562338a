/// @file responder/record/recording.h A conversation as a Standard MIDI File.
///
/// Format 1, 960 ticks a quarter; tick 0 of the file is the first of the
/// count-in. Track 0 has tempo, meter, key, a marker at every turn and one text
/// with the choices that make it again; then `player`, `partner`, `chords`,
/// `bass`, `drums`.

#ifndef RESPONDER_RECORD_RECORDING_H
#define RESPONDER_RECORD_RECORDING_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/midi/smf_writer.h"
#include "core/status.h"
#include "profiles/choices/choices.h"
#include "responder/record/conversation.h"
#include "responder/session/session.h"

/// How the choices begin, which a recording is known by.
#define RECORDING_HEADING "barter-session 1\n"

/// What stands where it was left before its end.
#define RECORDING_LEFT "barter-left"

enum { RECORDING_CHOICES_CAPACITY = 8192 };

/// What is recorded, beside the notes; it points to what it is made of.
typedef struct {
  const char*           path;
  const SessionOptions* session;
  const ChoiceSound*    sounds;  ///< By Part
  const char*           choices; ///< RECORDING_HEADING, and what makes it again
} Recording;

/**
   Write a conversation, whole or not at all.

   @return STATUS_OK; else the status of the writer, with the fault written.
*/
MUST_USE Status
recording_save(const Conversation* conversation,
               const Recording*    recording,
               Fault*              fault);

/// Write tempo, meter, key and end of a conversation to track 0, which is
/// there.
void
recording_write_head(SmfWriter*          writer,
                     const Recording*    recording,
                     const Conversation* conversation);

/// Write its parts, a track each.
void
recording_write_parts(SmfWriter*          writer,
                      const Recording*    recording,
                      const Conversation* conversation);

/**
   Read out of a recording what makes it again.

   @param[out] choices As they were written; on success only.
   @param[out] bar_one The tick of the file where the first turn begins.
   @return STATUS_OK; STATUS_MISSING if the file holds none; STATUS_SYNTAX if
   they are too long to be any; else the status of the reader.
*/
MUST_USE Status
recording_read(char        choices[RECORDING_CHOICES_CAPACITY],
               Tick*       bar_one,
               const char* path,
               Fault*      fault);

#endif // RESPONDER_RECORD_RECORDING_H
