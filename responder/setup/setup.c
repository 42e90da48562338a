#include "responder/setup/setup.h"

#include "core/settings/feel_file.h"
#include "core/settings/places.h"
#include "profiles/files/ladder_file.h"
#include "profiles/files/sentences_file.h"
#include "responder/ideas/notebook.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double usual_tempo_bpm = 120.0;

enum { SUM_CHART, SUM_FEEL, SUM_LADDER };

/// Open one of the files that a session is made of, and sum it up: enough to
/// see that it has changed.
static Status
open_summed(Setup* const     setup,
            const unsigned   which,
            Settings** const settings,
            Faults* const    faults)
{
  char         path[PLACE_PATH_CAPACITY];
  Fault        fault;
  const Status found =
    which == SUM_CHART
      ? place_find(PLACE_CHARTS, setup->choices.chart, path, &fault)
    : which == SUM_FEEL
      ? place_find(PLACE_FEELS, setup->choices.feel, path, &fault)
      : place_find_file("ladder.cfg", path, &fault);
  if (found) {
    return faults_note(faults, &fault);
  }
  const Status status = settings_open(settings, path, faults);
  if (!status) {
    setup->choices.sums[which] = settings_sum(*settings);
  }
  return status;
}

static Status
load_chart(Setup* const setup, Faults* const faults)
{
  Settings* settings = NULL;
  Status    status   = open_summed(setup, SUM_CHART, &settings, faults);
  if (!status) {
    status = chart_file_read(&setup->chart, settings);
    settings_close(settings);
  }
  return status;
}

static Status
load_feel(Setup* const setup, Faults* const faults)
{
  Settings* settings = NULL;
  Status    status   = open_summed(setup, SUM_FEEL, &settings, faults);
  if (status) {
    return status;
  }
  char file[PLACE_PATH_CAPACITY];
  (void)snprintf(file, sizeof(file), "%s", settings_file(settings));
  status = feel_file_read(&setup->feel, settings);
  settings_close(settings);
  if (status) {
    return status;
  }
  const Meter meter = setup->chart.chart.meter;
  char        text[METER_TEXT_CAPACITY];
  return feel_fits(&setup->feel, meter)
           ? STATUS_OK
           : faults_add(faults,
                        STATUS_RANGE,
                        file,
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
      choices_mark(&setup->choices,
                   (Choice)(CHOICE_NOTES + i),
                   most && most < start ? CHOICE_BY_LEARNER : CHOICE_BY_LADDER,
                   0);
    }
  }
}

// Who begins where the teacher put them has some room there, too
static void
fill_in_budget(Setup* const setup)
{
  Choices* const choices = &setup->choices;
  if (climb_has_plan(&choices->plan) && choices->budget <= 0.0) {
    choices->budget =
      fmax(setup->ladder.budget, climb_budget_at(choices->rung));
  }
}

static Status
load_ladder(Setup* const setup, Faults* const faults)
{
  Settings* settings = NULL;
  Status    status   = open_summed(setup, SUM_LADDER, &settings, faults);
  if (!status) {
    status = ladder_file_read(&setup->ladder, settings);
    settings_close(settings);
  }
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
  char  path[PLACE_PATH_CAPACITY];
  Fault fault;
  setup->sentences = *sentences_plain();
  if (place_find_file("sentences.cfg", path, &fault)) {
    (void)faults_note(&setup->of_sentences, &fault);
  } else if (sentences_file_load(
               &setup->sentences, path, &setup->of_sentences)) {
    setup->sentences = *sentences_plain();
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
  if (!spelling_parse(&tonic, text)) {
    return faults_add(faults,
                      STATUS_SYNTAX,
                      NULL,
                      0,
                      "--key %s: no note is called so here; write C, Eb or F# "
                      "(H is B, and the B beside it Bb)",
                      text);
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
    choices_mark(choices,
                 CHOICE_FEEL,
                 setup->chart.feel[0] ? CHOICE_BY_CHART : CHOICE_BY_DEFAULT,
                 0);
  }
  if (choices->tempo_bpm <= 0.0) {
    choices->tempo_bpm =
      setup->chart.tempo_bpm > 0.0 ? setup->chart.tempo_bpm : usual_tempo_bpm;
    choices_mark(choices,
                 CHOICE_TEMPO,
                 setup->chart.tempo_bpm > 0.0 ? CHOICE_BY_CHART
                                              : CHOICE_BY_DEFAULT,
                 0);
  }
  if (!choices->key[0]) {
    choices_mark(choices, CHOICE_KEY, CHOICE_BY_CHART, 0);
  }
}

// What suits the way of playing, unless somebody asked for something else
static void
suit_way(Choices* const choices)
{
  const unsigned choruses = way_choruses(choices->way);
  const unsigned bars     = way_bars(choices->way);
  if (choruses && choices_place(choices, CHOICE_CHORUSES) < CHOICE_BY_TAKE) {
    choices->choruses = choruses;
    choices_mark(choices, CHOICE_CHORUSES, CHOICE_BY_DEFAULT, 0);
  }
  if (bars && choices_place(choices, CHOICE_BARS) < CHOICE_BY_TAKE) {
    choices->bars = bars;
    choices_mark(choices, CHOICE_BARS, CHOICE_BY_DEFAULT, 0);
  }
}

// Whose turns they are does not fit room after every one
static Status
check_way(const Choices* const choices, Faults* const faults)
{
  return choices->way == WAY_ANSWER || !choices->makes_room
           ? STATUS_OK
           : faults_add(faults,
                        STATUS_RANGE,
                        NULL,
                        0,
                        "--make-room opens room for answers; with --way \"%s\" "
                        "leave it out",
                        way_names[choices->way]);
}

static void
read_idea(Idea* const idea, const char* const text)
{
  if (!text[0] || !notebook_parse(idea, text)) {
    *idea = (Idea){.n_notes = 0};
  }
}

static void
read_kept(Setup* const setup)
{
  read_idea(&setup->kept, setup->choices.kept);
  read_idea(&setup->opens, setup->choices.opens);
}

Status
setup_load(Setup* const         setup,
           const Choices* const choices,
           Faults* const        faults)
{
  setup->choices      = *choices;
  setup->of_sentences = (Faults){.n_faults = 0};
  suit_way(&setup->choices);
  Status status = check_way(choices, faults);
  if (status || (status = load_chart(setup, faults))) {
    return status;
  }
  take_suggestions(setup);
  if ((status = load_feel(setup, faults)) ||
      (status = load_ladder(setup, faults)) ||
      (status = move_to_key(setup, faults))) {
    return status;
  }
  load_sentences(setup);
  read_kept(setup);
  return make_room(setup, faults);
}

void
setup_again(Setup* const setup, const Choices* const choices)
{
  setup->choices = *choices;
  fill_in_rungs(setup);
  fill_in_budget(setup);
  read_kept(setup);
}

void
setup_open_with(Setup* const setup, const Idea* const idea)
{
  setup->opens            = *idea;
  setup->choices.opens[0] = '\0';
  if (idea->n_notes) {
    (void)notebook_text(idea, setup->choices.opens);
  }
}

void
setup_keep(Setup* const setup, const Idea* const idea)
{
  setup->kept            = *idea;
  setup->choices.kept[0] = '\0';
  if (idea->n_notes) {
    (void)notebook_text(idea, setup->choices.kept);
  }
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
    .way                    = choices->way,
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
    .listens_behind         = choices->listens_behind,
    .sentences              = &setup->sentences,
    .plays_back             = choices->plays_back,
    .opens                  = setup->opens.n_notes ? &setup->opens : NULL,
    .kept                   = setup->kept.n_notes ? &setup->kept : NULL,
  };
}
