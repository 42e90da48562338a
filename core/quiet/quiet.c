#include "core/quiet/quiet.h"

#include <fcntl.h>
#include <stdlib.h>
#include <unistd.h>

#ifdef BARTER_HAS_JACK

#include <jack/jack.h>

static void
drop_words(const char* const words)
{
  (void)words;
}

static void
quiet_jack(void)
{
  jack_set_error_function(drop_words);
  jack_set_info_function(drop_words);
}

#else

static void
quiet_jack(void)
{
}

#endif

#ifdef BARTER_HAS_ALSA

#include <alsa/asoundlib.h>

static void
drop_error(const char* const file,
           const int         line,
           const char* const function,
           const int         error,
           const char* const format,
           ...)
{
  (void)file;
  (void)line;
  (void)function;
  (void)error;
  (void)format;
}

static void
quiet_alsa(void)
{
  (void)snd_lib_error_set_handler(drop_error);
}

#else

static void
quiet_alsa(void)
{
}

#endif

void
quiet_devices(void)
{
  (void)setenv("JACK_NO_START_SERVER", "1", 1);
  quiet_jack();
  quiet_alsa();
}

int
quiet_begin(void)
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
quiet_end(const int kept)
{
  if (kept >= 0) {
    (void)dup2(kept, STDERR_FILENO);
    (void)close(kept);
  }
}
