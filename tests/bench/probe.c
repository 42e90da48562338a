#include "probe.h"

#include "core/time/monotonic.h"
#include "core/time/realtime.h"
#include "tests/page/channel.h"

#include <stdlib.h>

enum { EVERY_MS = 10 };

static void*
run(void* const context)
{
  Probe* const probe = context;
  const Knock  right = {.host = NULL};
  Channel      channel;
  thread_prefer(); // As the server's: its own waking is not the program's
  if (!channel_open(&channel, probe->port, &right)) {
    return NULL;
  }
  json_decref(channel_ask(
    &channel, "open", json_pack("{ss si}", "key", probe->key, "version", 1)));
  while (atomic_load(&probe->asks) && probe->n < PROBE_MOST) {
    const int64_t from = monotonic_ns();
    json_decref(channel_ask(&channel, "clock", json_pack("{sf}", "sent", 1.0)));
    probe->took_ms[probe->n++] = (double)(monotonic_ns() - from) / 1e6;
    monotonic_sleep_ms(EVERY_MS);
  }
  channel_close(&channel);
  return NULL;
}

void
probe_begin(Probe* const probe, const unsigned port, const char* const key)
{
  probe->port = port;
  probe->key  = key;
  probe->n    = 0;
  atomic_init(&probe->asks, true);
  if (pthread_create(&probe->thread, NULL, run, probe)) {
    exit(1);
  }
}

void
probe_end(Probe* const probe)
{
  atomic_store(&probe->asks, false);
  (void)pthread_join(probe->thread, NULL);
}
