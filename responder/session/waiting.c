#include "responder/session/waiting.h"

#include <stdbool.h>
#include <string.h>

static bool
is_before(const HeardKey left, const HeardKey right)
{
  return left.tick != right.tick ? left.tick < right.tick
         : !left.velocity != !right.velocity
           ? !left.velocity
           : left.velocity && left.pitch < right.pitch;
}

Tick
waiting_add(Waiting* const waiting, HeardKey key)
{
  if (waiting->n_keys && key.tick < waiting->last) {
    key.tick = waiting->last;
  }
  if (key.velocity) {
    waiting->struck[key.pitch] = key.tick;
  } else if (waiting->struck[key.pitch] == key.tick) {
    ++key.tick;
  }
  waiting->last = key.tick;
  if (waiting->n_keys == WAITING_CAPACITY) {
    return key.tick;
  }
  unsigned at = waiting->n_keys++;
  for (; at > 0 && is_before(key, waiting->keys[at - 1]); --at) {
    waiting->keys[at] = waiting->keys[at - 1];
  }
  waiting->keys[at] = key;
  return key.tick;
}

Tick
waiting_next(const Waiting* const waiting, const Tick none)
{
  return waiting->n_keys ? waiting->keys[0].tick : none;
}

HeardKey
waiting_take(Waiting* const waiting)
{
  const HeardKey key = waiting->keys[0];
  --waiting->n_keys;
  memmove(
    waiting->keys, waiting->keys + 1, waiting->n_keys * sizeof(*waiting->keys));
  return key;
}
