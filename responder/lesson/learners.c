#include "responder/lesson/learners.h"

#include "profiles/learner/learner_file.h"

#include <unistd.h>

Status
learners_sum_up(Progress* const     progress,
                const Person* const person,
                const int32_t       day,
                Fault* const        fault)
{
  Journal*      journal = NULL;
  JournalTotals totals  = {.n_totals = 0};
  Status        status =
    journal_open(&journal, person->journal, JOURNAL_MUST_EXIST, fault);
  if (status == STATUS_MISSING) {
    *progress = progress_of(&totals, day);
    return STATUS_OK;
  }
  if (!status) {
    status = journal_totals(journal, &totals, fault);
    journal_close(journal);
  }
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
    return fault_set(
      fault, status, NULL, 0, "%s has not practised yet", person->id);
  }
  if (!status) {
    status = exchange_write_csv(stream, journal, fault);
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
  looked.is_new = !people_is_there(&looked.person);
  *import       = looked;
  return STATUS_OK;
}

void
learners_import_free(LearnersImport* const import)
{
  exchange_head_free(&import->head);
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
  return status ? status
                : exchange_take_settings(
                    &import->person, &import->head, &gain->has_settings, fault);
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
  LearnersGain gained = {.has_settings = false};
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
