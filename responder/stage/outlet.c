#include "responder/stage/outlet.h"

#include <stddef.h>

void
outlet_begin(Outlet* const outlet)
{
  (void)pthread_mutex_init(&outlet->lock, NULL);
  outlet->port = NULL;
  outlet->live = NULL;
  atomic_init(&outlet->is_new, false);
}

void
outlet_end(Outlet* const outlet)
{
  (void)pthread_mutex_destroy(&outlet->lock);
}

void
outlet_send(Outlet* const outlet, const uint8_t bytes[3], const unsigned size)
{
  (void)pthread_mutex_lock(&outlet->lock);
  if (outlet->port) {
    (void)port_send(outlet->port, bytes, size); // The supervisor sees failures
  }
  if (outlet->live) {
    live_send(outlet->live, bytes);
  }
  (void)pthread_mutex_unlock(&outlet->lock);
}

void
outlet_lead(Outlet* const outlet, Port* const port, Live* const live)
{
  (void)pthread_mutex_lock(&outlet->lock);
  outlet->port = port;
  outlet->live = live;
  (void)pthread_mutex_unlock(&outlet->lock);
  atomic_store(&outlet->is_new, port || live);
}

bool
outlet_reopen(Outlet* const outlet)
{
  (void)pthread_mutex_lock(&outlet->lock);
  const bool is_open = outlet->port && !port_reopen(outlet->port);
  (void)pthread_mutex_unlock(&outlet->lock);
  if (is_open) {
    atomic_store(&outlet->is_new, true);
  }
  return is_open;
}
