#include "responder/app/conversation.h"

#include <stdlib.h>

// A session under way, and who listens
typedef struct {
  Session       session;
  SessionOut    out;
  Conversation* conversation;
  TurnListener  listener;
  void*         context;
} Run;

static Status
advance_to(Run* const run, const Tick until)
{
  Tick reached = 0;
  do {
    reached = session_advance(&run->session, until, &run->out);
    for (unsigned i = 0; i < run->out.n_turns; ++i) {
      run->listener(run->context, &run->out.turns[i]);
    }
    for (unsigned i = 0; i < run->out.n_played; ++i) {
      if (conversation_add(run->conversation, run->out.played[i])) {
        return STATUS_MEMORY;
      }
    }
  } while (reached < until);
  return STATUS_OK;
}

static Status
hear(Run* const run, HeardKey key)
{
  key.tick = session_hear(&run->session, key);
  return conversation_hear(run->conversation, key);
}

// Strikes the keys that are down as the count-in begins; returns the first key
// that comes later
static size_t
hear_early(Run* const run, const HeardKey* const keys, const size_t n_keys)
{
  const Tick first           = session_first_tick(&run->session);
  uint8_t    velocities[128] = {0};
  size_t     n               = 0;
  for (; n < n_keys && keys[n].tick <= first; ++n) {
    velocities[keys[n].pitch] = keys[n].velocity;
  }
  for (unsigned pitch = 0; pitch < 128; ++pitch) {
    if (velocities[pitch]) {
      (void)hear(run, (HeardKey){first, (uint8_t)pitch, velocities[pitch]});
    }
  }
  return n;
}

static Status
run_through(Run* const run, const HeardKey* const keys, const size_t n_keys)
{
  const Tick last = session_last_tick(&run->session);
  for (size_t i = hear_early(run, keys, n_keys);
       i < n_keys && keys[i].tick < last;
       ++i) {
    if (advance_to(run, keys[i].tick) || hear(run, keys[i])) {
      return STATUS_MEMORY;
    }
  }
  return advance_to(run, last) ? STATUS_MEMORY
                               : conversation_release(run->conversation, last);
}

Status
conversation_run(Conversation* const         conversation,
                 const SessionOptions* const options,
                 const HeardKey* const       keys,
                 const size_t                n_keys,
                 const TurnListener          listener,
                 void* const                 context)
{
  Run* const run = calloc(1, sizeof(*run));
  if (!run) {
    return STATUS_MEMORY;
  }
  *conversation     = (Conversation){.notes = NULL};
  run->conversation = conversation;
  run->listener     = listener;
  run->context      = context;
  session_begin(&run->session, options);
  conversation->first = session_first_tick(&run->session);
  conversation->last  = session_last_tick(&run->session);

  const Status status = run_through(run, keys, n_keys);
  free(run);
  if (status) {
    conversation_free(conversation);
    return status;
  }
  conversation_sort(conversation);
  return STATUS_OK;
}
