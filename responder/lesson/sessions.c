#include "responder/lesson/sessions.h"

#include "core/files/folder.h"
#include "responder/lesson/practised.h"
#include "responder/record/recorded.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static bool
is_recording(const char* const name)
{
  const size_t length = strlen(name);
  return length > 10 && length < SESSIONS_NAME_CAPACITY &&
         strncmp(name, "trade-", 6) == 0 &&
         strcmp(name + length - 4, ".mid") == 0;
}

static bool
add_name(SessionNames* const names, const char* const name)
{
  if (names->n == names->capacity) {
    const size_t capacity = 2 * names->capacity + 64;
    void* const  more = realloc(names->names, capacity * sizeof(*names->names));
    if (!more) {
      return false;
    }
    names->names    = more;
    names->capacity = capacity;
  }
  (void)snprintf(names->names[names->n++],
                 SESSIONS_NAME_CAPACITY,
                 "%.*s",
                 SESSIONS_NAME_CAPACITY - 1,
                 name);
  return true;
}

static bool
list_names(SessionNames* const names, const char* const folder)
{
  DIR* const directory = opendir(folder);
  bool       is_good   = true;
  if (directory) {
    for (const struct dirent* entry = readdir(directory); entry && is_good;
         entry                      = readdir(directory)) {
      is_good = !is_recording(entry->d_name) || add_name(names, entry->d_name);
    }
    (void)closedir(directory);
  }
  return is_good;
}

static int
later_first(const void* const a, const void* const b)
{
  return strcmp(b, a); // Their names are dates
}

Status
sessions_list(SessionNames* const names, const char* const folder)
{
  *names = (SessionNames){.n = 0};
  if (!list_names(names, folder)) {
    free(names->names);
    return STATUS_MEMORY;
  }
  if (names->n) {
    qsort(names->names, names->n, sizeof(*names->names), later_first);
  }
  return STATUS_OK;
}

Status
sessions_path(const char* const folder,
              const char* const name,
              char              path[PLACE_PATH_CAPACITY],
              Fault* const      fault)
{
  (void)snprintf(path,
                 PLACE_PATH_CAPACITY,
                 "%.*s/%s",
                 PLACE_PATH_CAPACITY - SESSIONS_NAME_CAPACITY - 2,
                 folder,
                 name);
  return is_recording(name) && !strchr(name, '/') && access(path, R_OK) == 0
           ? STATUS_OK
           : fault_say(
               fault, STATUS_MISSING, "there is no recording %.60s", name);
}

/// Whether a journal holds a session of a seed: a live one has a new one.
static bool
is_known(const JournalTotals* const totals, const uint64_t seed)
{
  for (size_t i = 0; i < totals->n_totals; ++i) {
    if ((uint64_t)totals->totals[i].session.seed == seed) {
      return true;
    }
  }
  return false;
}

/// Read what the learner's journal knows; nothing if there is none.
static bool
read_totals(JournalTotals* const totals, const Who* const who)
{
  Fault ignored;
  return who->is_there &&
         !practised_read(totals, NULL, &who->person, &ignored) &&
         totals->n_totals;
}

static Status
find_latest(SessionFound* const        found,
            const char* const          folder,
            const SessionNames* const  names,
            const JournalTotals* const totals)
{
  for (size_t i = 0; i < names->n; ++i) {
    SessionFound one;
    Fault        ignored;
    (void)snprintf(one.path,
                   sizeof(one.path),
                   "%.*s/%s",
                   (int)sizeof(one.path) - SESSIONS_NAME_CAPACITY - 2,
                   folder,
                   names->names[i]);
    if (!recorded_choices(&one.choices, &one.bar_one, one.path, &ignored) &&
        (!totals || is_known(totals, one.choices.seed))) {
      *found = one;
      return STATUS_OK;
    }
  }
  return STATUS_MISSING;
}

Status
sessions_latest(SessionFound* const found,
                const Who* const    who,
                Fault* const        fault)
{
  char          folder[PLACE_PATH_CAPACITY];
  SessionNames  names  = {.n = 0};
  JournalTotals totals = {.n_totals = 0};
  const Status  placed = folder_of_data(SESSIONS_FOLDER, folder, fault);
  if (placed) {
    return placed;
  }
  if (sessions_list(&names, folder)) {
    return fault_memory(fault, NULL);
  }
  const bool   has_journal = read_totals(&totals, who);
  const Status status =
    find_latest(found, folder, &names, has_journal ? &totals : NULL);
  journal_totals_free(&totals);
  free(names.names);
  return status;
}
