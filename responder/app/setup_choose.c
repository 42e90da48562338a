#include "responder/app/setup.h"

#include "core/settings/places.h"
#include "profiles/learner/learner_climb.h"
#include "responder/app/command.h"
#include "responder/app/who.h"

#include <stdio.h>
#include <string.h>

static const double eased_room = 0.5; // Budget above the rungs

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
  if (who.has_bad_journal && !options_have(options, OPTION_PRACTICE)) {
    char text[FAULT_TEXT_CAPACITY];
    command_say("%s; going on without it: move it away, or bring an export "
                "back by learner import",
                fault_text(&who.journal_fault, text, sizeof(text)));
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
