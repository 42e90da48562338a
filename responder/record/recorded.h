/// @file responder/record/recorded.h Recordings of what was set up.

#ifndef RESPONDER_RECORD_RECORDED_H
#define RESPONDER_RECORD_RECORDED_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "core/watch.h"
#include "responder/record/recording.h"
#include "responder/record/render.h"
#include "responder/record/report.h"
#include "responder/setup/choices_text.h"
#include "responder/setup/setup.h"

/// What a recording of a setup is made of; keep it in place while it is used.
typedef struct {
  SessionOptions session;
  char           choices[CHOICES_TEXT_CAPACITY];
  Recording      recording;
} Recorded;

/// Return the recording of a setup, whose choices are complete; it is the
/// `recorded`'s, and points to the setup and the path.
const Recording*
recorded_of(Recorded* recorded, const Setup* setup, const char* path);

/// Return how a setup sounds.
Rendering
recorded_sound(const Setup* setup, const char* soundfont, const Watch* watch);

/// Return what stands at the head of a setup's report; it points to the setup.
ReportHead
recorded_report_head(const Setup* setup);

/// Whether the chart that was played over is there.
bool
recorded_has_chart(const Choices* choices);

/**
   Read the choices out of a recording. A chart that was named by its path and
   is not there any more is looked for beside the recording.

   @param[out] choices Written on success only.
   @param[out] bar_one The tick of the file where the first turn begins.
   @return STATUS_OK; else as recording_read() and choices_read().
*/
MUST_USE Status
recorded_choices(Choices*    choices,
                 Tick*       bar_one,
                 const char* path,
                 Fault*      fault);

#endif // RESPONDER_RECORD_RECORDED_H
