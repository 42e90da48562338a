#include "responder/record/recorded.h"

#include "core/settings/places.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

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

bool
recorded_has_chart(const Choices* const choices)
{
  char  path[PLACE_PATH_CAPACITY];
  Fault ignored;
  return !place_find(PLACE_CHARTS, choices->chart, path, &ignored) &&
         access(path, R_OK) == 0;
}

// A chart that was named by its path is looked for beside the recording, too:
// so that both can be sent to somebody
static bool
take_if_there(Choices* const    choices,
              const char* const folder,
              const int         n,
              const char* const name)
{
  char      path[CHOICES_NAME_CAPACITY];
  const int length = snprintf(path, sizeof(path), "%.*s%s", n, folder, name);
  if (length >= CHOICES_NAME_CAPACITY || access(path, R_OK)) {
    return false;
  }
  memcpy(choices->chart, path, (size_t)length + 1);
  return true;
}

static void
look_beside(Choices* const choices, const char* const recording)
{
  const char* const slash = strrchr(recording, '/');
  const int         n     = slash ? (int)(slash + 1 - recording) : 0;
  const char* const inner = strrchr(choices->chart, '/');
  if (!recorded_has_chart(choices) && choices->chart[0] != '/' &&
      take_if_there(choices, recording, n, choices->chart)) {
    return;
  }
  if (!recorded_has_chart(choices) && inner) {
    (void)take_if_there(choices, recording, n, inner + 1);
  }
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
  if (!status) {
    look_beside(choices, path);
  }
  return status;
}
