#include "core/sound/live.h"

#include "core/sound/module.h"
#include "core/sound/soundfont.h"

#include <stdlib.h>

struct Live {
  const SoundModule* module;
  Speaker*           speaker;
};

static Status
open_with(Live** const      live,
          const char* const soundfont,
          const char* const driver,
          Fault* const      fault)
{
  Live* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return fault_memory(fault, NULL);
  }
  const void* table  = NULL;
  Status      status = module_open(SOUND_MODULE, &table, fault);
  if (!status) {
    opened->module = table;
    status = opened->module->open(&opened->speaker, soundfont, driver, fault);
  }
  if (status) {
    free(opened);
    return status;
  }
  *live = opened;
  return STATUS_OK;
}

Status
live_open(Live** const      live,
          const char*       soundfont,
          const char* const driver,
          Fault* const      fault)
{
  char   found[SOUNDFONT_PATH_CAPACITY];
  Status status = STATUS_OK;
  if (!soundfont) {
    status    = soundfont_find(found, fault);
    soundfont = found;
  }
  if (!status) {
    status = soundfont_check(soundfont, fault);
  }
  return status ? status : open_with(live, soundfont, driver, fault);
}

void
live_close(Live* const live)
{
  if (live) {
    live->module->close(live->speaker);
    free(live);
  }
}

const char*
live_driver(const Live* const live)
{
  return live->module->driver(live->speaker);
}

bool
live_is_alive(Live* const live)
{
  return live->module->is_alive(live->speaker);
}

void
live_send(Live* const live, const uint8_t bytes[3])
{
  live->module->send(live->speaker, bytes);
}

float
live_peak(const Live* const live)
{
  return live->module->peak(live->speaker);
}
