// Looking for devices where there are none, as on most machines that test, or
// where there are some, prints nothing: each fault is told by who calls.

#include "core/ports/system.h"
#include "core/quiet/quiet.h"
#include "core/sound/live.h"

#include <criterion/criterion.h>

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

static const SoundFont small_font = {NULL, "TimGM6mb.sf2"};

typedef struct {
  int kept;
  int file;
} Ear;

static Ear
listen_to_stderr(void)
{
  char path[] = "/tmp/test_quiet.XXXXXX";
  Ear  ear    = {dup(STDERR_FILENO), mkstemp(path)};
  cr_assert_geq(ear.kept, 0);
  cr_assert_geq(ear.file, 0);
  (void)unlink(path);
  (void)dup2(ear.file, STDERR_FILENO);
  return ear;
}

/// Return how many bytes were printed since.
static long
heard(const Ear ear)
{
  struct stat about = {.st_size = -1};
  (void)dup2(ear.kept, STDERR_FILENO);
  (void)fstat(ear.file, &about);
  (void)close(ear.file);
  (void)close(ear.kept);
  return (long)about.st_size;
}

Test(quiet, sound_devices_are_looked_for_in_silence, .timeout = 60)
{
  static const char* const drivers[] = {NULL, "jack", "pulseaudio", "alsa"};
  for (unsigned i = 0; i < sizeof(drivers) / sizeof(*drivers); ++i) {
    Live*     live = NULL;
    Fault     fault;
    const Ear ear = listen_to_stderr();
    if (!live_open(&live,
                   &(LiveWish){.font = small_font, .driver = drivers[i]},
                   &fault)) {
      live_close(live);
    }
    cr_expect_eq(heard(ear), 0, "%s", drivers[i] ? drivers[i] : "any");
  }
}

Test(quiet, ports_are_looked_for_in_silence, .timeout = 60)
{
  Ports*    ports = NULL;
  Fault     fault;
  char      remark[SYSTEM_REMARK_CAPACITY];
  const Ear ear = listen_to_stderr();
  if (!system_open(&ports, NULL, remark, &fault)) {
    ports_close(ports);
  }
  cr_expect_eq(heard(ear), 0);
}

Test(quiet, no_server_is_started_by_looking)
{
  (void)unsetenv("JACK_NO_START_SERVER");
  quiet_devices();
  cr_assert_not_null(getenv("JACK_NO_START_SERVER"));
}
