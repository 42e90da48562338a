/// @file core/midi/smf_writer.h A Standard MIDI File, made from events in any
/// order.
///
/// Open, add tracks, add events, then take the bytes or save them; close.
/// Ticks are absolute, and count as the division says. Within a track events
/// are put in order of time; at one tick come meta events, then ends of notes,
/// then controls, then beginnings of notes, each in the order they were added.
///
/// The first failure sticks: adding goes on without effect, and
/// smf_writer_bytes() and smf_writer_save() return it.
///
/// Each note gets one end. Two notes that overlap on one key of one channel of
/// a track cannot be told apart in a MIDI file: who reads it takes the end that
/// comes first for the one struck first.

#ifndef CORE_MIDI_SMF_WRITER_H
#define CORE_MIDI_SMF_WRITER_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/midi/smf.h"

#include <stddef.h>

typedef struct SmfWriter SmfWriter;

/// How to write; to be joined by `|`.
enum {
  SMF_PLAIN              = 0, ///< Each message with its status, ends as 8n
  SMF_RUNNING_STATUS     = 1, ///< Leave out a status that is still in force
  SMF_ENDS_AT_VELOCITY_0 = 2, ///< End notes as 9n with velocity 0
};

/**
   Begin a file.

   @param[out] writer To be given to smf_writer_close(); untouched on failure.
   @param format 0 (one track) or 1.
   @param division Ticks per quarter note, 1..32767; or, with bit 15 set, frames
   and ticks per frame as in the header of the file (E250 hex: 30 frames a
   second, 80 ticks a frame).
   @param style SMF_PLAIN, or other ways joined.
   @return STATUS_OK; STATUS_RANGE if `format` or `division` is out of range;
   STATUS_MEMORY.
*/
MUST_USE Status
smf_writer_open(SmfWriter** writer,
                unsigned    format,
                unsigned    division,
                unsigned    style);

/// Give back what the writer owns; NULL does nothing.
void
smf_writer_close(SmfWriter* writer);

/**
   Add a track.

   @param name Written at tick 0; NULL or "" for none.
   @return Its number, counted from 0; fails with STATUS_RANGE on a second one
   in format 0, or on one beyond SMF_TRACK_CAPACITY.
*/
unsigned
smf_writer_track(SmfWriter* writer, const char* name);

/// Add a note; STATUS_RANGE unless its tick is 0 or later, its length 1 or
/// more, the rest as SmfNote has it, and its track there.
void
smf_writer_note(SmfWriter* writer, SmfNote note);

/// Add a channel message; STATUS_RANGE if it is none, or one of a note.
void
smf_writer_control(SmfWriter* writer, SmfControl control);

/// Add a tempo to track 0; STATUS_RANGE unless 1..0xFFFFFF microseconds.
void
smf_writer_tempo(SmfWriter* writer, SmfTempo tempo);

/// Add a meter to track 0; STATUS_RANGE unless 1..255 beats of 1/1..1/128.
void
smf_writer_meter(SmfWriter* writer, SmfMeter meter);

/// Add a key to track 0; STATUS_RANGE unless sharps are -7..7.
void
smf_writer_key(SmfWriter* writer, SmfKey key);

/// Add a text to a track.
void
smf_writer_text(SmfWriter*  writer,
                unsigned    track,
                Tick        tick,
                SmfTextKind kind,
                const char* text);

/// Let a track end no earlier than a tick; without, it ends with its last
/// event.
void
smf_writer_end(SmfWriter* writer, unsigned track, Tick tick);

/**
   Make the file in memory. More can be added afterwards.

   @param[out] bytes The writer's, until the next call; untouched on failure.
   @return STATUS_OK; the failure that stuck: STATUS_RANGE, STATUS_MEMORY;
   STATUS_RANGE also if format 0 has no track, or a track has a gap of more than
   0FFFFFFF hex ticks.
*/
MUST_USE Status
smf_writer_bytes(SmfWriter* writer, const uint8_t** bytes, size_t* size);

/**
   Make the file and write it to the disk: all of it, or whatever stood there
   before stays.

   @param[out] fault Filled on failure.
   @return As smf_writer_bytes() and file_save().
*/
MUST_USE Status
smf_writer_save(SmfWriter* writer, const char* path, Fault* fault);

#endif // CORE_MIDI_SMF_WRITER_H
