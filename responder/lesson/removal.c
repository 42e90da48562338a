#include "responder/lesson/removal.h"

#include "core/files/file.h"
#include "core/files/folder.h"
#include "profiles/journal/day.h"
#include "responder/lesson/learners.h"
#include "responder/lesson/removed_recordings.h"

#include <dirent.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum {
  DATE_LENGTH   = 10,
  MOST_A_DAY    = 99, ///< Exports of one ID
  LISTS_AT_ONCE = 64,
};

static const char ending[] = ".json";

static Status
make_folder(Fault* const fault)
{
  char         folder[PLACE_PATH_CAPACITY];
  const Status status = folder_of_data(REMOVED_FOLDER, folder, fault);
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
  status = status ? status : removed_place(path, name, fault);
  for (unsigned i = 2; !status && access(path, F_OK) == 0; ++i) {
    (void)snprintf(name, sizeof(name), "%s-%s-%u%s", id, date, i, ending);
    status = i <= MOST_A_DAY ? removed_place(path, name, fault)
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
  if (folder_of_data(REMOVED_FOLDER, folder, &ignored)) {
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
    n += removed_is_list(entry->d_name, names[n]);
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
  if (!folder_of_data(REMOVED_FOLDER, folder, &ignored)) {
    directory = opendir(folder);
  }
  for (unsigned i = 0;
       directory && i < LISTS_AT_ONCE && find_bare_list(directory, id) &&
       !removed_drop_listed(id, &n_recordings);
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
  if (!status && (status = removed_note_recordings(person, fault))) {
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
  if (!removed_drop_recordings(person, &removed->n_recordings)) {
    return STATUS_OK;
  }
  const Status status = make_folder(fault);
  removed->leaves_any = true;
  return status ? status : removed_note_recordings(person, fault);
}

Status
removal_for_good(const Person* const person,
                 Removed* const      removed,
                 Fault* const        fault)
{
  *removed = (Removed){.n_recordings = 0};
  const Status of_list =
    removed_drop_listed(person->id, &removed->n_recordings);
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
