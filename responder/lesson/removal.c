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
  Journal*      journal = NULL;
  JournalTotals totals  = {.n_totals = 0};
  Fault         ignored;
  size_t        n = 0;
  Status        status =
    journal_open(&journal, person->journal, JOURNAL_MUST_EXIST, &ignored);
  if (!status) {
    status = journal_totals(journal, &totals, &ignored);
  }
  if (status == STATUS_MISSING) { // Who never practised has no sessions
    status = STATUS_OK;
  }
  for (size_t i = 0; !status && i < names->n; ++i) {
    if (is_recording_of(&totals, names->names[i]) == theirs) {
      memmove(names->names[n++], names->names[i], sizeof(*names->names));
    }
  }
  if (!status) {
    names->n = n;
    journal_totals_free(&totals);
  }
  journal_close(journal);
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
  free(names->names);
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

/// Remove the recordings of earlier removals, and then the list; STATUS_MISSING
/// if there is none.
static Status
drop_listed(const char* const id, unsigned* const n_recordings)
{
  char        path[PLACE_PATH_CAPACITY];
  Fault       ignored;
  char* const list = load_list(id);
  if (!list) {
    return STATUS_MISSING;
  }
  SessionNames names  = names_of_list(list);
  const Status status = drop_recordings(&names, id, n_recordings);
  free(list);
  if (!status && !name_list(path, id, &ignored)) {
    (void)unlink(path);
  }
  return status;
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
  for (unsigned i = 0; directory && i < LISTS_AT_ONCE &&
                       find_bare_list(directory, id) &&
                       !drop_listed(id, &n_recordings);
       ++i) {
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

/// Remove the recordings of who is there; where it cannot be told which are of
/// others, they are listed for another time.
static Status
drop_theirs(const Person* const person,
            Removed* const      removed,
            Fault* const        fault)
{
  SessionNames names = recordings_of(person);
  if (!drop_recordings(&names, person->id, &removed->n_recordings)) {
    return STATUS_OK;
  }
  const Status status = make_folder(fault);
  removed->leaves_any = true;
  return status ? status : note_recordings(person, fault);
}

Status
removal_for_good(const Person* const person,
                 Removed* const      removed,
                 Fault* const        fault)
{
  *removed                 = (Removed){.n_recordings = 0};
  const Status   of_list   = drop_listed(person->id, &removed->n_recordings);
  const unsigned n_exports = drop_exports(person->id, INT32_MAX);
  removed->leaves_any      = of_list && of_list != STATUS_MISSING;
  if (!people_is_there(person)) {
    Person nobody;
    return n_exports || of_list != STATUS_MISSING
             ? STATUS_OK
             : people_find(&nobody, person->id, fault);
  }
  const Status status = drop_theirs(person, removed, fault);
  return status ? status : people_remove(person, fault);
}
