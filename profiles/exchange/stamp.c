#include "profiles/exchange/stamp.h"

#include <fcntl.h>
#include <sys/stat.h>

static const int64_t us_per_s = 1000000;

int64_t
stamp_of(const char* const path)
{
  struct stat about;
  if (stat(path, &about)) {
    return 0;
  }
  const int64_t us =
    about.st_mtim.tv_sec * us_per_s + about.st_mtim.tv_nsec / 1000;
  return us < 0 ? 0 : us;
}

bool
stamp_set(const char* const path, const int64_t changed_us)
{
  const struct timespec changed = {changed_us / us_per_s,
                                   (long)(changed_us % us_per_s * 1000)};
  const struct timespec times[] = {changed, changed};
  return utimensat(AT_FDCWD, path, times, 0) == 0;
}
