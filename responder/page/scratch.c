#include "responder/page/scratch.h"

#include "core/files/folder.h"

#include <dirent.h>
#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

static const char above[] = "/tmp";

// Whether it is ours, of a program that has ended
static bool
is_left(const char* const name)
{
  struct stat about;
  char        path[SCRATCH_PATH];
  int         process = 0;
  int         after   = 0;
  if (sscanf(name, "barter-page-%9d-%n", &process, &after) != 1 || !after ||
      process <= 0) {
    return false;
  }
  const int n = snprintf(path, sizeof(path), "%s/%s", above, name);
  return n < SCRATCH_PATH && lstat(path, &about) == 0 &&
         S_ISDIR(about.st_mode) && about.st_uid == getuid() &&
         kill(process, 0) != 0 && errno == ESRCH;
}

static void
remove_left(void)
{
  DIR* const           folder = opendir(above);
  const struct dirent* entry  = NULL;
  while (folder && (entry = readdir(folder))) {
    if (is_left(entry->d_name)) {
      char path[SCRATCH_PATH + sizeof(entry->d_name)];
      (void)snprintf(path, sizeof(path), "%s/%s", above, entry->d_name);
      scratch_close(path);
    }
  }
  if (folder) {
    (void)closedir(folder);
  }
}

bool
scratch_open(char folder[SCRATCH_PATH])
{
  remove_left();
  (void)snprintf(
    folder, SCRATCH_PATH, "%s/barter-page-%d-XXXXXX", above, (int)getpid());
  return mkdtemp(folder) != NULL;
}

void
scratch_close(const char* const folder)
{
  Fault ignored;
  (void)!folder_remove(folder, &ignored);
}

int
scratch_file(const char* const folder, char path[SCRATCH_PATH])
{
  (void)snprintf(path, SCRATCH_PATH, "%.48s/XXXXXX", folder);
  const int file = mkstemp(path);
  if (file < 0) {
    path[0] = '\0';
  }
  return file;
}

bool
scratch_folder(const char* const folder, char path[SCRATCH_PATH])
{
  (void)snprintf(path, SCRATCH_PATH, "%.48s/XXXXXX", folder);
  return mkdtemp(path) != NULL;
}
