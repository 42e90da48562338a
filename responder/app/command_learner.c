#include "responder/app/command.h"
#include "responder/app/endings.h"
#include "responder/app/outputs.h"

#include "core/files/file.h"
#include "core/settings/nearest.h"
#include "profiles/choices/choices_file.h"
#include "profiles/learner/learner_file.h"
#include "responder/lesson/learners.h"
#include "responder/lesson/today.h"
#include "responder/lesson/who.h"
#include "responder/tell/learners_tell.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
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

// list

static int
list_one(const char* const id)
{
  Person   person;
  Learner  learner = learner_plain(id);
  Faults   faults  = {.n_faults = 0};
  Fault    fault;
  Progress progress;
  if (people_find(&person, id, &fault)) {
    return command_fail(&fault);
  }
  // A fault in the settings is told by other commands
  (void)!learner_file_load(&learner, person.settings, &faults);
  if (learners_sum_up(&progress, &person, today(), &fault)) {
    return command_fail(&fault);
  }
  learners_tell_line(stdout, id, learner.name, &progress);
  return EXIT_DONE;
}

static int
list(const Options* const options, const Person* const nobody)
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
    learners_tell_columns(stdout);
  }
  for (size_t i = 0; i < people.n_ids; ++i) {
    const int one = list_one(people.ids[i]);
    code          = one ? one : code;
  }
  people_list_free(&people);
  return code;
}

// show

static int
show(const Options* const options, const Person* const person)
{
  (void)options;
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
  if (learners_sum_up(&progress, person, today(), &fault)) {
    return command_fail(&fault);
  }
  (void)printf("%s (%s)\n", who.learner.name, person->id);
  if (!code) {
    learners_tell_settings(stdout, &who);
  }
  learners_tell_practice(stdout, &progress);
  (void)printf("  settings   %s\n", person->settings);
  return code;
}

// export

static Status
write_either(FILE* const          stream,
             const Person* const  person,
             const Options* const options,
             Faults* const        faults,
             Fault* const         fault)
{
  return options_have(options, OPTION_CSV)
           ? learners_export_table(stream, person, fault)
           : learners_export(stream, person, faults, fault);
}

static Status
write_file(const Options* const options,
           const Person* const  person,
           Faults* const        faults,
           Fault* const         fault)
{
  const char* const path = options->operands[1];
  FileSaving        saving;
  if (strcmp(path, "-") == 0) {
    const Status status = write_either(stdout, person, options, faults, fault);
    return !status && fflush(stdout)
             ? fault_set(
                 fault, STATUS_SYSTEM, NULL, 0, "standard output took no more")
             : status;
  }
  Status status = file_begin(&saving, path, FILE_PRIVATE, fault);
  if (status) {
    return status;
  }
  status = write_either(saving.stream, person, options, faults, fault);
  if (status) {
    file_abandon(&saving);
    return status;
  }
  return file_end(&saving, fault);
}

/// Say what was written, unless it went to where this is said.
static void
tell_export(const Options* const options, const Person* const person)
{
  const char* const path = options->operands[1];
  struct stat       about;
  struct stat       here;
  if (stat(path, &about) == 0 && S_ISREG(about.st_mode) &&
      (fstat(STDOUT_FILENO, &here) || here.st_dev != about.st_dev ||
       here.st_ino != about.st_ino)) {
    (void)printf(options_have(options, OPTION_CSV)
                   ? "The turns of %s are in %s.\n"
                   : "All there is of %s is in %s.\n",
                 person->id,
                 path);
  }
}

static int export(const Options* const options, const Person* const person)
{
  Faults     faults = {.n_faults = 0};
  Fault      fault;
  const bool is_table = options_have(options, OPTION_CSV);
  const int  ending =
    endings_check("export",
                  options->operands[1],
                  is_table ? "a table" : "all there is of a learner",
                  is_table ? ".csv" : ".json");
  if (ending) {
    return ending;
  }
  const Status status = write_file(options, person, &faults, &fault);
  if (faults.n_faults) {
    (void)command_fail_all(&faults);
    command_say("these settings are left out of the export; the journal is "
                "all there");
  }
  if (status) {
    return command_fail(&fault);
  }
  tell_export(options, person);
  return EXIT_DONE;
}

// import

static int
import(const Options* const options, const Person* const nobody)
{
  (void)nobody;
  const char* const id = options_have(options, OPTION_AS) ? options->as : NULL;
  LearnersImport    it;
  LearnersGain      gain;
  Fault             fault;
  if (learners_import_look(&it, options->operands[0], id, &fault)) {
    return command_fail(&fault);
  }
  const Watch  watch  = {outputs_show, NULL};
  const Status status = learners_import(&it, &watch, &gain, &fault);
  if (!status) {
    learners_tell_gain(stdout, it.person.id, &gain);
  }
  learners_import_free(&it);
  return command_end(status, &fault);
}

// remove

static int
remove_person(const Options* const options, const Person* const person)
{
  (void)options;
  Progress   progress = {.days = 0};
  Fault      fault;
  const bool is_known = !learners_sum_up(&progress, person, today(), &fault);
  if (people_remove(person, &fault)) {
    return command_fail(&fault);
  }
  (void)printf("%s is removed, with all that was kept in\n  %s\n",
               person->id,
               person->folder);
  if (is_known) {
    learners_tell_practice(stdout, &progress);
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
  {"list", "", 0, false, 0, list},
  {"show", "ID", 1, true, 0, show},
  {"edit", "ID", 1, true, 0, edit},
  {"export", "ID FILE [--csv]", 2, true, OPTION_BIT(OPTION_CSV), export},
  {"import", "FILE [--as ID]", 1, false, OPTION_BIT(OPTION_AS), import},
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
  const bool is_about_one = errand->n_operands && errand->run != import;
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
