#include "responder/lesson/who.h"

#include "profiles/exchange/exchange.h"
#include "profiles/learner/learner_file.h"

#include <string.h>
#include <unistd.h>

Learner
who_plain(const char* const name, const Choices* const choices)
{
  Learner learner = learner_plain(name);
  learner.choices = *choices;
  return learner;
}

/// Find the person; one who is named must be there.
static Status
find_person(Who* const who, const char* const id, Faults* const faults)
{
  Fault fault;
  if (!id) {
    return STATUS_OK;
  }
  if (strcmp(id, PEOPLE_USUAL_ID) != 0) {
    const Status status = people_find(&who->person, id, &fault);
    if (status) {
      return faults_note(faults, &fault);
    }
    who->has_place = true;
    who->is_there  = true;
    return STATUS_OK;
  }
  // Without a place to keep things in, one can play still
  who->has_place = !people_place(&who->person, PEOPLE_USUAL_ID, &fault);
  who->is_there  = who->has_place && people_is_there(&who->person);
  return STATUS_OK;
}

static bool
is_file(const char* const path)
{
  return access(path, F_OK) == 0;
}

static void
find_stand(Who* const who)
{
  Journal* journal = NULL;
  Status   status  = journal_open(
    &journal, who->person.journal, JOURNAL_MUST_EXIST, &who->journal_fault);
  who->has_stand = false;
  who->habits    = (JournalHabits){0};
  if (!status) {
    status         = journal_stand(journal, &who->stand, &who->journal_fault);
    who->has_stand = status == STATUS_OK;
    status         = status == STATUS_MISSING ? STATUS_OK : status;
    if (!status) {
      status = journal_habits(journal, &who->habits, &who->journal_fault);
    }
    journal_close(journal);
  }
  who->has_bad_journal = status != STATUS_OK;
}

void
who_look(Who* const who)
{
  who->is_there = who->has_place && people_is_there(&who->person);
  if (who->is_there && is_file(who->person.journal)) {
    find_stand(who);
  }
}

Status
who_find(Who* const           who,
         const char* const    id,
         const Choices* const choices,
         Faults* const        faults)
{
  Who          found  = {.has_place = false};
  const Status status = find_person(&found, id, faults);
  if (status) {
    return status;
  }
  const char* const name = found.has_place ? found.person.id : PEOPLE_USUAL_ID;
  Status            reading = STATUS_OK;
  found.learner             = who_plain(name, choices);
  if (found.is_there && is_file(found.person.settings)) {
    reading = learner_file_load(&found.learner, found.person.settings, faults);
  }
  if (reading) {
    found.learner = who_plain(name, choices);
  }
  if (found.is_there && is_file(found.person.journal)) {
    find_stand(&found);
  }
  *who = found;
  return reading;
}

Status
who_journal(const Who* const who, Journal** const journal, Fault* const fault)
{
  if (!who->has_place) {
    Person ignored; // Says why there is none
    return people_place(&ignored, PEOPLE_USUAL_ID, fault);
  }
  if (!who->is_there) {
    // Nobody made these settings: any others are newer
    Status status = people_make(&who->person, &who->learner, fault);
    if (status || (status = exchange_stamp(&who->person, 0, fault))) {
      return status;
    }
  }
  Journal* opened = NULL;
  Status   status =
    journal_open(&opened, who->person.journal, JOURNAL_MAY_CREATE, fault);
  if (!status && (status = journal_name_person(opened, fault))) {
    journal_close(opened);
  }
  if (!status) {
    *journal = opened;
  }
  return status;
}
