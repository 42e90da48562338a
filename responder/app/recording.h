/// @file responder/app/recording.h A conversation as a Standard MIDI File and
/// as sound.
///
/// Format 1, 960 ticks a quarter; tick 0 of the file is the first of the
/// count-in. Track 0 has tempo, meter, key, a marker at every turn and one text
/// with the choices that make it again; then `player`, `partner`, `chords`,
/// `bass`, `drums`.

#ifndef RESPONDER_APP_RECORDING_H
#define RESPONDER_APP_RECORDING_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/midi/smf_writer.h"
#include "core/status.h"
#include "responder/app/conversation.h"
#include "responder/setup/setup.h"

/**
   Write a conversation.

   @return STATUS_OK; else the status of the writer, with the fault written.
*/
MUST_USE Status
recording_save(const Conversation* conversation,
               const Setup*        setup,
               const char*         path,
               Fault*              fault);

/// Write tempo, meter, key and end of a conversation to track 0, which is
/// there.
void
recording_write_head(SmfWriter*          writer,
                     const Setup*        setup,
                     const Conversation* conversation);

/// Write its parts, a track each.
void
recording_write_parts(SmfWriter*          writer,
                      const Setup*        setup,
                      const Conversation* conversation);

/**
   Read the choices out of a recording.

   @param[out] choices Written on success only.
   @param[out] bar_one The tick of the file where the first turn begins.
   @return STATUS_OK; STATUS_MISSING if the file holds none; else the status of
   the reader.
*/
MUST_USE Status
recording_choices(Choices*    choices,
                  Tick*       bar_one,
                  const char* path,
                  Fault*      fault);

/**
   Render a conversation to a WAV file.

   @param soundfont NULL for the usual one.
   @return As sound_render().
*/
MUST_USE Status
recording_render(const Conversation* conversation,
                 const Setup*        setup,
                 const char*         path,
                 const char*         soundfont,
                 Fault*              fault);

#endif // RESPONDER_APP_RECORDING_H
