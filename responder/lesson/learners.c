#include "responder/lesson/learners.h"

#include "core/files/file.h"
#include "core/settings/settings.h"
#include "profiles/learner/learner_file.h"
#include "profiles/learner/learner_set.h"
#include "responder/lesson/practised.h"
#include "responder/lesson/today.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

Status
learners_sum_up(Progress* const     progress,
                const Person* const person,
                const int32_t       day,
                Fault* const        fault)
{
  JournalTotals totals;
  const Status  status = practised_read(&totals, NULL, person, fault);
  if (!status) {
    *progress = progress_of(&totals, day);
    journal_totals_free(&totals);
  }
  return status;
}

// Out

Status
learners_export(FILE* const         stream,
                const Person* const person,
                Faults* const       faults,
                Fault* const        fault)
{
  Learner learner = learner_plain(person->id);
  if (access(person->settings, F_OK) == 0) {
    (void)!learner_file_load(&learner, person->settings, faults);
  }
  return exchange_write(stream, person, fault);
}

Status
learners_export_table(FILE* const         stream,
                      const Person* const person,
                      Fault* const        fault)
{
  Journal* journal = NULL;
  Status   status =
    journal_open(&journal, person->journal, JOURNAL_MUST_EXIST, fault);
  if (status == STATUS_MISSING) {
    return fault_say(fault, status, "%s has not practised yet", person->id);
  }
  if (!status) {
    status = exchange_write_csv(stream, person->id, journal, fault);
    journal_close(journal);
  }
  return status;
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

static Status
choose_person(Person* const             person,
              const ExchangeHead* const head,
              const char* const         id,
              Fault* const              fault)
{
  if (id) {
    return people_place(person, id, fault);
  }
  bool   is_found = false;
  Status status   = find_same(person, &is_found, head, fault);
  if (status || is_found) {
    return status;
  }
  return people_place(person, head->learner, fault);
}

Status
learners_import_look(LearnersImport* const import,
                     const char* const     path,
                     const char* const     id,
                     Fault* const          fault)
{
  LearnersImport looked = {.path = path};
  Status         status = exchange_look(&looked.head, path, fault);
  if (status) {
    return status;
  }
  status = choose_person(&looked.person, &looked.head, id, fault);
  if (status) {
    exchange_head_free(&looked.head);
    return status;
  }
  looked.is_new   = !people_is_there(&looked.person);
  looked.is_other = !looked.is_new && !is_same(&looked.person, &looked.head);
  *import         = looked;
  return STATUS_OK;
}

void
learners_import_free(LearnersImport* const import)
{
  exchange_head_free(&import->head);
}

/// Take the settings that are newer; what is set of somebody else stays, and is
/// newer than these from now on.
static Status
settle(const LearnersImport* const import,
       bool* const                 has_settings,
       Fault* const                fault)
{
  const Person* const person = &import->person;
  if (import->is_other && access(person->settings, F_OK) == 0) {
    *has_settings = false;
    return exchange_stamp(person, now_ms() * 1000, fault);
  }
  return exchange_take_settings(person, &import->head, has_settings, fault);
}

/// Whether a file has settings, and others than are here now.
static bool
has_others(const LearnersImport* const import)
{
  char*      text = NULL;
  size_t     size = 0;
  Fault      ignored;
  const bool are_others =
    import->head.settings &&
    !file_load(
      import->person.settings, SETTINGS_SIZE_MAX, &text, &size, &ignored) &&
    strcmp(text, import->head.settings) != 0;
  free(text);
  return are_others;
}

static Status
merge(const LearnersImport* const import,
      const Watch* const          watch,
      LearnersGain* const         gain,
      Fault* const                fault)
{
  Journal* journal = NULL;
  Status   status =
    journal_open(&journal, import->person.journal, JOURNAL_MAY_CREATE, fault);
  if (!status) {
    status = exchange_merge(journal, import->path, watch, &gain->gain, fault);
    journal_close(journal);
  }
  if (!status) {
    status = settle(import, &gain->has_settings, fault);
  }
  gain->keeps_own = !status && has_others(import);
  return status;
}

// Nobody made these settings: any others are newer
static Status
make_person(const LearnersImport* const import, Fault* const fault)
{
  const Learner learner = learner_plain(import->head.learner);
  const Status  status  = people_make(&import->person, &learner, fault);
  return status ? status : exchange_stamp(&import->person, 0, fault);
}

Status
learners_import(const LearnersImport* const import,
                const Watch* const          watch,
                LearnersGain* const         gain,
                Fault* const                fault)
{
  LearnersGain gained = {.is_new = import->is_new};
  Status       status = import->is_new ? make_person(import, fault) : STATUS_OK;
  if (!status) {
    status = merge(import, watch, &gained, fault);
  }
  if (!status) {
    *gain = gained;
  } else if (import->is_new) {
    Fault ignored;
    (void)!people_remove(&import->person, &ignored);
  }
  return status;
}

// What is set

static Status
load_text(char** const text, const Person* const person, Fault* const fault)
{
  const Learner learner = learner_plain(person->id);
  size_t        size    = 0;
  if (access(person->settings, F_OK) &&
      learner_file_save(&learner, person->settings, fault)) {
    return fault->status;
  }
  return file_load(person->settings, SETTINGS_SIZE_MAX, text, &size, fault);
}

/// Read a text as the file will be read.
static Status
check_text(const char* const text, const char* const path, Faults* const faults)
{
  Learner   learner  = learner_plain("");
  Settings* settings = NULL;
  Status    status = settings_read(&settings, path, text, strlen(text), faults);
  if (!status) {
    status = learner_file_read(&learner, settings);
    settings_close(settings);
  }
  return status;
}

Status
learners_set(const Person* const      person,
             const char* const* const changes,
             const unsigned           n,
             Faults* const            faults)
{
  char*  text = NULL;
  Fault  fault;
  Status status = load_text(&text, person, &fault);
  for (unsigned i = 0; i < n && !status; ++i) {
    status = learner_set(&text, changes[i], &fault);
  }
  if (status) {
    status = faults_note(faults, &fault);
  } else if (!(status = check_text(text, person->settings, faults)) &&
             file_save(
               person->settings, text, strlen(text), FILE_PRIVATE, &fault)) {
    status = faults_note(faults, &fault);
  }
  free(text);
  return status;
}
