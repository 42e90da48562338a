#include "responder/record/drive.h"

#include <stdlib.h>

// A session under way
typedef struct {
  Session       session;
  SessionOut    out;
  Conversation* conversation;
  DrivePlayer*  player;
} Run;

static Status
hear(Run* const run, HeardKey key)
{
  key.tick = session_hear(&run->session, key);
  return conversation_hear(run->conversation, key);
}

static HeardKey
take_key(DrivePlayer* const player)
{
  --player->n_keys;
  return *player->keys++;
}

// Strikes the keys that are down as the count-in begins
static void
hear_early(Run* const run)
{
  DrivePlayer* const player          = run->player;
  const Tick         first           = session_first_tick(&run->session);
  uint8_t            velocities[128] = {0};
  while (player->n_keys && player->keys->tick <= first) {
    const HeardKey key    = take_key(player);
    velocities[key.pitch] = key.velocity;
  }
  for (unsigned pitch = 0; pitch < 128; ++pitch) {
    if (velocities[pitch]) {
      (void)hear(run, (HeardKey){first, (uint8_t)pitch, velocities[pitch]});
    }
  }
}

static Tick
last_tick(const Run* const run)
{
  const Tick last = session_last_tick(&run->session);
  const Tick left = run->player->left;
  return left ? tick_least(left, last) : last;
}

static bool
is_over(const Run* const run)
{
  return run->session.now >= last_tick(run);
}

// Goes on to the next key, or to the end, or as far as there is room for what
// is played
static Status
step(Run* const run)
{
  DrivePlayer* const player = run->player;
  const Tick         last   = last_tick(run);
  const Tick         asks =
    player->n_changes ? player->changes->from - SESSION_LEAD : last;
  const bool has_key = player->n_keys && player->keys->tick < last;
  const Tick key     = has_key ? player->keys->tick : last;
  const Tick until   = tick_least(key, tick_least(asks, last));
  const Tick reached = session_advance(&run->session, until, &run->out);
  for (unsigned i = 0; i < run->out.n_played; ++i) {
    if (conversation_add(run->conversation, run->out.played[i])) {
      return STATUS_MEMORY;
    }
  }
  if (change_is_any(&run->out.change) &&
      conversation_change(run->conversation, run->out.change)) {
    return STATUS_MEMORY;
  }
  if (has_key && key == until && reached >= until &&
      hear(run, take_key(player))) {
    return STATUS_MEMORY;
  }
  if (player->n_changes && reached >= asks) {
    session_change(&run->session, player->changes++);
    --player->n_changes;
  }
  for (unsigned i = 0; i < run->out.n_turns; ++i) {
    player->hear_turn(player->context, &run->out.turns[i]);
  }
  return STATUS_OK;
}

static Status
run_through(Run* const run)
{
  Status status = STATUS_OK;
  hear_early(run);
  while (!status && !is_over(run)) {
    status = step(run);
  }
  const Tick end  = last_tick(run);
  const Tick last = session_last_tick(&run->session);
  if (status) {
    return status;
  }
  if (end < last) {
    return conversation_leave(run->conversation, end);
  }
  run->conversation->last = last;
  return conversation_release(run->conversation, last);
}

Status
drive_session(Conversation* const         conversation,
              const SessionOptions* const options,
              DrivePlayer* const          player)
{
  Run* const run = calloc(1, sizeof(*run));
  if (!run) {
    return STATUS_MEMORY;
  }
  SessionOptions offline  = *options;
  offline.thinks_when_due = true;
  *conversation           = (Conversation){.notes = NULL};
  run->conversation       = conversation;
  run->player             = player;
  session_begin(&run->session, &offline);
  conversation->first = session_first_tick(&run->session);
  conversation->last  = session_last_tick(&run->session);

  const Status status = run_through(run);
  free(run);
  if (status) {
    conversation_free(conversation);
    return status;
  }
  conversation_sort(conversation);
  return STATUS_OK;
}
