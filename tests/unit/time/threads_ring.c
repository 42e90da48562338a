// Two threads and a ring: everything arrives, once, in order, unharmed.
#include "core/time/realtime.h"
#include "core/time/ring.h"

#include <sched.h>
#include <stdio.h>

enum { N_ITEMS = 200000, N_SLOTS = 64 };

typedef struct {
  unsigned number;
  unsigned copies[5];
} Item;

typedef struct {
  Ring     ring;
  unsigned n_refused;
} Shared;

static void*
write_all(void* const context)
{
  Shared* const shared = context;
  for (unsigned i = 0; i < N_ITEMS;) {
    const Item item = {i, {i, i, i, i, i}};
    if (ring_push(&shared->ring, &item)) {
      ++i;
    } else {
      ++shared->n_refused;
      (void)sched_yield();
    }
  }
  return NULL;
}

static int
is_whole(const Item* const item, const unsigned number)
{
  int whole = item->number == number;
  for (unsigned i = 0; i < 5; ++i) {
    whole = whole && item->copies[i] == number;
  }
  return whole;
}

// One thread alone: full means refused and counted, and nothing else is lost
static int
fill(void)
{
  Item     slots[4];
  Ring     ring;
  Item     item = {0, {0}};
  unsigned n    = 0;
  ring_setup(&ring, slots, sizeof(*slots), 4);
  for (item.number = 0; item.number < 7; ++item.number) {
    n += ring_push(&ring, &item);
  }
  int right = n == 4 && ring_refused(&ring) == 3;
  for (unsigned i = 0; i < 4; ++i) {
    right = right && ring_pop(&ring, &item) && item.number == i;
  }
  return right && !ring_pop(&ring, &item);
}

int
main(void)
{
  static Item   slots[N_SLOTS];
  static Shared shared;
  pthread_t     writer;
  ring_setup(&shared.ring, slots, sizeof(*slots), N_SLOTS);
  if (!fill() || thread_begin(&writer, write_all, &shared)) {
    (void)puts("the ring is not as it should be, or no thread could be made");
    return 1;
  }
  unsigned n_wrong = 0;
  for (unsigned i = 0; i < N_ITEMS;) {
    Item item;
    if (ring_pop(&shared.ring, &item)) {
      n_wrong += !is_whole(&item, i);
      ++i;
    } else {
      (void)sched_yield();
    }
  }
  (void)pthread_join(writer, NULL);
  n_wrong += ring_refused(&shared.ring) != shared.n_refused;
  (void)printf("%u of %d items wrong\n", n_wrong, N_ITEMS);
  return n_wrong != 0;
}
