/// @file core/midi/smf_fill.h The lists of a take, filled from a file's tracks.

#ifndef CORE_MIDI_SMF_FILL_H
#define CORE_MIDI_SMF_FILL_H

#include "core/midi/smf_survey.h"

/// The lists while they are written, each with room for what smf_survey()
/// found.
typedef struct {
  SmfNote*    notes;
  SmfControl* controls;
  SmfTempo*   tempos;
  SmfMeter*   meters;
  SmfKey*     keys;
  SmfText*    texts;
  SmfTrack*   tracks;
  char*       strings; ///< Begins with ""
  size_t      n[SMF_N_LISTS];
  size_t      n_tracks;
  size_t      n_string_bytes;
} SmfLists;

/**
   Fill the lists, each track's events in their order, the tracks one after
   another.

   @param us_per_quarter As for smf_read().
*/
void
smf_fill(SmfLists*        lists,
         SmfChunks        chunks,
         const SmfHeader* header,
         unsigned         us_per_quarter,
         SmfWarnings*     warnings);

#endif // CORE_MIDI_SMF_FILL_H
