#include "core/settings/places.h"

#include "core/settings/nearest.h"
#include "core/settings/shipped.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const char suffix[] = ".cfg";

static const char* const folders[] = {
  [PLACE_CHARTS] = "charts",
  [PLACE_FEELS]  = "feels",
};

static const char* const nouns[] = {
  [PLACE_CHARTS] = "chart",
  [PLACE_FEELS]  = "feel",
};

/// Write the person's own folder, empty if there is none to be known.
static void
own_folder(char folder[PLACE_PATH_CAPACITY])
{
  // XDG Base Directory Specification 0.8: a relative path is to be ignored
  const char* const config = getenv("XDG_CONFIG_HOME");
  const char* const home   = getenv("HOME");
  int               length = 0;
  folder[0]                = '\0';
  if (config && config[0] == '/') {
    length = snprintf(folder, PLACE_PATH_CAPACITY, "%s/barter", config);
  } else if (home && home[0] == '/') {
    length = snprintf(folder, PLACE_PATH_CAPACITY, "%s/.config/barter", home);
  }
  if (length >= PLACE_PATH_CAPACITY) {
    folder[0] = '\0';
  }
}

/// Return the length of a text without its `.cfg`, all of it if it has none.
static size_t
stem_length(const char* const text)
{
  const size_t length = strlen(text);
  const size_t tail   = sizeof(suffix) - 1;
  const bool   ends   = length > tail && !strcmp(text + length - tail, suffix);
  return ends ? length - tail : length;
}

/// Whether a text is that of a path, not of a name.
static bool
is_path(const char* const text)
{
  return strchr(text, '/') || text[stem_length(text)];
}

/// Write FOLDER/INNER/NAME and `ending`, and say whether there is such a file.
static bool
join(char              path[PLACE_PATH_CAPACITY],
     const char* const folder,
     const char* const inner,
     const char* const name,
     const char* const ending)
{
  const int   length = snprintf(path,
                              PLACE_PATH_CAPACITY,
                              "%s/%s%s%s%s",
                              folder,
                              inner,
                              inner[0] ? "/" : "",
                              name,
                              ending);
  struct stat about;
  return folder[0] && length < PLACE_PATH_CAPACITY && stat(path, &about) == 0;
}

/// Look for a file in the person's folder, then in the shipped one.
static bool
look_up(char              path[PLACE_PATH_CAPACITY],
        const char* const inner,
        const char* const name,
        const char* const ending)
{
  char folder[PLACE_PATH_CAPACITY];
  char found[PLACE_PATH_CAPACITY];
  own_folder(folder);
  bool is_there = join(found, folder, inner, name, ending);
  if (!is_there) {
    shipped_folder(folder, sizeof(folder));
    is_there = join(found, folder, inner, name, ending);
  }
  if (is_there) {
    memcpy(path, found, sizeof(found));
  }
  return is_there;
}

const char*
place_name(const char* const path, char name[PLACE_NAME_CAPACITY])
{
  const char* const slash = strrchr(path, '/');
  const char* const last  = slash ? slash + 1 : path;
  (void)snprintf(
    name, PLACE_NAME_CAPACITY, "%.*s", (int)stem_length(last), last);
  return name;
}

static int
compare_entries(const void* const a, const void* const b)
{
  const PlaceEntry* const left  = a;
  const PlaceEntry* const right = b;
  const int               order = strcmp(left->name, right->name);
  return order ? order : right->is_own - left->is_own;
}

/// Add a name to a list that has `*capacity` entries' room.
static Status
push(PlaceList* const  list,
     size_t* const     capacity,
     const char* const name,
     const bool        is_own)
{
  if (list->n_entries == *capacity) {
    const size_t      more    = *capacity ? 2 * *capacity : 32;
    PlaceEntry* const entries = realloc(list->entries, more * sizeof(*entries));
    if (!entries) {
      return STATUS_MEMORY;
    }
    list->entries = entries;
    *capacity     = more;
  }
  PlaceEntry* const entry = &list->entries[list->n_entries++];
  entry->is_own           = is_own;
  (void)place_name(name, entry->name);
  return STATUS_OK;
}

/// Add the names of all files of a folder.
static Status
add_folder(PlaceList* const  list,
           size_t* const     capacity,
           const char* const folder,
           const bool        is_own)
{
  DIR* const dir = folder[0] ? opendir(folder) : NULL;
  if (!dir) {
    return STATUS_OK;
  }

  Status               status = STATUS_OK;
  const struct dirent* file   = NULL;
  while (status == STATUS_OK && (file = readdir(dir))) {
    const char* const name = file->d_name;
    if (name[0] != '.' && is_path(name) &&
        stem_length(name) < PLACE_NAME_CAPACITY) {
      status = push(list, capacity, name, is_own);
    }
  }
  (void)closedir(dir);
  return status;
}

Status
place_list(const PlaceKind kind, PlaceList* const list)
{
  char      folder[PLACE_PATH_CAPACITY];
  char      inner[PLACE_PATH_CAPACITY];
  size_t    capacity = 0;
  PlaceList all      = {0};

  own_folder(folder);
  Status status = STATUS_OK;
  if (join(inner, folder, "", folders[kind], "")) {
    status = add_folder(&all, &capacity, inner, true);
  }
  shipped_folder(folder, sizeof(folder));
  if (status == STATUS_OK && join(inner, folder, "", folders[kind], "")) {
    status = add_folder(&all, &capacity, inner, false);
  }
  if (status != STATUS_OK) {
    place_list_free(&all);
    return status;
  }

  if (all.n_entries > 0) {
    qsort(all.entries, all.n_entries, sizeof(*all.entries), compare_entries);
  }
  list->entries   = all.entries;
  list->n_entries = 0;
  for (size_t i = 0; i < all.n_entries; ++i) {
    if (i == 0 ||
        strcmp(all.entries[i].name, list->entries[list->n_entries - 1].name)) {
      list->entries[list->n_entries++] = all.entries[i];
    }
  }
  return STATUS_OK;
}

void
place_list_free(PlaceList* const list)
{
  free(list->entries);
  *list = (PlaceList){0};
}

/// Note that a name is not known, with the nearest that is.
static Status
no_such_name(const PlaceKind kind, const char* const name, Fault* const fault)
{
  PlaceList   list  = {0};
  const char* meant = NULL;
  if (place_list(kind, &list) == STATUS_OK) {
    for (size_t i = 0; i < list.n_entries; ++i) {
      const char* const one    = list.entries[i].name;
      const char* const pair[] = {meant ? meant : one, one};
      meant                    = nearest_word(name, pair, 2);
    }
  }
  if (meant) {
    (void)fault_say(fault,
                    STATUS_MISSING,
                    "there is no %s \"%.60s\"; the nearest is %s",
                    nouns[kind],
                    name,
                    meant);
  } else {
    (void)fault_say(fault,
                    STATUS_MISSING,
                    "there is no %s \"%.60s\"; give the name of one that there "
                    "is, or the path of a file",
                    nouns[kind],
                    name);
  }
  place_list_free(&list);
  return STATUS_MISSING;
}

Status
place_find(const PlaceKind   kind,
           const char* const name,
           char              path[PLACE_PATH_CAPACITY],
           Fault* const      fault)
{
  if (!is_path(name) && look_up(path, folders[kind], name, suffix)) {
    return STATUS_OK;
  }

  struct stat about;
  if (!is_path(name) && (stat(name, &about) != 0 || S_ISDIR(about.st_mode))) {
    return no_such_name(kind, name, fault);
  }
  if (strlen(name) >= PLACE_PATH_CAPACITY) {
    return fault_in(
      fault, STATUS_MISSING, name, "the path is too long to be one");
  }
  (void)snprintf(path, PLACE_PATH_CAPACITY, "%s", name);
  return STATUS_OK;
}

Status
place_find_file(const char* const name,
                char              path[PLACE_PATH_CAPACITY],
                Fault* const      fault)
{
  if (look_up(path, "", name, "")) {
    return STATUS_OK;
  }
  char folder[PLACE_PATH_CAPACITY];
  shipped_folder(folder, sizeof(folder));
  return fault_in(fault,
                  STATUS_MISSING,
                  folder,
                  "there is no %s here; set BARTER_CONFIG to the folder that "
                  "has it",
                  name);
}

void
place_own_file(const char* const name, char path[PLACE_PATH_CAPACITY])
{
  char folder[PLACE_PATH_CAPACITY];
  own_folder(folder);
  const int length = snprintf(path, PLACE_PATH_CAPACITY, "%s/%s", folder, name);
  if (!folder[0] || length >= PLACE_PATH_CAPACITY) {
    path[0] = '\0';
  }
}
