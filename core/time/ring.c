#include "core/time/ring.h"

#include <assert.h>
#include <string.h>

void
ring_setup(Ring* const  ring,
           void* const  slots,
           const size_t slot_size,
           const size_t n_slots)
{
  assert(n_slots && (n_slots & (n_slots - 1)) == 0);
  ring->slot_size = slot_size;
  ring->mask      = n_slots - 1;
  ring->slots     = slots;
  atomic_init(&ring->n_pushed, 0);
  atomic_init(&ring->n_refused, 0);
  atomic_init(&ring->n_popped, 0);
}

static unsigned char*
slot(const Ring* const ring, const size_t number)
{
  return ring->slots + (number & ring->mask) * ring->slot_size;
}

bool
ring_push(Ring* const ring, const void* const item)
{
  const size_t pushed =
    atomic_load_explicit(&ring->n_pushed, memory_order_relaxed);
  const size_t popped =
    atomic_load_explicit(&ring->n_popped, memory_order_acquire);
  if (pushed - popped > ring->mask) {
    atomic_fetch_add_explicit(&ring->n_refused, 1, memory_order_relaxed);
    return false;
  }
  memcpy(slot(ring, pushed), item, ring->slot_size);
  atomic_store_explicit(&ring->n_pushed, pushed + 1, memory_order_release);
  return true;
}

bool
ring_pop(Ring* const ring, void* const item)
{
  const size_t popped =
    atomic_load_explicit(&ring->n_popped, memory_order_relaxed);
  const size_t pushed =
    atomic_load_explicit(&ring->n_pushed, memory_order_acquire);
  if (popped == pushed) {
    return false;
  }
  memcpy(item, slot(ring, popped), ring->slot_size);
  atomic_store_explicit(&ring->n_popped, popped + 1, memory_order_release);
  return true;
}

unsigned
ring_refused(const Ring* const ring)
{
  return atomic_load_explicit(&ring->n_refused, memory_order_relaxed);
}
