#include "core/ports/silence.h"

#include <fcntl.h>
#include <unistd.h>

int
silence_begin(void)
{
  const int kept    = dup(STDERR_FILENO);
  const int nowhere = open("/dev/null", O_WRONLY);
  if (kept >= 0 && nowhere >= 0) {
    (void)dup2(nowhere, STDERR_FILENO);
  }
  if (nowhere >= 0) {
    (void)close(nowhere);
  }
  return kept;
}

void
silence_end(const int kept)
{
  if (kept >= 0) {
    (void)dup2(kept, STDERR_FILENO);
    (void)close(kept);
  }
}
