#include "responder/app/begin.h"

#include "profiles/choices/choices_file.h"
#include "profiles/journal/day.h"
#include "responder/app/command.h"
#include "responder/lesson/choosing.h"
#include "responder/lesson/removal.h"
#include "responder/lesson/today.h"
#include "responder/lesson/warn.h"
#include "responder/record/recorded.h"

#include <string.h>

int
begin_who(Who* const who, const Options* const options)
{
  Faults  faults = {.n_faults = 0};
  Choices choices;
  removal_look(today());
  return choices_load(&choices, &faults) ||
             who_find(who, options_learner(options), &choices, &faults)
           ? command_fail_all(&faults)
           : EXIT_DONE;
}

Choices
begin_choose(const Who* const who, const Options* const options)
{
  if (who->has_bad_journal && !options_have(options, OPTION_PRACTICE)) {
    char text[FAULT_TEXT_CAPACITY];
    command_say("%s; going on without it",
                fault_text(&who->journal_fault, text, sizeof(text)));
  }
  return choose(who, &options->asked);
}

static void
warn_of_way(const Choices* const choices)
{
  const unsigned all = way_choruses(choices->way);
  if (choices->choruses && choices->choruses < all) {
    command_say("%s goes through %u choruses, each with its own task; of %u the "
                "rest is left out",
                way_names[choices->way],
                all,
                choices->choruses);
  }
}

int
begin_loaded(const Setup* const  setup,
             const Status        status,
             const Faults* const faults)
{
  if (setup->of_sentences.n_faults) {
    (void)command_fail_all(&setup->of_sentences);
    command_say("the sentences built in are used instead");
  }
  if (status) {
    return command_fail_all(faults);
  }
  warn_of_way(&setup->choices);
  return EXIT_DONE;
}

int
begin_setup(Setup* const setup, const Choices* const choices)
{
  Faults       faults = {.n_faults = 0};
  const Status status = setup_load(setup, choices, &faults);
  return begin_loaded(setup, status, &faults);
}

// What barter recorded knows what it was played over, and counts from its
// count-in
static int
take_recording(Choices* const       choices,
               Take* const          take,
               const Options* const options)
{
  const char* const path    = options->operands[0];
  Tick              bar_one = 0;
  Choices           then;
  Fault             ignored;
  if (recorded_choices(&then, &bar_one, path, &ignored)) {
    return EXIT_DONE;
  }
  if (!options_have(options, OPTION_LEAD_IN)) {
    take_shift(take, -bar_one);
  }
  const bool is_key = choices_place(choices, CHOICE_KEY) == CHOICE_BY_ASKING &&
                      strcmp(choices->key, then.key) != 0;
  const bool is_over_it = choose_recording(choices, &then);
  if (is_over_it && !recorded_has_chart(&then)) {
    return command_misuse("%s was played over %s, which is not here; put it "
                          "beside the recording, or name another by --chart",
                          path,
                          then.chart);
  }
  if (is_over_it) {
    command_say("%s was played over %s%s%s, and is heard over it%s%s%s; "
                "--chart says another",
                path,
                then.chart,
                then.key[0] ? " in " : "",
                then.key,
                is_key ? " in " : "",
                is_key ? choices->key : "",
                is_key ? ", as you say" : "");
  } else {
    command_say("%s was played over %s, and is heard over %s, as you say, with "
                "%u bar%s a turn%s%s",
                path,
                then.chart,
                choices->chart,
                choices->bars,
                choices->bars == 1 ? "" : "s",
                choices->key[0] ? " in " : "",
                choices->key);
  }
  return EXIT_DONE;
}

int
begin_take(Choices* const       choices,
           Take* const          take,
           const Who* const     who,
           const Options* const options)
{
  const char* const path    = options->operands[0];
  Notices           notices = {.n = 0};
  Fault             fault;
  *choices                = begin_choose(who, options);
  const TakeChoice choice = {
    options_have(options, OPTION_TRACK) ? options->track : NULL,
    options->lead_in_beats,
  };
  if (take_load(take, path, choice, &fault)) {
    return command_fail(&fault);
  }
  warn_of_take(&notices, path, take);
  choose_take(choices, take);
  const int code = take_recording(choices, take, options);
  if (code) {
    take_free(take);
    return code;
  }
  if (choices_place(choices, CHOICE_TEMPO) == CHOICE_BY_TAKE) {
    warn_of_tempo(&notices, path, take, choices->tempo_bpm);
  }
  command_notice(&notices);
  return EXIT_DONE;
}

void
begin_changed(const Setup* const setup, const Options* const options)
{
  const Choices* const now     = &setup->choices;
  const char* const    path    = options->operands[0];
  Tick                 bar_one = 0;
  Choices              then;
  Fault                ignored;
  if (!recorded_choices(&then, &bar_one, path, &ignored) &&
      strcmp(then.chart, now->chart) == 0 && then.sums[0] != now->sums[0]) {
    command_say("%s: the chart %s has changed since this was recorded; it is "
                "heard over what it is now",
                path,
                now->chart);
  }
}

void
begin_rest(const Take* const    take,
           const Tick           end,
           const Meter          meter,
           const Options* const options)
{
  Notices notices = {.n = 0};
  warn_of_rest(&notices, options->operands[0], take, end, meter);
  command_notice(&notices);
}

int
begin_day(int32_t* const day, const Options* const options)
{
  *day = today();
  return !options_have(options, OPTION_DATE) || day_read(day, options->date)
           ? EXIT_DONE
           : command_misuse("--date %.40s is no day; write it as 2025-11-25",
                            options->date);
}
