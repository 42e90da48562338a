#include "core/ports/jack_watch.h"

#include <stddef.h>

#ifdef BARTER_HAS_JACK

#include <jack/jack.h>

#include <stdatomic.h>
#include <stdlib.h>

struct JackWatch {
  jack_client_t* client;
  atomic_bool    is_alive;
  atomic_uint    n_periods;
};

static int
count_period(const jack_nframes_t n_frames, void* const context)
{
  JackWatch* const watch = context;
  (void)n_frames;
  atomic_fetch_add_explicit(&watch->n_periods, 1, memory_order_relaxed);
  return 0;
}

static void
note_end(void* const context)
{
  JackWatch* const watch = context;
  atomic_store(&watch->is_alive, false);
}

JackWatch*
jack_watch_open(void)
{
  JackWatch* const watch = calloc(1, sizeof(*watch));
  if (!watch) {
    return NULL;
  }
  atomic_init(&watch->is_alive, true);
  atomic_init(&watch->n_periods, 0);
  watch->client = jack_client_open("barter-watch", JackNoStartServer, NULL);
  if (!watch->client) {
    free(watch);
    return NULL;
  }
  jack_on_shutdown(watch->client, note_end, watch);
  if (jack_set_process_callback(watch->client, count_period, watch) ||
      jack_activate(watch->client)) {
    jack_watch_close(watch);
    return NULL;
  }
  return watch;
}

void
jack_watch_close(JackWatch* const watch)
{
  if (watch) {
    (void)jack_client_close(watch->client);
    free(watch);
  }
}

bool
jack_watch_is_alive(const JackWatch* const watch)
{
  return atomic_load(&watch->is_alive);
}

unsigned
jack_watch_periods(const JackWatch* const watch)
{
  return atomic_load_explicit(&watch->n_periods, memory_order_relaxed);
}

#else

JackWatch*
jack_watch_open(void)
{
  return NULL;
}

void
jack_watch_close(JackWatch* const watch)
{
  (void)watch;
}

bool
jack_watch_is_alive(const JackWatch* const watch)
{
  return watch != NULL;
}

unsigned
jack_watch_periods(const JackWatch* const watch)
{
  (void)watch;
  return 0;
}

#endif
