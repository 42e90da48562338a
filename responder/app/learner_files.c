#include "responder/app/learner_files.h"

#include "core/files/file.h"
#include "profiles/exchange/exchange.h"
#include "profiles/learner/learner_file.h"
#include "responder/app/command.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

// Out

static Status
write_table(FILE* const stream, const Person* const person, Fault* const fault)
{
  Journal* journal = NULL;
  Status   status =
    journal_open(&journal, person->journal, JOURNAL_MUST_EXIST, fault);
  if (status == STATUS_MISSING) {
    return fault_set(
      fault, status, NULL, 0, "%s has not practised yet", person->id);
  }
  if (!status) {
    status = exchange_write_csv(stream, journal, fault);
    journal_close(journal);
  }
  return status;
}

static Status
write_either(FILE* const          stream,
             const Person* const  person,
             const Options* const options,
             Fault* const         fault)
{
  return options_have(options, OPTION_CSV)
           ? write_table(stream, person, fault)
           : exchange_write(stream, person, fault);
}

static Status
write_file(const Options* const options,
           const Person* const  person,
           Fault* const         fault)
{
  const char* const path = options->operands[1];
  FileSaving        saving;
  if (strcmp(path, "-") == 0) {
    const Status status = write_either(stdout, person, options, fault);
    return !status && fflush(stdout)
             ? fault_set(
                 fault, STATUS_SYSTEM, NULL, 0, "standard output took no more")
             : status;
  }
  Status status = file_begin(&saving, path, FILE_PRIVATE, fault);
  if (status) {
    return status;
  }
  status = write_either(saving.stream, person, options, fault);
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

int
learner_export(const Options* const options, const Person* const person)
{
  Faults  faults = {.n_faults = 0};
  Fault   fault;
  Learner learner = learner_plain(person->id);
  if (!options_have(options, OPTION_CSV) &&
      access(person->settings, F_OK) == 0 &&
      learner_file_load(&learner, person->settings, &faults)) {
    (void)command_fail_all(&faults);
    command_say("these settings are left out of the export; the journal is "
                "all there");
  }
  if (write_file(options, person, &fault)) {
    return command_fail(&fault);
  }
  tell_export(options, person);
  return EXIT_DONE;
}

// In

/// Whether a person's journal is of one of the IDs of a file.
static bool
is_same(const Person* const person, const ExchangeHead* const head)
{
  Journal* journal = NULL;
  Fault    ignored;
  bool     is = false;
  if (journal_open(&journal, person->journal, JOURNAL_MUST_EXIST, &ignored)) {
    return false;
  }
  for (size_t i = 0; !is && i < head->n_persons; ++i) {
    is = journal_is_of(journal, head->persons[i]);
  }
  journal_close(journal);
  return is;
}

/// Look for who a file is about among those who are here.
static Status
find_same(Person* const             person,
          bool* const               is_found,
          const ExchangeHead* const head,
          Fault* const              fault)
{
  PeopleList   list;
  const Status status = people_list(&list, fault);
  if (status) {
    return status;
  }
  *is_found = false;
  for (size_t i = 0; !*is_found && i < list.n_ids; ++i) {
    Person one;
    Fault  ignored;
    if (!people_find(&one, list.ids[i], &ignored) && is_same(&one, head)) {
      *person   = one;
      *is_found = true;
    }
  }
  people_list_free(&list);
  return STATUS_OK;
}

/// Choose whose a file becomes: who is named, who it is about, else its own ID
/// if that is free.
static Status
choose_person(Person* const             person,
              const ExchangeHead* const head,
              const Options* const      options,
              Fault* const              fault)
{
  if (options_have(options, OPTION_AS)) {
    return people_place(person, options->as, fault);
  }
  bool   is_found = false;
  Status status   = find_same(person, &is_found, head, fault);
  if (status || is_found) {
    return status;
  }
  status = people_place(person, head->learner, fault);
  return !status && people_is_there(person)
           ? fault_set(fault,
                       STATUS_RANGE,
                       NULL,
                       0,
                       "there is another learner %s here; --as ID says whose "
                       "this is to become, %s's too",
                       person->id,
                       person->id)
           : status;
}

static void
tell_gain(const Person* const      person,
          const JournalGain* const gain,
          const bool               has_settings)
{
  (void)printf("%s: %zu new session%s, %zu new turn%s",
               person->id,
               gain->sessions_added,
               gain->sessions_added == 1 ? "" : "s",
               gain->turns_added,
               gain->turns_added == 1 ? "" : "s");
  if (gain->ideas_added) {
    (void)printf(
      ", %zu new idea%s", gain->ideas_added, gain->ideas_added == 1 ? "" : "s");
  }
  if (gain->records_replaced) {
    (void)printf("; %zu differed", gain->records_replaced);
  }
  (void)printf("%s\n",
               has_settings ? "; its settings are newer and are taken" : "");
}

/// Merge a file that was looked over into a person who is there.
static Status
merge(const Person* const       person,
      const ExchangeHead* const head,
      const char* const         path,
      Fault* const              fault)
{
  JournalGain gain;
  Journal*    journal  = NULL;
  bool        is_taken = false;
  Status      status =
    journal_open(&journal, person->journal, JOURNAL_MAY_CREATE, fault);
  if (!status) {
    status = exchange_merge(journal, path, NULL, &gain, fault);
    journal_close(journal);
  }
  if (!status) {
    status = exchange_take_settings(person, head, &is_taken, fault);
  }
  if (!status) {
    tell_gain(person, &gain, is_taken);
  }
  return status;
}

static Status
bring_in(const Person* const       person,
         const ExchangeHead* const head,
         const char* const         path,
         Fault* const              fault)
{
  const bool is_new = !people_is_there(person);
  Status     status = STATUS_OK;
  if (is_new) {
    // Nobody made these settings: any others are newer
    const Learner learner = learner_plain(head->learner);
    status                = people_make(person, &learner, fault);
    if (!status) {
      status = exchange_stamp(person, 0, fault);
    }
  }
  if (!status) {
    status = merge(person, head, path, fault);
  }
  if (status && is_new) {
    Fault ignored;
    (void)!people_remove(person, &ignored);
  }
  return status;
}

int
learner_import(const Options* const options, const Person* const nobody)
{
  (void)nobody;
  const char* const path = options->operands[0];
  ExchangeHead      head;
  Person            person;
  Fault             fault;
  if (exchange_look(&head, path, &fault)) {
    return command_fail(&fault);
  }
  Status status = choose_person(&person, &head, options, &fault);
  if (!status) {
    status = bring_in(&person, &head, path, &fault);
  }
  exchange_head_free(&head);
  return command_end(status, &fault);
}
