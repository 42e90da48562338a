#include "core/midi/smf_survey.h"

// Count a track; return where it ends.
static size_t
survey_track(SmfSurvey* const     survey,
             const uint8_t* const file,
             const SmfSpan* const span)
{
  SmfEvents events = smf_events_begin(file, span->begin, span->end);
  SmfEvent  event;
  for (;;) {
    switch (smf_events_next(&events, &event)) {
      case SMF_CHANNEL:
      case SMF_ODD_CHANNEL:
        ++survey->n[smf_kind_of(&event)];
        break;
      case SMF_OTHER: {
        const SmfKind kind = smf_kind_of(&event);
        ++survey->n[kind];
        survey->n_text_bytes += kind == SMF_KIND_TEXT ? event.length + 1U : 0U;
        break;
      }
      case SMF_ODD:
        break;
      case SMF_END:
        ++survey->n_events;
        return smf_events_offset(&events);
      case SMF_STOP:
        if (!survey->damage) {
          survey->damage        = event.problem;
          survey->damage_offset = event.offset;
        }
        return span->end;
    }
  }
}

SmfSurvey
smf_survey(SmfChunks chunks)
{
  SmfSurvey survey = {.n_events = 0};
  SmfSpan   span;
  while (smf_chunks_next(&chunks, &span, NULL)) {
    const bool   fits = survey.n_tracks < SMF_TRACK_CAPACITY;
    const size_t end =
      fits ? survey_track(&survey, chunks.bytes, &span) : span.end;
    smf_chunks_leave(&chunks, &span, end, NULL);
    ++survey.n_tracks;
  }

  for (unsigned kind = 0; kind < SMF_N_KINDS; ++kind) {
    survey.n_events += survey.n[kind];
  }
  return survey;
}
