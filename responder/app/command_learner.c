#include "responder/app/command.h"
#include "responder/app/endings.h"
#include "responder/app/learner_change.h"
#include "responder/app/learner_edit.h"
#include "responder/app/outputs.h"

#include "core/files/file.h"
#include "core/settings/nearest.h"
#include "profiles/choices/choices_file.h"
#include "profiles/journal/day.h"
#include "responder/lesson/class.h"
#include "responder/lesson/learners.h"
#include "responder/lesson/removal.h"
#include "responder/lesson/today.h"
#include "responder/lesson/who.h"
#include "responder/tell/learners_tell.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
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
  if (learner_check_name(name, &fault)) {
    return command_fail(&fault);
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

// list

static int
list(const Options* const options, const Person* const nobody)
{
  (void)nobody;
  const ClassWish wish = {
    options_have(options, OPTION_SORT) ? (ClassOrder)options->sort
                                       : CLASS_BY_ID,
    options_have(options, OPTION_LOOK),
  };
  Faults faults = {.n_faults = 0};
  Class  all;
  if (class_read(&all, &wish, today(), &faults)) {
    return command_fail_all(&faults);
  }
  if (all.n) {
    learners_tell_class(stdout, &all);
  } else if (!faults.n_faults) {
    (void)puts(wish.only_looks ? "Nobody needs a look."
                               : "There is nobody yet; barter learner add ID "
                                 "adds someone.");
  }
  class_free(&all);
  return faults.n_faults ? command_fail_all(&faults) : EXIT_DONE;
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
             ? fault_say(fault, STATUS_SYSTEM, "standard output took no more")
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
bring_in(const LearnersImport* const it)
{
  const Watch  watch = {outputs_show, NULL};
  LearnersGain gain;
  Fault        fault;
  const Status status = learners_import(it, &watch, &gain, &fault);
  if (!status) {
    learners_tell_gain(stdout, it->person.id, &gain);
  }
  return command_end(status, &fault);
}

/// Ask for one of the ways to go on with somebody else's file.
static int
ask_for_merge(const LearnersImport* const it, const char* const id)
{
  return id ? command_misuse("%s is somebody else; --merge makes one of them "
                             "and %s, for good",
                             it->person.id,
                             it->head.learner)
            : command_misuse(
                "there is another learner %s here; --as ID says whose this is "
                "to become, and --as %s --merge makes one of both",
                it->person.id,
                it->person.id);
}

static int
import(const Options* const options, const Person* const nobody)
{
  (void)nobody;
  const char* const id = options_have(options, OPTION_AS) ? options->as : NULL;
  LearnersImport    it;
  Fault             fault;
  if (learners_import_look(&it, options->operands[0], id, &fault)) {
    return command_fail(&fault);
  }
  const int code = it.is_other && !options_have(options, OPTION_MERGE)
                     ? ask_for_merge(&it, id)
                     : bring_in(&it);
  learners_import_free(&it);
  return code;
}

// remove

static int
remove_for_good(const Person* const person)
{
  Removed removed;
  Fault   fault;
  if (removal_for_good(person, &removed, &fault)) {
    return command_fail(&fault);
  }
  const unsigned n = removed.n_recordings;
  (void)printf("Nothing is left of %s", person->id);
  if (removed.leaves_any) {
    (void)printf(" but recordings: they go once every other journal can be "
                 "read,\nfor they may be of others, too");
  }
  if (n) {
    (void)printf("; %u recording%s went too", n, n == 1 ? "" : "s");
  }
  (void)printf(".\n");
  return EXIT_DONE;
}

static int
remove_person(const Options* const options, const Person* const person)
{
  Progress progress = {.days = 0};
  Fault    fault;
  char     path[PLACE_PATH_CAPACITY];
  char     until[DAY_TEXT_CAPACITY];
  if (options_have(options, OPTION_FOR_GOOD)) {
    return remove_for_good(person);
  }
  if (!people_is_there(person)) {
    Person found;
    return command_end(people_find(&found, person->id, &fault), &fault);
  }
  const bool is_known = !learners_sum_up(&progress, person, today(), &fault);
  if (removal_keep(person, today(), path, &fault)) {
    const int code = command_fail(&fault);
    command_say("so no export could be kept, and %s is still here; --for-good "
                "removes all the same",
                person->id);
    return code;
  }
  (void)printf("%s is removed. Until %s all of it is kept in\n"
               "  %s\n"
               "and the recordings stay where they are. To bring it back:\n"
               "  barter learner import PATH --as %s\n"
               "After that day all of it goes; barter learner remove %s "
               "--for-good\nremoves it now.\n",
               person->id,
               day_text(today() + REMOVAL_DAYS, until),
               path,
               person->id,
               person->id);
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
} Action;

enum { ANY_NUMBER = 99 }; // Of operands, one or more

static const Action actions[] = {
  {"add", "ID [--name NAME]", 1, false, OPTION_BIT(OPTION_NAME), add},
  {"list",
   "[--sort id|last|look] [--look]",
   0,
   false,
   OPTION_BIT(OPTION_SORT) | OPTION_BIT(OPTION_LOOK),
   list},
  {"show", "ID", 1, true, 0, show},
  {"edit", "ID", 1, true, 0, learner_edit},
  {"set", "ID NAME=VALUE ...", ANY_NUMBER, true, 0, learner_change},
  {"export", "ID FILE [--csv]", 2, true, OPTION_BIT(OPTION_CSV), export},
  {"import",
   "FILE [--as ID] [--merge]",
   1,
   false,
   OPTION_BIT(OPTION_AS) | OPTION_BIT(OPTION_MERGE),
   import},
  {"remove",
   "ID [--for-good]",
   1,
   false,
   OPTION_BIT(OPTION_FOR_GOOD),
   remove_person},
};

enum { N_ACTIONS = sizeof(actions) / sizeof(*actions) };

static const Action*
find_action(const char* const name)
{
  for (unsigned i = 0; i < N_ACTIONS; ++i) {
    if (strcmp(name, actions[i].name) == 0) {
      return &actions[i];
    }
  }
  return NULL;
}

static int
no_such_action(const char* const name)
{
  const char* names[N_ACTIONS];
  for (unsigned i = 0; i < N_ACTIONS; ++i) {
    names[i] = actions[i].name;
  }
  const char* const near = nearest_word(name, names, N_ACTIONS);
  return command_misuse("learner cannot %s; %s%s",
                        name,
                        near ? "did you mean "
                             : "barter learner --help tells "
                               "what it can",
                        near ? near : "");
}

static int
do_action(const Action* const action, const Options* const options)
{
  Person  person = {.id = ""};
  Options rest   = *options;
  Fault   fault;
  ++rest.operands;
  --rest.n_operands;
  const bool is_about_one = action->n_operands && action->run != import;
  const bool is_right     = action->n_operands == ANY_NUMBER
                              ? rest.n_operands > 0
                              : rest.n_operands == action->n_operands;
  if (!is_right || (rest.given & ~action->options)) {
    return command_misuse(
      "write barter learner %s %s", action->name, action->use);
  }
  if (is_about_one &&
      (action->must_exist ? people_find(&person, rest.operands[0], &fault)
                          : people_place(&person, rest.operands[0], &fault))) {
    return command_fail(&fault);
  }
  return action->run(&rest, &person);
}

static int
run(const Options* const options)
{
  removal_look(today());
  if (!options->n_operands) {
    return command_misuse(
      "learner is to be told what to do: add, list, show, edit, set, export, "
      "import or remove");
  }
  const Action* const action = find_action(options->operands[0]);
  return action ? do_action(action, options)
                : no_such_action(options->operands[0]);
}

const Command command_learner = {
  .name     = "learner",
  .operands = "add|list|show|edit|set|export|import|remove ...",
  .summary  = "the people who play, and what is kept of them",
  .words =
    "  add ID [--name NAME]     begin to keep someone; ID: small letters, "
    "digits\n"
    "  list [--sort id|last|look] [--look]\n"
    "                           who there is; who needs a look: fell twice "
    "in\n"
    "                           a fortnight, did much worse of late, or has\n"
    "                           not practised for a week, or never\n"
    "  show ID                  what is set, where they stand, what they did\n"
    "  edit ID                  change what is set, in $EDITOR; a draft at "
    "fault\n"
    "                           waits for the next time\n"
    "  set ID NAME=VALUE ...    the same in words: set ada tempo=90 target=75\n"
    "                           goals=\"Land on the chord; leave room\"\n"
    "                           caps.rhythm=4\n"
    "  export ID FILE [--csv]   all that is kept as one file; as a table\n"
    "  import FILE [--as ID]    bring an export together with what is here:\n"
    "                           in any order, nothing lost, nothing doubled;\n"
    "                           --merge where that is somebody else\n"
    "  remove ID [--for-good]   take someone out; for thirty days an export "
    "is\n"
    "                           kept, which import brings back, or nothing\n"
    "\n"
    "All of it stays on this machine, in ~/.local/share/barter/learners.",
  .options = OPTION_BIT(OPTION_NAME) | OPTION_BIT(OPTION_AS) |
             OPTION_BIT(OPTION_CSV) | OPTION_BIT(OPTION_MERGE) |
             OPTION_BIT(OPTION_FOR_GOOD) | OPTION_BIT(OPTION_SORT) |
             OPTION_BIT(OPTION_LOOK),
  .run = run,
};
