#include "responder/app/command.h"

#include "core/settings/nearest.h"
#include "profiles/choices/choices_file.h"
#include "profiles/learner/learner_file.h"
#include "responder/app/learner_files.h"
#include "responder/app/learner_show.h"
#include "responder/app/who.h"

#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

// add

static int
add(const Options* const options, const Person* const person)
{
  Faults  faults = {.n_faults = 0};
  Fault   fault;
  Choices choices;
  if (choices_load(&choices, &faults)) {
    return command_fail_all(&faults);
  }
  const bool        is_named = options_have(options, OPTION_NAME);
  const char* const name     = is_named ? options->name : person->id;
  if (!learner_is_name(name)) {
    return command_misuse("--name is to be one line of 1 to %d bytes, as "
                          "\"Ada\"",
                          LEARNER_NAME_CAPACITY - 1);
  }
  const Learner learner = who_plain(name, &choices);
  if (people_make(person, &learner, &fault)) {
    return command_fail(&fault);
  }
  (void)printf("%s is added. Set what is right for them in\n"
               "  %s\n"
               "or with barter learner edit %s\n",
               person->id,
               person->settings,
               person->id);
  return EXIT_DONE;
}

// edit

/// Let the person's own editor change a file; its exit status, or -1.
static int
run_editor(const char* const path)
{
  const pid_t child = fork();
  if (child == 0) {
    // An editor may be named with options of its own: let the shell read them
    (void)execl("/bin/sh",
                "sh",
                "-c",
                "exec ${VISUAL:-${EDITOR:-vi}} \"$1\"",
                "sh",
                path,
                (char*)NULL);
    _exit(127);
  }
  int status = 0;
  if (child < 0 || waitpid(child, &status, 0) != child || !WIFEXITED(status)) {
    return -1;
  }
  return WEXITSTATUS(status);
}

static int
edit(const Options* const options, const Person* const person)
{
  (void)options;
  Faults  faults  = {.n_faults = 0};
  Learner learner = learner_plain(person->id);
  Fault   fault;
  if (access(person->settings, F_OK) &&
      learner_file_save(&learner, person->settings, &fault)) {
    return command_fail(&fault);
  }
  if (run_editor(person->settings)) {
    command_say("no editor could be run; set EDITOR to one, or change %s",
                person->settings);
    return EXIT_SYSTEM;
  }
  if (learner_file_load(&learner, person->settings, &faults)) {
    return command_fail_all(&faults);
  }
  (void)printf("%s: good\n", person->settings);
  return EXIT_DONE;
}

// remove

static int
remove_person(const Options* const options, const Person* const person)
{
  (void)options;
  Progress   progress = {.days = 0};
  Fault      fault;
  const bool is_known = !learner_sum_up(person, &progress, &fault);
  if (people_remove(person, &fault)) {
    return command_fail(&fault);
  }
  (void)printf("%s is removed, with all that was kept in\n  %s\n",
               person->id,
               person->folder);
  if (is_known) {
    learner_show_practice(&progress);
  }
  return EXIT_DONE;
}

// Which of them

/// What can be done with people.
typedef struct {
  const char* name;
  const char* use; ///< The operands and options
  unsigned    n_operands;
  bool        must_exist; ///< The person whose ID comes first
  OptionSet   options;    ///< That mean something here
  int (*run)(const Options* options, const Person* person);
} Errand;

static const Errand errands[] = {
  {"add", "ID [--name NAME]", 1, false, OPTION_BIT(OPTION_NAME), add},
  {"list", "", 0, false, 0, learner_list},
  {"show", "ID", 1, true, 0, learner_show},
  {"edit", "ID", 1, true, 0, edit},
  {"export",
   "ID FILE [--csv]",
   2,
   true,
   OPTION_BIT(OPTION_CSV),
   learner_export},
  {"import", "FILE [--as ID]", 1, false, OPTION_BIT(OPTION_AS), learner_import},
  {"remove", "ID", 1, true, 0, remove_person},
};

enum { N_ERRANDS = sizeof(errands) / sizeof(*errands) };

static const Errand*
find_errand(const char* const name)
{
  for (unsigned i = 0; i < N_ERRANDS; ++i) {
    if (strcmp(name, errands[i].name) == 0) {
      return &errands[i];
    }
  }
  return NULL;
}

static int
no_such_errand(const char* const name)
{
  const char* names[N_ERRANDS];
  for (unsigned i = 0; i < N_ERRANDS; ++i) {
    names[i] = errands[i].name;
  }
  const char* const near = nearest_word(name, names, N_ERRANDS);
  return command_misuse("learner cannot %s; %s%s",
                        name,
                        near ? "did you mean "
                             : "barter learner --help tells "
                               "what it can",
                        near ? near : "");
}

static int
do_errand(const Errand* const errand, const Options* const options)
{
  Person  person = {.id = ""};
  Options rest   = *options;
  Fault   fault;
  ++rest.operands;
  --rest.n_operands;
  const bool is_about_one = errand->n_operands && errand->run != learner_import;
  if (rest.n_operands != errand->n_operands ||
      (rest.given & ~errand->options)) {
    return command_misuse(
      "write barter learner %s %s", errand->name, errand->use);
  }
  if (is_about_one &&
      (errand->must_exist ? people_find(&person, rest.operands[0], &fault)
                          : people_place(&person, rest.operands[0], &fault))) {
    return command_fail(&fault);
  }
  return errand->run(&rest, &person);
}

static int
run(const Options* const options)
{
  if (!options->n_operands) {
    return command_misuse(
      "learner is to be told what to do: add, list, show, edit, export, import "
      "or remove");
  }
  const Errand* const errand = find_errand(options->operands[0]);
  return errand ? do_errand(errand, options)
                : no_such_errand(options->operands[0]);
}

const Command command_learner = {
  .name     = "learner",
  .operands = "add|list|show|edit|export|import|remove ...",
  .summary  = "the people who play, and what is kept of them",
  .words =
    "  add ID [--name NAME]     begin to keep someone; ID: small letters, "
    "digits\n"
    "  list                     who there is\n"
    "  show ID                  what is set, where they stand, what they did\n"
    "  edit ID                  change what is set, in $EDITOR\n"
    "  export ID FILE [--csv]   all that is kept as one file; as a table\n"
    "  import FILE [--as ID]    bring an export together with what is here:\n"
    "                           in any order, nothing lost, nothing doubled\n"
    "  remove ID                delete all that is kept of someone, for good\n"
    "\n"
    "All of it stays on this machine, in ~/.local/share/barter/learners.",
  .options =
    OPTION_BIT(OPTION_NAME) | OPTION_BIT(OPTION_AS) | OPTION_BIT(OPTION_CSV),
  .run = run,
};
