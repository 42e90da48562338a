#include "responder/record/recorded.h"

#include <assert.h>
#include <stdio.h>

static_assert((int)CHOICES_TEXT_CAPACITY == (int)RECORDING_CHOICES_CAPACITY,
              "choices fit into a recording");

const Recording*
recorded_of(Recorded* const    recorded,
            const Setup* const setup,
            const char* const  path)
{
  recorded->session = setup_session(setup);
  choices_write(&setup->choices, recorded->choices);
  recorded->recording = (Recording){
    .path    = path,
    .session = &recorded->session,
    .sounds  = setup->choices.sounds,
    .choices = recorded->choices,
  };
  return &recorded->recording;
}

Rendering
recorded_sound(const Setup* const setup,
               const char* const  soundfont,
               const Watch* const watch)
{
  return (Rendering){
    .tempo_bpm = setup->choices.tempo_bpm,
    .sounds    = setup->choices.sounds,
    .font      = {soundfont, setup->choices.fonts},
    .watch     = watch,
  };
}

ReportHead
recorded_report_head(const Setup* const setup)
{
  return (ReportHead){
    .chart         = &setup->chart.chart,
    .feel          = setup->feel.name,
    .tempo_bpm     = setup->choices.tempo_bpm,
    .seed          = setup->choices.seed,
    .bars_per_turn = setup->choices.bars,
  };
}

Status
recorded_choices(Choices* const    choices,
                 Tick* const       bar_one,
                 const char* const path,
                 Fault* const      fault)
{
  char   text[RECORDING_CHOICES_CAPACITY];
  Status status = recording_read(text, bar_one, path, fault);
  if (!status && (status = choices_read(choices, text, fault))) {
    (void)snprintf(fault->file, sizeof(fault->file), "%s", path);
  }
  return status;
}
