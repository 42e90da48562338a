#include "core/sound/live.h"

#include "core/sound/module.h"

#include <stdlib.h>
#include <string.h>

struct Live {
  const SoundModule* module;
  Speaker*           speaker;
  LiveWish           wish;
  char               font[SOUNDFONT_PATH_CAPACITY];
};

Status
live_open(Live** const live, const LiveWish* const wish, Fault* const fault)
{
  char        font[SOUNDFONT_PATH_CAPACITY];
  const void* table  = NULL;
  Status      status = soundfont_find(wish->font, font, fault);
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
  opened->wish   = *wish;
  memcpy(opened->font, font, sizeof(font));
  status = opened->module->open(&opened->speaker, wish->driver, fault);
  if (status) {
    free(opened);
    return status;
  }
  *live = opened;
  return STATUS_OK;
}

Status
live_load(Live* const live, Fault* const fault)
{
  return live->module->load(live->speaker, live->font, &live->wish, fault);
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

const char*
live_font(const Live* const live)
{
  const char* const slash = strrchr(live->font, '/');
  return slash ? slash + 1 : live->font;
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
