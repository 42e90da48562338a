/// @file core/midi/smf_open_notes.h The notes of one track that still sound
/// while its events are gone through.

#ifndef CORE_MIDI_SMF_OPEN_NOTES_H
#define CORE_MIDI_SMF_OPEN_NOTES_H

#include "core/midi/smf_reader.h"

#include <stdbool.h>

enum { SMF_N_VOICES = 16 * 128 }; // Channels and keys

/// For each channel and key a queue of notes, held together by their lengths
/// (the next one's number) as long as they have none. A zeroed one is empty.
typedef struct {
  uint32_t first[SMF_N_VOICES]; ///< Number of a note plus 1; 0 if none
  uint32_t last[SMF_N_VOICES];
  uint32_t n;
} SmfOpenNotes;

/// Add notes[index], whose length is 0.
void
smf_open_notes_add(SmfOpenNotes* open, SmfNote* notes, uint32_t index);

/// End the note that was struck first on a channel and key; false if none is.
bool
smf_open_notes_end(SmfOpenNotes* open,
                   SmfNote*      notes,
                   unsigned      channel,
                   unsigned      pitch,
                   Tick          tick);

/// End all; return how many there were.
uint32_t
smf_open_notes_end_all(SmfOpenNotes* open, SmfNote* notes, Tick tick);

#endif // CORE_MIDI_SMF_OPEN_NOTES_H
