/// @file core/midi/smf_survey.h How much a file holds, before memory is taken
/// for it.

#ifndef CORE_MIDI_SMF_SURVEY_H
#define CORE_MIDI_SMF_SURVEY_H

#include "core/midi/smf_chunks.h"
#include "core/midi/smf_events.h"
#include "core/midi/smf_reader.h"

/// What an event is to a take; those before SMF_KIND_NOTE_OFF have a list each.
typedef enum {
  SMF_KIND_NOTE,
  SMF_KIND_CONTROL,
  SMF_KIND_TEMPO,
  SMF_KIND_METER,
  SMF_KIND_KEY,
  SMF_KIND_TEXT,
  SMF_KIND_NOTE_OFF,
  SMF_KIND_NONE,
  SMF_N_KINDS,
  SMF_N_LISTS = SMF_KIND_NOTE_OFF,
} SmfKind;

typedef struct {
  size_t      n[SMF_N_KINDS];
  size_t      n_text_bytes;
  size_t      n_tracks;
  size_t      n_events;
  const char* damage; ///< Why a track was not read on, of the first; or NULL
  size_t      damage_offset;
} SmfSurvey;

static inline SmfKind
smf_kind_of_meta(const unsigned type)
{
  switch (type) {
    case SMF_META_TEMPO:
      return SMF_KIND_TEMPO;
    case SMF_META_METER:
      return SMF_KIND_METER;
    case SMF_META_KEY:
      return SMF_KIND_KEY;
    default:
      return type >= 0x01U && type <= 0x0FU ? SMF_KIND_TEXT : SMF_KIND_NONE;
  }
}

/// Return what an event is; here, so that both loops over events can hold it.
static inline SmfKind
smf_kind_of(const SmfEvent* const event)
{
  switch (event->status & 0xF0U) {
    case SMF_NOTE_ON:
      return event->data[1] ? SMF_KIND_NOTE : SMF_KIND_NOTE_OFF;
    case SMF_NOTE_OFF:
      return SMF_KIND_NOTE_OFF;
    case SMF_SYSEX:
      return event->status == SMF_META ? smf_kind_of_meta(event->data[0])
                                       : SMF_KIND_NONE;
    default:
      return SMF_KIND_CONTROL;
  }
}

/// Count what the chunks from here on hold.
SmfSurvey
smf_survey(SmfChunks chunks);

#endif // CORE_MIDI_SMF_SURVEY_H
