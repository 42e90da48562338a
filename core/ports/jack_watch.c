#include "core/ports/jack_watch.h"

#include <stddef.h>

#ifdef BARTER_HAS_JACK

#include "core/ports/jack_join.h"

#include <jack/jack.h>

#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

struct JackWatch {
  jack_client_t* client;
  atomic_bool    is_alive;
};

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
  watch->client = jack_join("barter-watch");
  if (!watch->client) {
    free(watch);
    return NULL;
  }
  jack_on_shutdown(watch->client, note_end, watch);
  if (jack_activate(watch->client)) { // Else a driver's end is not told
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

void
jack_watch_list(JackWatch* const watch,
                const PortSide   side,
                PortList* const  list)
{
  const char** const names =
    jack_get_ports(watch->client,
                   NULL,
                   JACK_DEFAULT_MIDI_TYPE,
                   side == PORT_IN ? JackPortIsOutput : JackPortIsInput);
  for (unsigned i = 0; names && names[i]; ++i) {
    const size_t size = strlen(names[i]) + 1;
    if (size <= PORT_NAME_CAPACITY && list->n_names < PORTS_CAPACITY) {
      memcpy(list->names[list->n_names++], names[i], size);
    }
  }
  jack_free(names);
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

#endif
