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

/// Return the number of a channel and key, 0..SMF_N_VOICES - 1.
static inline unsigned
smf_voice_of(const unsigned channel, const unsigned pitch)
{
  return channel * 128U + pitch;
}

static inline uint32_t
smf_length_between(const Tick begin, const Tick end)
{
  const Tick length = end - begin;
  return length < 1 ? 1 : length > UINT32_MAX ? UINT32_MAX : (uint32_t)length;
}

static inline void
smf_end_first(SmfOpenNotes* const open,
              SmfNote* const      notes,
              const unsigned      voice,
              const Tick          tick)
{
  SmfNote* const note = &notes[open->first[voice] - 1U];
  open->first[voice]  = note->length;
  note->length        = smf_length_between(note->tick, tick);
  --open->n;
}

/// Add notes[index] of a voice; its length is 0.
static inline void
smf_open_notes_add(SmfOpenNotes* const open,
                   SmfNote* const      notes,
                   const unsigned      voice,
                   const uint32_t      index)
{
  if (open->first[voice]) {
    notes[open->last[voice] - 1U].length = index + 1U;
  } else {
    open->first[voice] = index + 1U;
  }
  open->last[voice] = index + 1U;
  ++open->n;
}

/// End the note of a voice that was struck first; false if there is none.
static inline bool
smf_open_notes_end(SmfOpenNotes* const open,
                   SmfNote* const      notes,
                   const unsigned      voice,
                   const Tick          tick)
{
  if (!open->first[voice]) {
    return false;
  }
  smf_end_first(open, notes, voice, tick);
  return true;
}

/// End all; return how many there were.
static inline uint32_t
smf_open_notes_end_all(SmfOpenNotes* const open,
                       SmfNote* const      notes,
                       const Tick          tick)
{
  const uint32_t n = open->n;
  for (unsigned voice = 0; open->n; ++voice) {
    while (open->first[voice]) {
      smf_end_first(open, notes, voice, tick);
    }
  }
  return n;
}

#endif // CORE_MIDI_SMF_OPEN_NOTES_H
