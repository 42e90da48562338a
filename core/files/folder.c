#include "core/files/folder.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const mode_t owner_only = 0700;

bool
folder_is_there(const char* const path)
{
  struct stat about;
  return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

static Status
make_one(const char* const path, Fault* const fault)
{
  if (folder_is_there(path) || mkdir(path, owner_only) == 0) {
    return STATUS_OK;
  }
  const int error = errno;
  if (error == EEXIST && folder_is_there(path)) {
    return STATUS_OK; // By another start, just now
  }
  errno = error;
  return error == EEXIST ? fault_in(fault, STATUS_SYSTEM, path, "is no folder")
                         : file_fault(fault, path, "cannot be made");
}

Status
folder_make(const char* const path, Fault* const fault)
{
  char      above[FILE_PATH_CAPACITY];
  const int length = snprintf(above, sizeof(above), "%s", path);
  if (length >= FILE_PATH_CAPACITY) {
    return fault_say(fault, STATUS_SYSTEM, "the path is too long");
  }
  Status status = STATUS_OK;
  for (char* slash = strchr(above + 1, '/'); !status && slash;
       slash       = strchr(slash + 1, '/')) {
    *slash = '\0';
    status = make_one(above, fault);
    *slash = '/';
  }
  return status ? status : make_one(path, fault);
}

Status
folder_claim(const char* const path, Fault* const fault)
{
  if (mkdir(path, owner_only)) {
    return errno == EEXIST
             ? fault_in(fault, STATUS_RANGE, path, "is there already")
             : file_fault(fault, path, "cannot be made");
  }
  return STATUS_OK;
}

// Removing

static int
remove_tree(int parent, const char* name);

/// Remove what an open folder holds; 0 or what went wrong.
static int
remove_inside(DIR* const folder)
{
  int                  error = 0;
  const struct dirent* entry = NULL;
  while (!error && (entry = readdir(folder))) {
    if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0) {
      error = remove_tree(dirfd(folder), entry->d_name);
    }
  }
  return error;
}

/// Remove a file, a link, or a folder with all that is in it.
static int
remove_tree(const int parent, const char* const name)
{
  struct stat about;
  if (fstatat(parent, name, &about, AT_SYMLINK_NOFOLLOW)) {
    return errno;
  }
  if (!S_ISDIR(about.st_mode)) {
    return unlinkat(parent, name, 0) ? errno : 0;
  }
  const int  inside = openat(parent, name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW);
  DIR* const folder = inside >= 0 ? fdopendir(inside) : NULL;
  if (!folder) {
    const int error = errno;
    if (inside >= 0) {
      (void)close(inside);
    }
    return error;
  }
  const int error = remove_inside(folder);
  (void)closedir(folder);
  if (error) {
    return error;
  }
  return unlinkat(parent, name, AT_REMOVEDIR) ? errno : 0;
}

Status
folder_remove(const char* const path, Fault* const fault)
{
  struct stat about;
  if (lstat(path, &about)) {
    return errno == ENOENT
             ? fault_in(fault, STATUS_MISSING, path, "there is no such folder")
             : file_fault(fault, path, "cannot be removed");
  }
  if (S_ISLNK(about.st_mode)) {
    return fault_in(fault,
                    STATUS_RANGE,
                    path,
                    "is a link; remove the folder that it points to by hand");
  }
  const int error = remove_tree(AT_FDCWD, path);
  return error ? fault_in(fault,
                          STATUS_SYSTEM,
                          path,
                          "cannot be removed: %s",
                          strerror(error))
               : STATUS_OK;
}

Status
folder_of_data(const char* const name,
               char              path[FILE_PATH_CAPACITY],
               Fault* const      fault)
{
  const char* const data   = getenv("XDG_DATA_HOME");
  const char* const home   = getenv("HOME");
  const bool        is_set = data && data[0] == '/';
  if (!is_set && (!home || home[0] != '/')) {
    return fault_say(fault,
                     STATUS_MISSING,
                     "there is no place to keep %s in; set XDG_DATA_HOME or "
                     "HOME to a folder",
                     name);
  }
  char      found[FILE_PATH_CAPACITY];
  const int length = snprintf(found,
                              sizeof(found),
                              "%s%s/barter/%s",
                              is_set ? data : home,
                              is_set ? "" : "/.local/share",
                              name);
  if (length >= FILE_PATH_CAPACITY) {
    return fault_say(
      fault, STATUS_RANGE, "the path of the data folder is too long");
  }
  memcpy(path, found, (size_t)length + 1);
  return STATUS_OK;
}
