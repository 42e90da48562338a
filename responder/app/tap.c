#include "responder/app/tap.h"

#include "core/midi_message.h"
#include "core/music/spelling.h"
#include "core/time/monotonic.h"

enum { MIDDLE_C = 60, VELOCITY = 80, HELD_MS = 150 };

/// Whether a tick is in a turn that gives a cell back.
static bool
gives_back(const SessionOptions* const session, const Tick tick)
{
  const TurnPlan plan = session_turn_plan(session);
  Turn           turn = turn_at(plan, 1);
  while (turn.end <= tick) {
    turn = turn_at(plan, turn.index + 1);
  }
  return turn.task == TASK_GIVE_BACK && tick >= turn.start;
}

bool
tap_counts(const SessionOptions* const session, const Tick now)
{
  const Tick beat = meter_beat_ticks(session->chart->meter);
  return gives_back(session, now + beat / 2) || gives_back(session, now - beat);
}

static void
send(Stage* const stage, const uint8_t pitch, const bool is_on)
{
  const MidiMessage message = {
    .time_ns = monotonic_ns(),
    .size    = 3,
    .bytes   = {is_on ? MIDI_NOTE_ON : MIDI_NOTE_OFF,
              pitch,
              is_on ? VELOCITY : 0},
  };
  stage_key(stage, &message);
}

static void
release(Tap* const tap, Stage* const stage)
{
  if (tap->pitch) {
    send(stage, tap->pitch, false);
    tap->pitch = 0;
  }
}

uint8_t
tap_strike(Tap* const tap, Stage* const stage, const Chart* const chart)
{
  release(tap, stage);
  tap->pitch    = (uint8_t)(MIDDLE_C + spelling_pitch_class(chart->key.tonic));
  tap->until_ns = monotonic_ns() + HELD_MS * NS_PER_MS;
  send(stage, tap->pitch, true);
  return tap->pitch;
}

void
tap_look(Tap* const tap, Stage* const stage)
{
  if (monotonic_ns() >= tap->until_ns) {
    release(tap, stage);
  }
}
