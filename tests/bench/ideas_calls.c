#include "ideas_calls.h"

#include "../unit/say/fixture.h"

#include "core/files/file.h"
#include "core/midi/smf_reader.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  FOURS_LAST  = 999,
  CALL_BARS   = 4,
  CALL_NOTES  = 256,
  PATH_LENGTH = 1024,
  N_MADE      = 72,
  FIRST_STYLE = 2, // Those of quarters and eighths alone are no solos
  LOWEST_KEY  = 1, // Nothing is the left hand's: the takes are melodies
};

/// Return how much later than its file bar 1 of a take begins, out of the text
/// of fours.json.
static Tick
lead_in_of(const char* const json, const char* const name)
{
  const char* const take = json ? strstr(json, name) : NULL;
  const char* const lead = take ? strstr(take, "\"lead_in_ticks\":") : NULL;
  return lead ? strtol(lead + strlen("\"lead_in_ticks\":"), NULL, 10) : 0;
}

/// Read a text file whole; NULL if there is none. The caller frees it.
static char*
read_text(const char* const path)
{
  char*  text = NULL;
  size_t size = 0;
  Fault  fault;
  return file_load(path, SMF_FILE_LIMIT, &text, &size, &fault) ? NULL : text;
}

static void
hear_take(Call* const          call,
          HearWork* const      work,
          const SmfTake* const take,
          const Tick           lead_in,
          const Ladder* const  ladder)
{
  Note     notes[CALL_NOTES];
  unsigned n = 0;
  for (size_t i = 0; i < take->n_notes && n < CALL_NOTES; ++i) {
    const SmfNote note = take->notes[i];
    const Tick    tick = note.tick - lead_in;
    if (tick >= -TICKS_PER_EIGHTH && tick < call->turn) {
      notes[n++] = (Note){tick, note.length, note.pitch, note.velocity};
    }
  }
  Ear ear         = ear_usual(&call->chart.chart, ladder, call->tempo_bpm);
  ear.split_pitch = LOWEST_KEY;
  hear_phrase(&call->phrase, work, &ear, notes, n, 0, call->turn);
}

/// Load one four; false if there is none of that number.
static bool
load_four(Call* const         call,
          HearWork* const     work,
          const char* const   folder,
          const char* const   json,
          const unsigned      number,
          const Ladder* const ladder)
{
  char    name[32];
  char    path[PATH_LENGTH];
  SmfTake take = {0};
  Fault   fault;
  (void)snprintf(name, sizeof(name), "four-%03u.mid", number);
  (void)snprintf(path, sizeof(path), "%s/fours/%s", folder, name);
  if (smf_load(&take, path, SMF_US_PER_QUARTER, &fault)) {
    return false;
  }
  static Faults faults;
  faults = (Faults){.n_faults = 0};
  (void)snprintf(path, sizeof(path), "%s/fours/four-%03u.cfg", folder, number);
  const bool is_read = !chart_file_load(&call->chart, path, &faults);
  if (is_read) {
    call->tempo_bpm = 60e6 / smf_tempo_at(&take, 0);
    call->turn      = CALL_BARS * meter_bar_ticks(call->chart.chart.meter);
    hear_take(call, work, &take, lead_in_of(json, name), ladder);
  } else {
    fprintf(stderr, "ideas_measures: %s: %s\n", path, faults.faults[0].text);
  }
  smf_free(&take);
  return is_read;
}

void
calls_load(Calls* const        calls,
           const char* const   folder,
           const Ladder* const ladder)
{
  char path[PATH_LENGTH];
  (void)snprintf(path, sizeof(path), "%s/fours/fours.json", folder);
  char* const json = read_text(path);
  calls->n_calls   = 0;
  for (unsigned number = 1; number <= FOURS_LAST; ++number) {
    Call* const call = &calls->calls[calls->n_calls];
    const bool  some =
      calls->n_calls < CALLS_MOST &&
      load_four(call, &calls->work, folder, json, number, ladder);
    calls->n_calls += some && call->phrase.n_notes > 0 ? 1 : 0;
  }
  free(json);
}

void
calls_make(Calls* const calls, const Ladder* const ladder)
{
  static Fixture fixture;
  calls->n_calls = 0;
  for (unsigned i = 0; i < N_MADE; ++i) {
    Call* const call = &calls->calls[calls->n_calls++];
    fixture_open(&fixture,
                 i % N_FIXTURE_CHARTS,
                 FIRST_STYLE +
                   i / N_FIXTURE_CHARTS % (N_FIXTURE_CALLS - FIRST_STYLE),
                 CALL_BARS,
                 ladder->start,
                 i);
    call->chart.chart = fixture.chart;
    call->phrase      = fixture.call;
    call->tempo_bpm   = fixture.request.ear.tempo_bpm;
    call->turn        = fixture.request.start;
  }
}
