#include "responder/app/learner_show.h"

#include "core/settings/value.h"
#include "profiles/choices/choices_file.h"
#include "profiles/journal/day.h"
#include "profiles/learner/learner_file.h"
#include "responder/app/command.h"
#include "responder/app/today.h"
#include "responder/app/who.h"
#include "responder/setup/setup.h"

#include <inttypes.h>
#include <stdio.h>

static const int64_t minute_ms = 60000;

Status
learner_sum_up(const Person* const person,
               Progress* const     progress,
               Fault* const        fault)
{
  Journal*      journal = NULL;
  JournalTotals totals  = {.n_totals = 0};
  Status        status =
    journal_open(&journal, person->journal, JOURNAL_MUST_EXIST, fault);
  if (status == STATUS_MISSING) {
    *progress = progress_of(&totals, today());
    return STATUS_OK;
  }
  if (!status) {
    status = journal_totals(journal, &totals, fault);
    journal_close(journal);
  }
  if (!status) {
    *progress = progress_of(&totals, today());
    journal_totals_free(&totals);
  }
  return status;
}

// list

static int
list_one(const char* const id)
{
  Person   person;
  Learner  learner = learner_plain(id);
  Faults   faults  = {.n_faults = 0};
  Fault    fault;
  Progress progress;
  char     last[DAY_TEXT_CAPACITY] = "never";
  if (people_find(&person, id, &fault)) {
    return command_fail(&fault);
  }
  // A fault in the settings is told by other commands
  (void)!learner_file_load(&learner, person.settings, &faults);
  if (learner_sum_up(&person, &progress, &fault)) {
    return command_fail(&fault);
  }
  if (progress.days) {
    (void)day_text(progress.last_day, last);
  }
  (void)printf("%-16s %-24s %8u %5u %8u  %s\n",
               id,
               learner.name,
               progress.sessions,
               progress.days,
               progress.days_in_a_row,
               last);
  return EXIT_DONE;
}

int
learner_list(const Options* const options, const Person* const nobody)
{
  (void)options;
  (void)nobody;
  PeopleList people;
  Fault      fault;
  if (people_list(&people, &fault)) {
    return command_fail(&fault);
  }
  int code = EXIT_DONE;
  if (!people.n_ids) {
    (void)puts("There is nobody yet; barter learner add ID adds someone.");
  } else {
    (void)printf("%-16s %-24s %8s %5s %8s  %s\n",
                 "ID",
                 "name",
                 "sessions",
                 "days",
                 "in a row",
                 "last");
  }
  for (size_t i = 0; i < people.n_ids; ++i) {
    const int one = list_one(people.ids[i]);
    code          = one ? one : code;
  }
  people_list_free(&people);
  return code;
}

// show

static void
show_held(const char* const word, const Rung* const rung)
{
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    if (rung->level[d]) {
      (void)printf("             %s %s at %u\n",
                   dimension_name((Dimension)d),
                   word,
                   (unsigned)rung->level[d]);
    }
  }
}

static void
show_settings(const Learner* const learner)
{
  const Choices* const choices = &learner->choices;
  char                 split[PITCH_TEXT_CAPACITY];
  char                 lowest[PITCH_TEXT_CAPACITY];
  char                 highest[PITCH_TEXT_CAPACITY];
  (void)printf(
    "  hands      melody from %s up; answers from %s to %s, no stretch over\n"
    "             %u semitones\n",
    value_pitch_text(choices->split, split),
    value_pitch_text(choices->lowest, lowest),
    value_pitch_text(choices->highest, highest),
    (unsigned)choices->hand_span);
  if (choices_place(choices, CHOICE_TEMPO) == CHOICE_BY_LEARNER) {
    (void)printf("  tempo      %.10g\n", choices->tempo_bpm);
  } else {
    (void)printf("  tempo      the chart's own\n");
  }
  (void)printf("  aim        %.0f %% of turns succeed; the pace is %s\n",
               100.0 * learner->target_rate,
               learner_pace_name(learner->pace));
  show_held("capped", &learner->caps);
  show_held("pinned", &learner->pins);
  for (unsigned i = 0; i < learner->n_goals; ++i) {
    (void)printf("  %-10s %s\n", i ? "" : "goals", learner->goals[i]);
  }
}

static void
show_stand(const Who* const who)
{
  char text[RUNG_TEXT_CAPACITY];
  if (who->has_stand) {
    (void)printf("  stands on  %s\n",
                 rung_text(learner_hold(&who->learner, who->stand.rung), text));
  } else {
    (void)printf("  stands on  the ladder's first rungs\n");
  }
}

void
learner_show_practice(const Progress* const progress)
{
  char first[DAY_TEXT_CAPACITY];
  char last[DAY_TEXT_CAPACITY];
  if (!progress->days) {
    (void)printf("  practice   none yet\n");
    return;
  }
  const int64_t minutes = (progress->length_ms + minute_ms / 2) / minute_ms;
  (void)printf("  practice   %u session%s on %u day%s, %" PRId64
               " minute%s, %s to %s\n",
               progress->sessions,
               progress->sessions == 1 ? "" : "s",
               progress->days,
               progress->days == 1 ? "" : "s",
               minutes,
               minutes == 1 ? "" : "s",
               day_text(progress->first_day, first),
               day_text(progress->last_day, last));
}

int
learner_show(const Options* const options, const Person* const person)
{
  (void)options; // As all that are about one person
  Faults   faults = {.n_faults = 0};
  Fault    fault;
  Choices  choices;
  Progress progress;
  Who      who  = {.has_place = false};
  int      code = EXIT_DONE;
  if (choices_load(&choices, &faults)) {
    return command_fail_all(&faults);
  }
  if (who_find(&who, person->id, &choices, &faults)) {
    code = command_fail_all(&faults);
  }
  if (learner_sum_up(person, &progress, &fault)) {
    return command_fail(&fault);
  }
  (void)printf("%s (%s)\n", who.learner.name, person->id);
  if (!code) {
    show_settings(&who.learner);
    show_stand(&who);
  }
  learner_show_practice(&progress);
  (void)printf("  settings   %s\n", person->settings);
  return code;
}
