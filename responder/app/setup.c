#include "responder/app/setup.h"

#include "core/midi/smf_file.h"
#include "core/settings/feel_file.h"
#include "core/settings/places.h"
#include "profiles/files/ladder_file.h"
#include "profiles/files/sentences_file.h"
#include "profiles/learner/learner_climb.h"
#include "responder/app/command.h"
#include "responder/app/who.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double      usual_tempo_bpm = 120.0;
static const double      eased_room      = 0.5; ///< Budget above the rungs
static const char* const usual_feel      = "swing";

enum { SUM_CHART, SUM_FEEL, SUM_LADDER };

// Choosing

Status
setup_defaults(Defaults* const defaults, Faults* const faults)
{
  char  path[PLACE_PATH_CAPACITY];
  Fault fault;
  *defaults     = defaults_plain();
  Status status = place_find_file("barter.cfg", path, &fault)
                    ? STATUS_OK // None is needed
                    : defaults_file_load(defaults, path, faults);
  if (!status && !place_find_file(SETUP_EQUIPMENT, path, &fault)) {
    status = defaults_file_load(defaults, path, faults);
  }
  return status;
}

static void
copy_name(char to[SETUP_NAME_CAPACITY], const char* const from)
{
  (void)snprintf(to, SETUP_NAME_CAPACITY, "%s", from);
}

static Choices
choices_of(const Defaults* const defaults)
{
  Choices choices = {
    .tempo_bpm              = defaults->tempo_bpm,
    .bars                   = defaults->bars,
    .partner_begins         = defaults->partner_begins,
    .band_thins_for_partner = defaults->band_thins_for_partner,
    .seed                   = defaults->has_seed ? defaults->seed : 1,
    .split                  = defaults->split,
    .lowest                 = defaults->lowest,
    .highest                = defaults->highest,
    .hand_span              = defaults->hand_span,
    .lag_ms                 = defaults->lag_ms,
  };
  copy_name(choices.chart, defaults->chart);
  copy_name(choices.feel, defaults->feel);
  // Of "Bb major" the tonic: the chart says whether it is minor
  (void)snprintf(choices.key,
                 sizeof(choices.key),
                 "%.*s",
                 (int)strcspn(defaults->key, " "),
                 defaults->key);
  memcpy(choices.sounds, defaults->sounds, sizeof(choices.sounds));
  return choices;
}

static void
apply_learner(Choices* const choices, const Who* const who)
{
  const Learner* const learner = &who->learner;
  choices->split               = learner->split;
  choices->lowest              = learner->lowest;
  choices->highest             = learner->highest;
  choices->hand_span           = learner->hand_span;
  if (learner->tempo_bpm > 0.0) {
    choices->tempo_bpm = learner->tempo_bpm;
  }
}

static void
apply_options(Choices* const choices, const Options* const options)
{
  if (options_have(options, OPTION_CHART)) {
    copy_name(choices->chart, options->chart);
  }
  if (options_have(options, OPTION_FEEL)) {
    copy_name(choices->feel, options->feel);
  }
  if (options_have(options, OPTION_KEY)) {
    (void)snprintf(choices->key, sizeof(choices->key), "%s", options->key);
  }
  if (options_have(options, OPTION_TEMPO)) {
    choices->tempo_bpm = options->tempo_bpm;
  }
  if (options_have(options, OPTION_BARS)) {
    choices->bars = options->bars;
  }
  if (options_have(options, OPTION_CHORUSES)) {
    choices->choruses = options->choruses;
  }
  if (options_have(options, OPTION_FIRST)) {
    choices->partner_begins = options->partner_begins;
  }
  if (options_have(options, OPTION_SEED)) {
    choices->seed = options->seed;
  }
  choices->makes_room = options_have(options, OPTION_MAKE_ROOM);
}

// A name goes into a recording, on a line of its own
static Status
check_name(const char* const what, const char* const name, Faults* const faults)
{
  if (strlen(name) >= SETUP_NAME_CAPACITY) {
    return faults_add(faults,
                      STATUS_RANGE,
                      NULL,
                      0,
                      "the name of the %s is too long; it may have %d bytes",
                      what,
                      SETUP_NAME_CAPACITY - 1);
  }
  if (strpbrk(name, "\n\r")) {
    return faults_add(
      faults,
      STATUS_SYNTAX,
      NULL,
      0,
      "the name of the %s has a line break in it; give the file "
      "another",
      what);
  }
  return STATUS_OK;
}

static Status
check_names(const Options* const options, Faults* const faults)
{
  const Status chart = options_have(options, OPTION_CHART)
                         ? check_name("chart", options->chart, faults)
                         : STATUS_OK;
  const Status feel  = options_have(options, OPTION_FEEL)
                         ? check_name("feel", options->feel, faults)
                         : STATUS_OK;
  return chart ? chart : feel;
}

static Status
read_rung(Rung* const rung, const char* const text, Faults* const faults)
{
  return text[0] && rung_parse(rung, text)
           ? faults_add(faults,
                        STATUS_RANGE,
                        NULL,
                        0,
                        "the rung %s is not understood; 1 to 8 for all, or "
                        "notes=1..%d,rhythm=1..%d,shape=1..%d,ornament=1..%d",
                        text,
                        N_NOTES_RUNGS,
                        N_RHYTHM_RUNGS,
                        N_SHAPE_RUNGS,
                        N_ORNAMENT_RUNGS)
           : STATUS_OK;
}

// What --rung names goes before all; the teacher holds the rest
static Status
choose_rung(Choices* const        choices,
            const Defaults* const defaults,
            const Who* const      who,
            const Options* const  options,
            Faults* const         faults)
{
  const Status status = read_rung(&choices->rung, defaults->rung, faults);
  if (status) {
    return status;
  }
  if (who->has_stand) {
    choices->rung = who->stand.rung;
  }
  choices->rung = learner_hold(&who->learner, choices->rung);
  choices->most = who->learner.caps;
  return options_have(options, OPTION_RUNG)
           ? read_rung(&choices->rung, options->rung, faults)
           : STATUS_OK;
}

Status
setup_choose(Choices* const       choices,
             const Options* const options,
             Faults* const        faults)
{
  Defaults defaults;
  Who      who;
  Status   status = setup_defaults(&defaults, faults);
  if (status || (status = check_names(options, faults)) ||
      (status = who_find(&who, options, &defaults, faults))) {
    return status;
  }
  *choices = choices_of(&defaults);
  apply_learner(choices, &who);
  apply_options(choices, options);
  return choose_rung(choices, &defaults, &who, options, faults);
}

Status
setup_climb(Choices* const       choices,
            const Options* const options,
            Faults* const        faults)
{
  Defaults defaults;
  Who      who;
  if (options_have(options, OPTION_RUNG)) {
    return STATUS_OK;
  }
  Status status = setup_defaults(&defaults, faults);
  if (status || (status = who_find(&who, options, &defaults, faults))) {
    return status;
  }
  choices->rung   = learner_hold(&who.learner, choices->rung);
  choices->plan   = learner_climb(&who.learner);
  choices->budget = who.has_stand && who.stand.budget != JOURNAL_NONE
                      ? who.stand.budget / 1000.0
                      : 0.0;
  // Whoever was eased meanwhile, by hand, earns the next rung from here
  if (who.has_stand && climb_sum(choices->rung) < climb_sum(who.stand.rung)) {
    const double most = climb_sum(choices->rung) + eased_room;
    choices->budget   = choices->budget < most ? choices->budget : most;
  }
  memcpy(choices->skill.level, who.habits.heard, sizeof(who.habits.heard));
  choices->skill.level[DIMENSION_SHAPE] = 0.0; // One phrase shows none
  choices->usual_spread_ms              = who.habits.spread_ms;
  choices->practised = (unsigned)(who.habits.n_sessions % INT16_MAX) + 1;
  return STATUS_OK;
}

// Loading

// FNV-1a, 64 bits (Fowler, Noll & Vo): enough to see that a file has changed
static uint64_t
sum_of_file(const char* const path)
{
  uint8_t* bytes = NULL;
  size_t   size  = 0;
  Fault    fault;
  uint64_t sum = UINT64_C(14695981039346656037);
  if (smf_file_read(path, &bytes, &size, &fault)) {
    return 0;
  }
  for (size_t i = 0; i < size; ++i) {
    sum = (sum ^ bytes[i]) * UINT64_C(1099511628211);
  }
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

static void
take_suggestions(Setup* const setup)
{
  Choices* const choices = &setup->choices;
  if (!choices->feel[0]) {
    copy_name(choices->feel,
              setup->chart.feel[0] ? setup->chart.feel : usual_feel);
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
