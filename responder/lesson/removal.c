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
  NEAR_S        = 5, ///< Between a journal's session and its recording's name
  DATE_LENGTH   = 10,
  MOST_A_DAY    = 99,      ///< Exports of one ID
  LIST_SIZE     = 1 << 22, ///< Bytes
  LISTS_AT_ONCE = 64,
};

static const char folder_name[] = "removed";
static const char ending[]      = ".json";
static const char list_ending[] = ".recordings";

/// Name a file in the folder of who is removed.
static Status
name_file(char              path[PLACE_PATH_CAPACITY],
          const char* const name,
          Fault* const      fault)
{
  char         folder[PLACE_PATH_CAPACITY];
  const Status status = folder_of_data(folder_name, folder, fault);
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

static Status
make_folder(Fault* const fault)
{
  char         folder[PLACE_PATH_CAPACITY];
  const Status status = folder_of_data(folder_name, folder, fault);
  return status ? status : folder_make(folder, fault);
}

// `ada-2026-02-03.json`, and `ada-2026-02-03-2.json` where that is there

static Status
name_export(char              path[PLACE_PATH_CAPACITY],
            const char* const id,
            const int32_t     day,
            Fault* const      fault)
{
  char   date[DAY_TEXT_CAPACITY];
  char   name[PEOPLE_ID_CAPACITY + 32];
  Status status = make_folder(fault);
  (void)snprintf(
    name, sizeof(name), "%s-%s%s", id, day_text(day, date), ending);
  status = status ? status : name_file(path, name, fault);
  for (unsigned i = 2; !status && access(path, F_OK) == 0; ++i) {
    (void)snprintf(name, sizeof(name), "%s-%s-%u%s", id, date, i, ending);
    status = i <= MOST_A_DAY ? name_file(path, name, fault)
                             : fault_say(fault,
                                         STATUS_FULL,
                                         "%s was removed %d times today",
                                         id,
                                         (int)MOST_A_DAY);
  }
  return status;
}

/// Read `ada-2026-02-03`, the first `n` bytes of a name.
static bool
read_bare(const char* const name,
          const size_t      n,
          char              id[PEOPLE_ID_CAPACITY],
          int32_t* const    day)
{
  char date[DAY_TEXT_CAPACITY];
  if (n < DATE_LENGTH + 2 || n - DATE_LENGTH - 1 >= PEOPLE_ID_CAPACITY ||
      name[n - DATE_LENGTH - 1] != '-') {
    return false;
  }
  const size_t n_id = n - DATE_LENGTH - 1;
  (void)snprintf(date, sizeof(date), "%.*s", DATE_LENGTH, name + n_id + 1);
  (void)snprintf(id, PEOPLE_ID_CAPACITY, "%.*s", (int)n_id, name);
  return people_is_id(id) && day_read(day, date);
}

/// Read the day out of the name of an export, and whose it is.
static bool
read_name(const char* const name,
          char              id[PEOPLE_ID_CAPACITY],
          int32_t* const    day)
{
  const size_t length = strlen(name);
  const size_t n      = length - (sizeof(ending) - 1);
  if (length < sizeof(ending) || strcmp(name + n, ending) != 0) {
    return false;
  }
  size_t bare = n; // Without the number behind the day
  while (bare && name[bare - 1] >= '0' && name[bare - 1] <= '9') {
    --bare;
  }
  return read_bare(name, n, id, day) ||
         (bare && bare < n && name[bare - 1] == '-' &&
          read_bare(name, bare - 1, id, day));
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

// Recordings of who is removed

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

/// Whether a recording that is there is of a session of a journal.
static bool
is_recording_of(const JournalTotals* const totals,
                const char* const          folder,
                const char* const          name)
{
  Choices choices;
  Tick    bar_one = 0;
  char    path[PLACE_PATH_CAPACITY];
  Fault   ignored;
  return !sessions_path(folder, name, path, &ignored) &&
         !recorded_choices(&choices, &bar_one, path, &ignored) &&
         is_theirs(totals, choices.seed, begun_s(name));
}

/// Leave only the recordings that are of sessions of a journal.
static void
pick(SessionNames* const        names,
     const JournalTotals* const totals,
     const char* const          folder)
{
  size_t n = 0;
  for (size_t i = 0; i < names->n; ++i) {
    if (is_recording_of(totals, folder, names->names[i])) {
      memmove(names->names[n++], names->names[i], sizeof(*names->names));
    }
  }
  names->n = n;
}

/// List the recordings of a person's sessions; none where nothing can be read.
/// Owned: free(names.names).
static SessionNames
recordings_of(const Person* const person)
{
  Journal*      journal = NULL;
  JournalTotals totals  = {.n_totals = 0};
  SessionNames  names   = {.n = 0};
  char          folder[PLACE_PATH_CAPACITY];
  Fault         ignored;
  if (journal_open(&journal, person->journal, JOURNAL_MUST_EXIST, &ignored)) {
    return names;
  }
  if (!journal_totals(journal, &totals, &ignored)) {
    if (!folder_of_data(SESSIONS_FOLDER, folder, &ignored) &&
        !sessions_list(&names, folder)) {
      pick(&names, &totals, folder);
    }
    journal_totals_free(&totals);
  }
  journal_close(journal);
  return names;
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
  return name_file(path, name, fault);
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

/// Add the recordings of a person to the list.
static Status
note_recordings(const Person* const person, Fault* const fault)
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

static unsigned
drop_recording(const char* const name)
{
  char  folder[PLACE_PATH_CAPACITY];
  char  path[PLACE_PATH_CAPACITY];
  Fault ignored;
  return !folder_of_data(SESSIONS_FOLDER, folder, &ignored) &&
         !sessions_path(folder, name, path, &ignored) && unlink(path) == 0;
}

/// Remove the recordings of earlier removals, and the list; whether there was
/// one.
static bool
drop_listed(const char* const id, unsigned* const n_recordings)
{
  char        path[PLACE_PATH_CAPACITY];
  Fault       ignored;
  char* const list = load_list(id);
  char*       rest = NULL;
  if (!list) {
    return false;
  }
  for (char* name = strtok_r(list, "\n", &rest); name;
       name       = strtok_r(NULL, "\n", &rest)) {
    *n_recordings += drop_recording(name);
  }
  free(list);
  if (!name_list(path, id, &ignored)) {
    (void)unlink(path);
  }
  return true;
}

// Once the month is over

/// Whether an export of an ID is kept.
static bool
has_export(DIR* const directory, const char* const id)
{
  bool has = false;
  rewinddir(directory);
  for (const struct dirent* entry = readdir(directory); entry && !has;
       entry                      = readdir(directory)) {
    char    whose[PEOPLE_ID_CAPACITY];
    int32_t day = 0;
    has = read_name(entry->d_name, whose, &day) && strcmp(id, whose) == 0;
  }
  return has;
}

/// Find an ID whose recordings are listed, of whom nothing else is left.
static bool
find_bare_list(DIR* const directory, char id[PEOPLE_ID_CAPACITY])
{
  char   names[LISTS_AT_ONCE][PEOPLE_ID_CAPACITY];
  size_t n = 0;
  rewinddir(directory);
  for (const struct dirent* entry = readdir(directory);
       entry && n < LISTS_AT_ONCE;
       entry = readdir(directory)) {
    const size_t length = strlen(entry->d_name);
    const size_t n_id   = length - (sizeof(list_ending) - 1);
    if (length >= sizeof(list_ending) && n_id < PEOPLE_ID_CAPACITY &&
        strcmp(entry->d_name + n_id, list_ending) == 0) {
      (void)snprintf(
        names[n++], PEOPLE_ID_CAPACITY, "%.*s", (int)n_id, entry->d_name);
    }
  }
  for (size_t i = 0; i < n; ++i) {
    Person person;
    Fault  ignored;
    if (!has_export(directory, names[i]) &&
        !people_place(&person, names[i], &ignored) &&
        !people_is_there(&person)) {
      memcpy(id, names[i], PEOPLE_ID_CAPACITY);
      return true;
    }
  }
  return false;
}

static void
drop_bare_lists(void)
{
  char     folder[PLACE_PATH_CAPACITY];
  char     id[PEOPLE_ID_CAPACITY];
  Fault    ignored;
  unsigned n_recordings = 0;
  DIR*     directory    = NULL;
  if (!folder_of_data(folder_name, folder, &ignored)) {
    directory = opendir(folder);
  }
  for (unsigned i = 0; directory && i < LISTS_AT_ONCE; ++i) {
    if (find_bare_list(directory, id)) {
      (void)drop_listed(id, &n_recordings);
    }
  }
  if (directory) {
    (void)closedir(directory);
    (void)rmdir(folder); // Where it is empty now
  }
}

void
removal_look(const int32_t day)
{
  (void)drop_exports(NULL, day - REMOVAL_DAYS - 1);
  drop_bare_lists();
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
  if (!status && (status = note_recordings(person, fault))) {
    (void)unlink(kept);
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

Status
removal_for_good(const Person* const person,
                 unsigned* const     n_recordings,
                 Fault* const        fault)
{
  *n_recordings            = 0;
  const bool     is_listed = drop_listed(person->id, n_recordings);
  const unsigned n_exports = drop_exports(person->id, INT32_MAX);
  if (!people_is_there(person)) {
    Person nobody;
    return n_exports || is_listed ? STATUS_OK
                                  : people_find(&nobody, person->id, fault);
  }
  const SessionNames names = recordings_of(person);
  for (size_t i = 0; i < names.n; ++i) {
    *n_recordings += drop_recording(names.names[i]);
  }
  free(names.names);
  return people_remove(person, fault);
}
