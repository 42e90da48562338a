#include "responder/app/setup.h"

#include "core/files/file.h"
#include "core/midi/smf_reader.h"
#include "core/settings/feel_file.h"
#include "core/settings/places.h"
#include "core/sum.h"
#include "profiles/files/ladder_file.h"
#include "profiles/files/sentences_file.h"
#include "responder/app/command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double usual_tempo_bpm = 120.0;

enum { SUM_CHART, SUM_FEEL, SUM_LADDER };

// Enough to see that a file has changed
static uint64_t
sum_of_file(const char* const path)
{
  char*  bytes = NULL;
  size_t size  = 0;
  Fault  fault;
  if (file_load(path, SMF_FILE_LIMIT, &bytes, &size, &fault)) {
    return 0;
  }
  const uint64_t sum = sum_add(SUM_BEGIN, bytes, size);
  free(bytes);
  return sum;
}

static Status
load_chart(Setup* const setup, Faults* const faults)
{
  char   path[PLACE_PATH_CAPACITY];
  Fault  fault;
  Status status = place_find(PLACE_CHARTS, setup->choices.chart, path, &fault);
  if (status) {
    return faults_note(faults, &fault);
  }
  setup->choices.sums[SUM_CHART] = sum_of_file(path);
  return chart_file_load(&setup->chart, path, faults);
}

static Status
load_feel(Setup* const setup, Faults* const faults)
{
  char   path[PLACE_PATH_CAPACITY];
  Fault  fault;
  Status status = place_find(PLACE_FEELS, setup->choices.feel, path, &fault);
  if (status) {
    return faults_note(faults, &fault);
  }
  setup->choices.sums[SUM_FEEL] = sum_of_file(path);
  status                        = feel_file_load(&setup->feel, path, faults);
  if (status) {
    return status;
  }
  const Meter meter = setup->chart.chart.meter;
  char        text[METER_TEXT_CAPACITY];
  return feel_fits(&setup->feel, meter)
           ? STATUS_OK
           : faults_add(faults,
                        STATUS_RANGE,
                        path,
                        0,
                        "the feel %s is not for %s; barter charts lists what "
                        "fits, --feel chooses",
                        setup->choices.feel,
                        meter_text(meter, text));
}

// Who has not been placed yet begins where the ladder says
static void
fill_in_rungs(Setup* const setup)
{
  for (unsigned i = 0; i < N_DIMENSIONS; ++i) {
    uint8_t* const level = &setup->choices.rung.level[i];
    const uint8_t  start = setup->ladder.start.level[i];
    const uint8_t  most  = setup->choices.most.level[i];
    if (!*level) {
      *level = most && most < start ? most : start;
    }
  }
}

static void
fill_in_budget(Setup* const setup)
{
  if (climb_has_plan(&setup->choices.plan) && setup->choices.budget <= 0.0) {
    setup->choices.budget = setup->ladder.budget;
  }
}

static Status
load_ladder(Setup* const setup, Faults* const faults)
{
  char   path[PLACE_PATH_CAPACITY];
  Fault  fault;
  Status status = place_find_file("ladder.cfg", path, &fault);
  if (status) {
    return faults_note(faults, &fault);
  }
  setup->choices.sums[SUM_LADDER] = sum_of_file(path);
  status = ladder_file_load(&setup->ladder, path, faults);
  if (!status) {
    fill_in_rungs(setup);
    fill_in_budget(setup);
  }
  return status;
}

// Whoever cannot be spoken to in the teacher's words is in the built-in ones
static void
load_sentences(Setup* const setup)
{
  char   path[PLACE_PATH_CAPACITY];
  Faults faults    = {.n_faults = 0};
  Fault  fault     = {.status = STATUS_OK};
  Status status    = place_find_file("sentences.cfg", path, &fault);
  setup->sentences = *sentences_plain();
  if (status) {
    (void)faults_note(&faults, &fault);
  } else {
    status = sentences_file_load(&setup->sentences, path, &faults);
  }
  if (status) {
    (void)command_fail_all(&faults);
    command_say("the sentences built in are used instead");
  }
}

// Whether a key is a tonic alone, or one with the chart's own mode
static bool
read_tonic(Spelling* const tonic, const char* const text, const bool is_minor)
{
  const size_t      length = spelling_parse(tonic, text);
  const char* const mode   = text + length;
  return length &&
         (!*mode || strcmp(mode, is_minor ? " minor" : " major") == 0);
}

static Status
move_to_key(Setup* const setup, Faults* const faults)
{
  const char* const text     = setup->choices.key;
  const bool        is_minor = setup->chart.chart.key.is_minor;
  Spelling          tonic;
  if (!text[0]) {
    return STATUS_OK;
  }
  if (!read_tonic(&tonic, text, is_minor)) {
    return faults_add(faults,
                      STATUS_SYNTAX,
                      NULL,
                      0,
                      "--key %s: the chart is in %s and stays so; name the "
                      "note that is to be home, C, Eb or F#",
                      text,
                      is_minor ? "minor" : "major");
  }
  chart_transpose(&setup->chart.chart, tonic);
  return STATUS_OK;
}

static Status
make_room(Setup* const setup, Faults* const faults)
{
  if (!setup->choices.makes_room ||
      !chart_make_room(&setup->chart.chart, setup->choices.bars)) {
    return STATUS_OK;
  }
  return faults_add(faults,
                    STATUS_FULL,
                    NULL,
                    0,
                    "the chart %s is too long to make room in; it may have %d "
                    "bars",
                    setup->choices.chart,
                    CHART_BAR_CAPACITY / 2);
}

static const char*
usual_feel(const Meter meter)
{
  return meter_is_compound(meter) ? "slow12"
         : meter.numerator == 3   ? "waltz"
                                  : "swing";
}

static void
take_suggestions(Setup* const setup)
{
  Choices* const choices = &setup->choices;
  if (!choices->feel[0]) {
    (void)snprintf(choices->feel,
                   sizeof(choices->feel),
                   "%s",
                   setup->chart.feel[0] ? setup->chart.feel
                                        : usual_feel(setup->chart.chart.meter));
  }
  if (choices->tempo_bpm <= 0.0) {
    choices->tempo_bpm =
      setup->chart.tempo_bpm > 0.0 ? setup->chart.tempo_bpm : usual_tempo_bpm;
  }
}

Status
setup_load(Setup* const         setup,
           const Choices* const choices,
           Faults* const        faults)
{
  setup->choices = *choices;
  Status status  = load_chart(setup, faults);
  if (status) {
    return status;
  }
  take_suggestions(setup);
  if ((status = load_feel(setup, faults)) ||
      (status = load_ladder(setup, faults)) ||
      (status = move_to_key(setup, faults))) {
    return status;
  }
  load_sentences(setup);
  return make_room(setup, faults);
}

SessionOptions
setup_session(const Setup* const setup)
{
  const Choices* const choices = &setup->choices;
  const Ear            usual =
    ear_usual(&setup->chart.chart, &setup->ladder, choices->tempo_bpm);
  return (SessionOptions){
    .chart                  = &setup->chart.chart,
    .feel                   = &setup->feel,
    .ladder                 = &setup->ladder,
    .tempo_bpm              = choices->tempo_bpm,
    .bars_per_turn          = choices->bars,
    .choruses               = choices->choruses,
    .partner_begins         = choices->partner_begins,
    .makes_room             = choices->makes_room,
    .band_thins_for_partner = choices->band_thins_for_partner,
    .rung                   = choices->rung,
    .seed                   = choices->seed,
    .split_pitch            = choices->split,
    .lowest                 = choices->lowest,
    .highest                = choices->highest,
    .hand_span              = choices->hand_span,
    .spread_ms              = usual.spread_ms,
    .lag_ms                 = choices->lag_ms,
    .plan                   = choices->plan,
    .budget                 = choices->budget,
    .skill                  = choices->skill,
    .usual_spread_ms        = choices->usual_spread_ms,
    .sentences              = &setup->sentences,
    .kept                   = choices->kept.n_notes ? &choices->kept : NULL,
  };
}
