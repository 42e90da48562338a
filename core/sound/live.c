#include "core/sound/live.h"

#include "core/sound/module.h"

#include <stdlib.h>

struct Live {
  const SoundModule* module;
  Speaker*           speaker;
};

Status
live_open(Live** const live, const LiveWish* const wish, Fault* const fault)
{
  char        path[SOUNDFONT_PATH_CAPACITY];
  const void* table  = NULL;
  Status      status = soundfont_find(wish->font, path, fault);
  if (!status) {
    status = module_open(SOUND_MODULE, &table, fault);
  }
  if (status) {
    return status;
  }
  Live* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return fault_memory(fault, NULL);
  }
  opened->module = table;
  status         = opened->module->open(&opened->speaker, path, wish, fault);
  if (status) {
    free(opened);
    return status;
  }
  *live = opened;
  return STATUS_OK;
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
