#include "responder/stage/keeper.h"

#include <stdlib.h>
#include <string.h>

enum { LOOK_MS = 50 };

static void
fail(Keeper* const keeper, const Fault* const fault)
{
  if (!atomic_load(&keeper->has_failed)) {
    keeper->fault = *fault;
    atomic_store(&keeper->has_failed, true);
  }
}

static void
take_kept(Keeper* const keeper)
{
  Conversation* const conversation = &keeper->conversation;
  Kept                kept;
  Fault               fault;
  while (ring_pop(&keeper->engine->kept, &kept)) {
    const Status status = kept.kind == KEPT_KEY
                            ? conversation_hear(conversation, kept.key)
                          : kept.kind == KEPT_CHANGE
                            ? conversation_change(conversation, kept.change)
                            : conversation_add(conversation, kept.note);
    if (status) {
      (void)fault_say(&fault, status, "%s", status_text(status));
      fail(keeper, &fault);
    }
  }
}

static Status
copy(Conversation* const copied, const Conversation* const conversation)
{
  const size_t n = conversation->n_notes;
  *copied        = *conversation;
  copied->notes  = calloc(n + 1, sizeof(*copied->notes));
  if (!copied->notes) {
    return STATUS_MEMORY;
  }
  if (n) {
    memcpy(copied->notes, conversation->notes, n * sizeof(*copied->notes));
  }
  copied->capacity = n + 1;
  return STATUS_OK;
}

// As if it were left now; it goes on nevertheless
static bool
save(Keeper* const keeper, const Tick now)
{
  Conversation left;
  Fault        fault;
  if (!keeper->recording || now <= 0) {
    return false;
  }
  Status status = copy(&left, &keeper->conversation);
  if (!status && now < left.last) {
    status = conversation_leave(&left, now);
  } else if (!status) {
    status = conversation_release(&left, left.last);
  }
  if (status) {
    (void)fault_say(&fault, status, "%s", status_text(status));
  } else {
    conversation_sort(&left);
    status = recording_save(&left, keeper->recording, &fault);
  }
  free(left.notes);
  if (status) {
    fail(keeper, &fault);
  }
  return !status;
}

// Notes come before the turn that they led to: once it is here, so are they
static void
look(Keeper* const keeper, TurnRecord* const record)
{
  bool has_turn = false;
  Tick now      = 0;
  while (ring_pop(&keeper->engine->turns, record)) {
    has_turn = true;
    now      = record->turn.by_player ? record->turn.end : record->turn.start;
    ++keeper->n_turns;
  }
  take_kept(keeper);
  if (has_turn) {
    (void)save(keeper, now);
  }
}

static void*
run(void* const context)
{
  Keeper* const keeper = context;
  TurnRecord    record;
  while (!atomic_load(&keeper->stops)) {
    look(keeper, &record);
    monotonic_sleep_ms(LOOK_MS);
  }
  look(keeper, &record);
  return NULL;
}

Status
keeper_begin(Keeper* const          keeper,
             Engine* const          engine,
             const Recording* const recording)
{
  memset(keeper, 0, sizeof(*keeper));
  keeper->engine    = engine;
  keeper->recording = recording;
  atomic_init(&keeper->stops, false);
  atomic_init(&keeper->has_failed, false);
  keeper->conversation.first = session_first_tick(&engine->session);
  keeper->conversation.last  = session_last_tick(&engine->session);
  return thread_begin(&keeper->thread, run, keeper);
}

bool
keeper_end(Keeper* const keeper)
{
  Conversation* const conversation = &keeper->conversation;
  atomic_store(&keeper->stops, true);
  (void)pthread_join(keeper->thread, NULL);
  // The session knows its end only when there is a best phrase to play back
  conversation->last = session_last_tick(&keeper->engine->session);
  const bool is_whole =
    keeper->n_turns > 0 && save(keeper, keeper->engine->reached);
  conversation_free(conversation);
  return is_whole;
}
