#include "profiles/learner/people.h"

#include "core/files/file.h"
#include "core/files/folder.h"
#include "core/settings/nearest.h"
#include "profiles/learner/learner_file.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char id_first[] = "abcdefghijklmnopqrstuvwxyz0123456789";
static const char id_rest[]  = "abcdefghijklmnopqrstuvwxyz0123456789-_.";

bool
people_is_id(const char* const id)
{
  const size_t length = strlen(id);
  return length >= 1 && length < PEOPLE_ID_CAPACITY &&
         strchr(id_first, id[0]) && strspn(id, id_rest) == length;
}

static Status
place_in(Person* const     person,
         const char* const home,
         const char* const id,
         Fault* const      fault)
{
  Person    placed = {.id = ""};
  const int length = snprintf(
    placed.journal, sizeof(placed.journal), "%s/%s/journal.db", home, id);
  (void)snprintf(placed.id, sizeof(placed.id), "%s", id);
  (void)snprintf(placed.folder, sizeof(placed.folder), "%s/%s", home, id);
  const int other = snprintf(
    placed.settings, sizeof(placed.settings), "%s/%s/learner.cfg", home, id);
  if (length >= PEOPLE_PATH_CAPACITY || other >= PEOPLE_PATH_CAPACITY) {
    return fault_in(
      fault, STATUS_RANGE, home, "the path is too long to keep %s in", id);
  }
  *person = placed;
  return STATUS_OK;
}

Status
people_place(Person* const person, const char* const id, Fault* const fault)
{
  if (!people_is_id(id)) {
    return fault_say(fault,
                     STATUS_RANGE,
                     "\"%.40s\" can be no learner's ID; write up to %d small "
                     "letters, digits, - _ or ., as ada or pupil-3",
                     id,
                     PEOPLE_ID_CAPACITY - 1);
  }
  char         home[PEOPLE_PATH_CAPACITY];
  const Status status = folder_of_data("learners", home, fault);
  return status ? status : place_in(person, home, id, fault);
}

bool
people_is_there(const Person* const person)
{
  return folder_is_there(person->folder);
}

// The list

static int
compare_ids(const void* const a, const void* const b)
{
  return strcmp(a, b);
}

static Status
push(PeopleList* const list, const char* const id)
{
  void* const grown =
    realloc(list->ids, (list->n_ids + 1) * sizeof(*list->ids));
  if (!grown) {
    return STATUS_MEMORY;
  }
  list->ids = grown;
  memcpy(list->ids[list->n_ids++], id, strlen(id) + 1); // One that was checked
  return STATUS_OK;
}

static Status
list_folder(PeopleList* const list, DIR* const folder, const char* const home)
{
  Status               status = STATUS_OK;
  const struct dirent* entry  = NULL;
  while (!status && (entry = readdir(folder))) {
    Person person;
    Fault  fault;
    if (people_is_id(entry->d_name) &&
        !place_in(&person, home, entry->d_name, &fault) &&
        people_is_there(&person)) {
      status = push(list, entry->d_name);
    }
  }
  return status;
}

Status
people_list(PeopleList* const list, Fault* const fault)
{
  char       home[PEOPLE_PATH_CAPACITY];
  PeopleList listed = {.n_ids = 0};
  Status     status = folder_of_data("learners", home, fault);
  if (status) {
    return status;
  }
  DIR* const folder = opendir(home);
  if (!folder && errno != ENOENT) {
    return file_fault(fault, home, "cannot be read");
  }
  if (folder) {
    status = list_folder(&listed, folder, home);
    (void)closedir(folder);
  }
  if (status) {
    people_list_free(&listed);
    return fault_say(fault, status, "%s", status_text(status));
  }
  if (listed.n_ids) {
    qsort(listed.ids, listed.n_ids, sizeof(*listed.ids), compare_ids);
  }
  *list = listed;
  return STATUS_OK;
}

void
people_list_free(PeopleList* const list)
{
  free(list->ids);
  *list = (PeopleList){.n_ids = 0};
}

// One person

/// Note that there is no such person, with the nearest ID there is.
static Status
nobody(const char* const id, Fault* const fault)
{
  PeopleList  list = {.n_ids = 0};
  Fault       ignored;
  const char* meant = NULL;
  if (!people_list(&list, &ignored)) {
    for (size_t i = 0; i < list.n_ids; ++i) {
      const char* const pair[] = {meant ? meant : list.ids[i], list.ids[i]};
      meant                    = nearest_word(id, pair, 2);
    }
  }
  const Status status = fault_say(fault,
                                  STATUS_MISSING,
                                  "there is no learner %s; %s%s",
                                  id,
                                  meant ? "did you mean "
                                        : "barter learner add makes one, "
                                          "barter learner list tells who "
                                          "there is",
                                  meant ? meant : "");
  people_list_free(&list);
  return status;
}

Status
people_find(Person* const person, const char* const id, Fault* const fault)
{
  Person       found;
  const Status status = people_place(&found, id, fault);
  if (status) {
    return status;
  }
  if (!people_is_there(&found)) {
    return nobody(id, fault);
  }
  *person = found;
  return STATUS_OK;
}

Status
people_make(const Person* const  person,
            const Learner* const learner,
            Fault* const         fault)
{
  char   home[PEOPLE_PATH_CAPACITY];
  Status status = folder_of_data("learners", home, fault);
  if (status || (status = folder_make(home, fault))) {
    return status;
  }
  status = folder_claim(person->folder, fault);
  if (status == STATUS_RANGE) {
    return fault_say(fault,
                     STATUS_RANGE,
                     "there is a learner %s already; choose another ID",
                     person->id);
  }
  if (status) {
    return status;
  }
  status = learner_file_save(learner, person->settings, fault);
  if (status) {
    Fault ignored;
    (void)!folder_remove(person->folder, &ignored);
  }
  return status;
}

Status
people_remove(const Person* const person, Fault* const fault)
{
  return folder_remove(person->folder, fault);
}
