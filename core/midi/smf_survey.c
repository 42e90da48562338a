#include "core/midi/smf_survey.h"

static void
count_other(SmfSurvey* const survey, const SmfEvent* const event)
{
  const SmfKind kind = smf_kind_of(event);
  ++survey->n[kind];
  survey->n_text_bytes += kind == SMF_KIND_TEXT ? event->length + 1U : 0U;
}

static void
note_damage(SmfSurvey* const survey, const SmfEvent* const event)
{
  if (!survey->damage) {
    survey->damage        = event->problem;
    survey->damage_offset = event->offset;
  }
}

// Count a track; return where it ends.
static size_t
survey_track(SmfSurvey* const     survey,
             const uint8_t* const file,
             const SmfSpan* const span)
{
  SmfEvents events     = smf_events_begin(file, span->begin, span->end);
  SmfEvent  event      = {.tick = 0};
  size_t    n_messages = 0;
  size_t    n_notes    = 0;
  size_t    n_controls = 0;
  size_t    end        = 0;
  while (!end) {
    switch (smf_events_next(&events, &event)) {
      case SMF_CHANNEL:
      case SMF_ODD_CHANNEL:
        n_notes += smf_kind_of(&event) == SMF_KIND_NOTE;
        n_controls += smf_kind_of(&event) == SMF_KIND_CONTROL;
        ++n_messages;
        break;
      case SMF_OTHER:
        count_other(survey, &event);
        break;
      case SMF_ODD:
        break;
      case SMF_END:
        ++survey->n[SMF_KIND_NONE];
        end = smf_events_offset(&events);
        break;
      case SMF_STOP:
        note_damage(survey, &event);
        end = span->end;
        break;
    }
  }
  survey->n[SMF_KIND_NOTE] += n_notes;
  survey->n[SMF_KIND_CONTROL] += n_controls;
  survey->n[SMF_KIND_NOTE_OFF] += n_messages - n_notes - n_controls;
  return end;
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
