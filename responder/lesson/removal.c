#include "responder/lesson/removal.h"

#include "core/files/file.h"
#include "core/files/folder.h"
#include "profiles/journal/day.h"
#include "responder/lesson/learners.h"
#include "responder/lesson/sessions.h"
#include "responder/record/recorded.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

enum {
  NEAR_S      = 5, ///< Between a journal's session and its recording's name
  DATE_LENGTH = 10,
};

static const char folder_name[] = "removed";
static const char ending[]      = ".json";

// `ada-2026-02-03.json`

static Status
name_export(char              path[PLACE_PATH_CAPACITY],
            const char* const id,
            const int32_t     day,
            Fault* const      fault)
{
  char         folder[PLACE_PATH_CAPACITY];
  char         date[DAY_TEXT_CAPACITY];
  const Status status = folder_of_data(folder_name, folder, fault);
  if (status || folder_make(folder, fault)) {
    return status ? status : STATUS_SYSTEM;
  }
  (void)snprintf(path,
                 PLACE_PATH_CAPACITY,
                 "%.*s/%s-%s%s",
                 PLACE_PATH_CAPACITY - 64,
                 folder,
                 id,
                 day_text(day, date),
                 ending);
  return STATUS_OK;
}

/// Read the day out of the name of an export, and whose it is.
static bool
read_name(const char* const name,
          char              id[PEOPLE_ID_CAPACITY],
          int32_t* const    day)
{
  const size_t n    = strlen(name);
  const size_t tail = DATE_LENGTH + sizeof(ending) - 1;
  if (n < tail + 2 || n - tail - 1 >= PEOPLE_ID_CAPACITY ||
      strcmp(name + n - sizeof(ending) + 1, ending) != 0 ||
      name[n - tail - 1] != '-') {
    return false;
  }
  char date[DAY_TEXT_CAPACITY];
  (void)snprintf(date, sizeof(date), "%.*s", DATE_LENGTH, name + n - tail);
  (void)snprintf(id, PEOPLE_ID_CAPACITY, "%.*s", (int)(n - tail - 1), name);
  return people_is_id(id) && day_read(day, date);
}

/// Remove the exports of an ID, or of anybody, of a day or before; return how
/// many there were.
static unsigned
drop_exports(const char* const id, const int32_t last_day)
{
  char     folder[PLACE_PATH_CAPACITY];
  Fault    ignored;
  unsigned n = 0;
  if (folder_of_data(folder_name, folder, &ignored)) {
    return 0;
  }
  DIR* const directory = opendir(folder);
  for (const struct dirent* entry = directory ? readdir(directory) : NULL;
       entry;
       entry = readdir(directory)) {
    char    whose[PEOPLE_ID_CAPACITY];
    int32_t day = 0;
    if (read_name(entry->d_name, whose, &day) && day <= last_day &&
        (!id || strcmp(id, whose) == 0)) {
      n += unlinkat(dirfd(directory), entry->d_name, 0) == 0;
    }
  }
  if (directory) {
    (void)closedir(directory);
    (void)rmdir(folder); // Where it is empty now
  }
  return n;
}

void
removal_look(const int32_t day)
{
  (void)drop_exports(NULL, day - REMOVAL_DAYS - 1);
}

// For some time

static Status
save_export(const Person* const person,
            const char* const   path,
            Fault* const        fault)
{
  Faults     of_settings = {.n_faults = 0};
  FileSaving saving;
  Status     status = file_begin(&saving, path, FILE_PRIVATE, fault);
  if (status) {
    return status;
  }
  status = learners_export(saving.stream, person, &of_settings, fault);
  if (!status && of_settings.n_faults) { // These would be lost
    *fault = of_settings.faults[0];
    status = fault->status;
  }
  if (status) {
    file_abandon(&saving);
    return status;
  }
  return file_end(&saving, fault);
}

Status
removal_keep(const Person* const person,
             const int32_t       day,
             char                path[PLACE_PATH_CAPACITY],
             Fault* const        fault)
{
  char   kept[PLACE_PATH_CAPACITY];
  Status status = name_export(kept, person->id, day, fault);
  if (!status) {
    status = save_export(person, kept, fault);
  }
  if (!status) {
    status = people_remove(person, fault);
  }
  if (!status) {
    memcpy(path, kept, sizeof(kept));
  }
  return status;
}

// For good

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

/// Whether a recording is of a session of a journal: by chance and by moment.
static bool
is_theirs(const JournalTotals* const totals,
          const uint64_t             seed,
          const int64_t              second)
{
  for (size_t i = 0; i < totals->n_totals; ++i) {
    const JournalSession* const session = &totals->totals[i].session;
    const int64_t               apart   = session->started_ms / 1000 - second;
    if ((uint64_t)session->seed == seed && apart >= -NEAR_S &&
        apart <= NEAR_S) {
      return true;
    }
  }
  return false;
}

static unsigned
drop_recordings_of(const JournalTotals* const totals)
{
  char         folder[PLACE_PATH_CAPACITY];
  char         path[PLACE_PATH_CAPACITY];
  SessionNames names = {.n = 0};
  Fault        ignored;
  unsigned     n = 0;
  if (folder_of_data(SESSIONS_FOLDER, folder, &ignored) ||
      sessions_list(&names, folder)) {
    return 0;
  }
  for (size_t i = 0; i < names.n; ++i) {
    Choices choices;
    Tick    bar_one = 0;
    if (!sessions_path(folder, names.names[i], path, &ignored) &&
        !recorded_choices(&choices, &bar_one, path, &ignored) &&
        is_theirs(totals, choices.seed, begun_s(names.names[i]))) {
      n += unlink(path) == 0;
    }
  }
  free(names.names);
  return n;
}

static unsigned
drop_recordings(const Person* const person)
{
  Journal*      journal = NULL;
  JournalTotals totals  = {.n_totals = 0};
  Fault         ignored;
  unsigned      n = 0;
  if (journal_open(&journal, person->journal, JOURNAL_MUST_EXIST, &ignored)) {
    return 0;
  }
  if (!journal_totals(journal, &totals, &ignored)) {
    n = drop_recordings_of(&totals);
    journal_totals_free(&totals);
  }
  journal_close(journal);
  return n;
}

Status
removal_for_good(const Person* const person,
                 unsigned* const     n_recordings,
                 Fault* const        fault)
{
  const unsigned n_exports = drop_exports(person->id, INT32_MAX);
  *n_recordings            = 0;
  if (!people_is_there(person)) {
    Person nobody;
    return n_exports ? STATUS_OK : people_find(&nobody, person->id, fault);
  }
  *n_recordings = drop_recordings(person);
  return people_remove(person, fault);
}
