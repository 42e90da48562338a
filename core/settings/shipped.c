#include "core/settings/shipped.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { SHIPPED_PATH_CAPACITY = 1024 };

static bool
is_folder(const char* const path)
{
  struct stat about;
  return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

/// Take the last part off a path.
static void
go_up(char* const path)
{
  char* const slash = strrchr(path, '/');
  if (slash) {
    *slash = '\0';
  }
}

/// Write the folder beside the running program, as it lies when installed.
static bool
find_beside(char* const folder, const size_t size)
{
  char          program[SHIPPED_PATH_CAPACITY];
  const ssize_t length = readlink("/proc/self/exe", program, sizeof(program));
  if (length <= 0 || (size_t)length >= sizeof(program)) {
    return false; // No /proc, or no path that we could take
  }
  program[length]  = '\0';
  const char* rest = BARTER_DATA;
  for (go_up(program); strncmp(rest, "../", 3) == 0; rest += 3) {
    go_up(program);
  }
  (void)snprintf(folder, size, "%s/%s", program, rest);
  return is_folder(folder);
}

/// XDG Base Directory Specification 0.8: a relative path is to be ignored.
static bool
find_among_data(char* const folder, const size_t size)
{
  const char* bases = getenv("XDG_DATA_DIRS");
  if (!bases || !*bases) {
    bases = "/usr/local/share:/usr/share";
  }
  while (*bases) {
    const size_t length = strcspn(bases, ":");
    char         tried[SHIPPED_PATH_CAPACITY];
    (void)snprintf(tried, sizeof(tried), "%.*s/barter", (int)length, bases);
    if (tried[0] == '/' && is_folder(tried)) {
      (void)snprintf(folder, size, "%s", tried);
      return true;
    }
    bases += length + (bases[length] == ':');
  }
  return false;
}

void
shipped_folder(char* const folder, const size_t size)
{
  const char* const given = getenv("BARTER_CONFIG");
  (void)snprintf(folder, size, "%s", given && given[0] ? given : BARTER_DATA);
  if (!given || !given[0]) {
    (void)(find_beside(folder, size) || find_among_data(folder, size));
  }
}
