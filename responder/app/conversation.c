#include "responder/app/conversation.h"

#include <stdbool.h>
#include <stdlib.h>

// A session under way, and who listens
typedef struct {
  Session       session;
  SessionOut    out;
  Conversation* conversation;
  Note          held[128]; ///< The player's sounding notes; length 0: none
  TurnListener  listener;
  void*         context;
} Run;

static Status
keep(Conversation* const conversation, const PartNote note)
{
  if (conversation->n_notes == conversation->capacity) {
    const size_t    capacity = 2 * conversation->capacity + 1024;
    PartNote* const notes =
      realloc(conversation->notes, capacity * sizeof(*notes));
    if (!notes) {
      return STATUS_MEMORY;
    }
    conversation->notes    = notes;
    conversation->capacity = capacity;
  }
  conversation->notes[conversation->n_notes++] = note;
  return STATUS_OK;
}

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
      if (keep(run->conversation, run->out.played[i])) {
        return STATUS_MEMORY;
      }
    }
  } while (reached < until);
  return STATUS_OK;
}

static Status
release(Run* const run, const uint8_t pitch, const Tick tick)
{
  Note* const held = &run->held[pitch];
  if (!held->velocity) {
    return STATUS_OK;
  }
  held->length    = tick > held->tick ? tick - held->tick : 1;
  const Note note = *held;
  held->velocity  = 0;
  return keep(run->conversation, (PartNote){note, PART_PLAYER});
}

static Status
hear(Run* const run, HeardKey key)
{
  key.tick            = session_hear(&run->session, key);
  const Status status = release(run, key.pitch, key.tick);
  if (key.velocity) {
    run->held[key.pitch] = (Note){key.tick, 0, key.pitch, key.velocity};
  }
  return status;
}

static int
compare_notes(const void* const left, const void* const right)
{
  const PartNote* const a = left;
  const PartNote* const b = right;
  if (a->note.tick != b->note.tick) {
    return a->note.tick < b->note.tick ? -1 : 1;
  }
  if (a->part != b->part) {
    return a->part < b->part ? -1 : 1;
  }
  if (a->note.pitch != b->note.pitch) {
    return a->note.pitch - b->note.pitch;
  }
  return (a->note.length > b->note.length) - (a->note.length < b->note.length);
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
  if (advance_to(run, last)) {
    return STATUS_MEMORY;
  }
  for (unsigned pitch = 0; pitch < 128; ++pitch) {
    if (release(run, (uint8_t)pitch, last)) {
      return STATUS_MEMORY;
    }
  }
  return STATUS_OK;
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
  qsort(conversation->notes,
        conversation->n_notes,
        sizeof(*conversation->notes),
        compare_notes);
  return STATUS_OK;
}

void
conversation_free(Conversation* const conversation)
{
  free(conversation->notes);
  *conversation = (Conversation){.notes = NULL};
}
