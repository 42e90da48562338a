#include "responder/lesson/removed_recordings.h"

#include "core/files/file.h"
#include "core/files/folder.h"
#include "responder/lesson/practised.h"
#include "responder/lesson/sessions.h"
#include "responder/record/recorded.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

enum {
  NEAR_S    = 5,       ///< Between a journal's session and its recording's name
  LIST_SIZE = 1 << 22, ///< Bytes
};

static const char list_ending[] = ".recordings";

// Whose a recording is

/// Return when a recording was begun by its name, Unix time; -1 if it does not
/// tell.
static int64_t
begun_s(const char* const name)
{
  struct tm when = {.tm_isdst = -1};
  if (sscanf(name,
             "%*[a-z]-%4d-%2d-%2d-%2d%2d%2d",
             &when.tm_year,
             &when.tm_mon,
             &when.tm_mday,
             &when.tm_hour,
             &when.tm_min,
             &when.tm_sec) != 6) {
    return -1;
  }
  when.tm_year -= 1900;
  --when.tm_mon;
  return (int64_t)mktime(&when);
}

/// Return a session of a journal that began then, from `first` on; NULL if
/// there is none.
static const JournalTotal*
session_near(const JournalTotals* const totals,
             const size_t               first,
             const int64_t              second)
{
  for (size_t i = first; i < totals->n_totals; ++i) {
    const JournalTotal* const total = &totals->totals[i];
    const int64_t             apart = total->session.started_ms / 1000 - second;
    if (apart >= -NEAR_S && apart <= NEAR_S) {
      return total;
    }
  }
  return NULL;
}

/// Whether a recording that is there is of a session of a journal: by moment
/// and by chance.
static bool
is_recording_of(const JournalTotals* const totals, const char* const name)
{
  const int64_t       second = begun_s(name);
  const JournalTotal* near   = session_near(totals, 0, second);
  Choices             choices;
  Tick                bar_one = 0;
  char                folder[PLACE_PATH_CAPACITY];
  char                path[PLACE_PATH_CAPACITY];
  Fault               ignored;
  if (!near || folder_of_data(SESSIONS_FOLDER, folder, &ignored) ||
      sessions_path(folder, name, path, &ignored) ||
      recorded_choices(&choices, &bar_one, path, &ignored)) {
    return false;
  }
  while (near && (uint64_t)near->session.seed != choices.seed) {
    near = session_near(totals, (size_t)(near - totals->totals) + 1, second);
  }
  return near != NULL;
}

/// Leave only the recordings that are of sessions of a person, or only those
/// that are not; all of them where the journal cannot be read.
static Status
pick(SessionNames* const names, const Person* const person, const bool theirs)
{
  JournalTotals totals;
  Fault         ignored;
  size_t        n      = 0;
  const Status  status = practised_read(&totals, NULL, person, &ignored);
  for (size_t i = 0; !status && i < names->n; ++i) {
    if (is_recording_of(&totals, names->names[i]) == theirs) {
      memmove(names->names[n++], names->names[i], sizeof(*names->names));
    }
  }
  if (!status) {
    names->n = n;
    journal_totals_free(&totals);
  }
  return status;
}

/// List the recordings of a person's sessions; none where the journal cannot be
/// read. Owned: free(names.names).
static SessionNames
recordings_of(const Person* const person)
{
  SessionNames names = {.n = 0};
  char         folder[PLACE_PATH_CAPACITY];
  Fault        ignored;
  if (!folder_of_data(SESSIONS_FOLDER, folder, &ignored) &&
      !sessions_list(&names, folder) && pick(&names, person, true)) {
    names.n = 0;
  }
  return names;
}

/// Leave only the recordings that nobody else's journal names.
static Status
spare(SessionNames* const names, const char* const id)
{
  PeopleList people;
  Person     other;
  Fault      ignored;
  Status     status = people_list(&people, &ignored);
  if (status) {
    return status;
  }
  for (size_t i = 0; !status && i < people.n_ids; ++i) {
    if (strcmp(people.ids[i], id) != 0) {
      status = people_place(&other, people.ids[i], &ignored);
      status = status ? status : pick(names, &other, false);
    }
  }
  people_list_free(&people);
  return status;
}

// `ada.recordings` names those of who was removed, a line each, for as long as
// they may be there: what is to be removed for good is known by it

static Status
name_list(char              path[PLACE_PATH_CAPACITY],
          const char* const id,
          Fault* const      fault)
{
  char name[PEOPLE_ID_CAPACITY + 16];
  (void)snprintf(name, sizeof(name), "%s%s", id, list_ending);
  return removed_place(path, name, fault);
}

/// Return the list of an ID, owned; NULL if there is none.
static char*
load_list(const char* const id)
{
  char   path[PLACE_PATH_CAPACITY];
  char*  text = NULL;
  size_t size = 0;
  Fault  ignored;
  return !name_list(path, id, &ignored) &&
             !file_load(path, LIST_SIZE, &text, &size, &ignored)
           ? text
           : NULL;
}

/// Remove recordings, but for those of others; none where it cannot be told
/// which these are.
static Status
drop_recordings(SessionNames* const names,
                const char* const   id,
                unsigned* const     n_recordings)
{
  char         folder[PLACE_PATH_CAPACITY];
  char         path[PLACE_PATH_CAPACITY];
  Fault        ignored;
  const Status status = names->n ? spare(names, id) : STATUS_OK;
  for (size_t i = 0; !status && i < names->n; ++i) {
    *n_recordings += !folder_of_data(SESSIONS_FOLDER, folder, &ignored) &&
                     !sessions_path(folder, names->names[i], path, &ignored) &&
                     unlink(path) == 0;
  }
  return status;
}

/// Return the names of a list; what there is no memory for is left out. Owned.
static SessionNames
names_of_list(char* const list)
{
  SessionNames names = {.n = 0};
  char*        rest  = NULL;
  size_t       most  = 1;
  for (const char* c = list; *c; ++c) {
    most += *c == '\n';
  }
  names.names = calloc(most, sizeof(*names.names));
  for (char* name = names.names ? strtok_r(list, "\n", &rest) : NULL; name;
       name       = strtok_r(NULL, "\n", &rest)) {
    (void)snprintf(names.names[names.n++], sizeof(*names.names), "%s", name);
  }
  return names;
}

Status
removed_place(char              path[PLACE_PATH_CAPACITY],
              const char* const name,
              Fault* const      fault)
{
  char         folder[PLACE_PATH_CAPACITY];
  const Status status = folder_of_data(REMOVED_FOLDER, folder, fault);
  if (!status) {
    (void)snprintf(path,
                   PLACE_PATH_CAPACITY,
                   "%.*s/%s",
                   PLACE_PATH_CAPACITY - 80,
                   folder,
                   name);
  }
  return status;
}

bool
removed_is_list(const char* const name, char id[PEOPLE_ID_CAPACITY])
{
  const size_t length = strlen(name);
  const size_t n_id   = length - (sizeof(list_ending) - 1);
  if (length < sizeof(list_ending) || n_id >= PEOPLE_ID_CAPACITY ||
      strcmp(name + n_id, list_ending) != 0) {
    return false;
  }
  (void)snprintf(id, PEOPLE_ID_CAPACITY, "%.*s", (int)n_id, name);
  return true;
}

Status
removed_note_recordings(const Person* const person, Fault* const fault)
{
  const SessionNames names = recordings_of(person);
  char               path[PLACE_PATH_CAPACITY];
  FileSaving         saving;
  Status             status = name_list(path, person->id, fault);
  if (!names.n || status) {
    free(names.names);
    return status;
  }
  char* const before = load_list(person->id);
  status             = file_begin(&saving, path, FILE_PRIVATE, fault);
  if (!status) {
    (void)fputs(before ? before : "", saving.stream);
    for (size_t i = 0; i < names.n; ++i) {
      (void)fprintf(saving.stream, "%s\n", names.names[i]);
    }
    status = file_end(&saving, fault);
  }
  free(before);
  free(names.names);
  return status;
}

Status
removed_drop_recordings(const Person* const person,
                        unsigned* const     n_recordings)
{
  SessionNames names  = recordings_of(person);
  const Status status = drop_recordings(&names, person->id, n_recordings);
  free(names.names);
  return status;
}

Status
removed_drop_listed(const char* const id, unsigned* const n_recordings)
{
  char        path[PLACE_PATH_CAPACITY];
  Fault       ignored;
  char* const list = load_list(id);
  if (!list) {
    return STATUS_MISSING;
  }
  SessionNames names  = names_of_list(list);
  const Status status = drop_recordings(&names, id, n_recordings);
  free(names.names);
  free(list);
  if (!status && !name_list(path, id, &ignored)) {
    (void)unlink(path);
  }
  return status;
}
