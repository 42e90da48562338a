#include "responder/stage/engine.h"

#include "core/midi/gm.h"
#include "core/midi_message.h"
#include "responder/record/conversation.h"
#include "responder/stage/sender.h"

#include <string.h>

enum {
  PULSE_TICKS     = TICKS_PER_QUARTER / 24, // MIDI 1.0: 24 a quarter
  SIXTEENTH_TICKS = TICKS_PER_QUARTER / 4,  // A song position counts these
  AHEAD_TICKS     = SESSION_LEAD / 2,
  BEFORE_START    = 2, ///< Ticks that a start comes before its first pulse

  WAKE_TICKS = AHEAD_TICKS / 2, ///< The rest is the sender's, to look up twice
  WAKE_NS    = 1000000,   ///< Of the machine's clock: no more often than this
  BEGIN_NS   = 400000000, ///< Before the count-in
  LOST_NS    = 250000000, ///< So much too late is time lost
  CLICK_NS   = 50000000,
  PRIORITY_OF_ENGINE = 60,
};

static const uint8_t click_strong = 100;
static const uint8_t click_weak   = 70;

static bool
is_too_late(const Engine* const engine, const int64_t due_ns)
{
  return due_ns + SENDER_LATE_NS * (int64_t)engine->pace->speed <
         engine->woke_ns;
}

static void
cast_note(Engine* const  engine,
          const Tick     tick,
          const int64_t  off_ns,
          const unsigned channel,
          const uint8_t  pitch,
          const uint8_t  velocity)
{
  const int64_t due_ns = tempo_clock_ns(&engine->clock, tick);
  if (!is_too_late(engine, due_ns)) {
    const Cast cast = {
      due_ns, off_ns, 3, {(uint8_t)(MIDI_NOTE_ON | channel), pitch, velocity}};
    (void)ring_push(engine->notes, &cast);
  }
}

static void
cast_bytes(Engine* const  engine,
           const Tick     tick,
           const unsigned size,
           const uint8_t  status,
           const unsigned data)
{
  const Cast cast = {
    tempo_clock_ns(&engine->clock, tick),
    0,
    (uint8_t)size,
    {status, (uint8_t)(data & 0x7FU), (uint8_t)(data >> 7 & 0x7FU)}};
  (void)ring_push(engine->notes, &cast);
}

static void
play(Engine* const engine, const PartNote* const played)
{
  const Note note = played->note;
  const Kept kept = {.kind = KEPT_NOTE, .note = *played};
  const Tick end  = note.tick + note.length;
  cast_note(engine,
            note.tick,
            tempo_clock_ns(&engine->clock, end),
            conversation_channel((Part)played->part),
            note.pitch,
            note.velocity);
  (void)ring_push(&engine->kept, &kept);
}

// Turns

static void
tell_turn(Engine* const engine, const TurnRecord* const record)
{
  (void)ring_push(&engine->turns, record);
  (void)ring_push(&engine->told, record);
  if (!record->turn.by_player) { // When the partner has ended
    cast_bytes(engine,
               record->turn.end + SESSION_LEAD,
               0,
               conversation_channel(PART_PARTNER),
               0);
  }
}

static void
lay(Engine* const engine, const SessionChange change)
{
  const Laid laid = {engine->clock, change, engine->is_paused};
  (void)ring_push(&engine->laid, &laid);
}

// Before anything was cast from its line on
static void
take_change(Engine* const engine, const SessionChange* const change)
{
  const Kept kept = {.kind = KEPT_CHANGE, .change = *change};
  if (change->tempo_bpm > 0.0) {
    tempo_clock_change(&engine->clock, change->from, change->tempo_bpm);
  }
  (void)ring_push(&engine->kept, &kept);
  lay(engine, *change);
}

static void
advance(Engine* const engine, const Tick until)
{
  while (engine->reached < until && !session_is_over(&engine->session)) {
    engine->reached = session_advance(&engine->session, until, &engine->out);
    if (change_is_any(&engine->out.change)) {
      take_change(engine, &engine->out.change);
    }
    for (unsigned i = 0; i < engine->out.n_turns; ++i) {
      tell_turn(engine, &engine->out.turns[i]);
    }
    for (unsigned i = 0; i < engine->out.n_played; ++i) {
      play(engine, &engine->out.played[i]);
    }
  }
}

// Keys

// Whether time stands still, or clicks lead up to where it stood
static bool
is_waiting(const Engine* const engine)
{
  return engine->is_paused ||
         tempo_clock_tick(&engine->clock, engine->woke_ns) < engine->reached;
}

// Meanwhile keys come up; what is struck a little before time goes on is meant
// for when it does
static bool
is_for_later(const Engine* const engine, const HeardKey key)
{
  const Meter meter = engine->options.session->chart->meter;
  const Tick  least = engine->reached - meter_beat_ticks(meter) / 2;
  return !key.velocity || (!engine->is_paused && key.tick >= least);
}

static bool
is_in_session(const Engine* const engine, const Tick tick)
{
  return tick > session_first_tick(&engine->session) &&
         tick < session_last_tick(&engine->session);
}

// Return whether it is of the session; its tick is no later than now
static bool
place_key(Engine* const engine, HeardKey* const key)
{
  if (is_waiting(engine)) {
    const bool is = is_for_later(engine, *key);
    key->tick     = engine->reached;
    return is && is_in_session(engine, key->tick);
  }
  const bool is  = is_in_session(engine, key->tick);
  const Tick now = tempo_clock_tick(&engine->clock, engine->woke_ns);
  key->tick      = tick_least(key->tick, now);
  return is;
}

static void
hear(Engine* const engine, const MidiMessage* const message)
{
  const uint8_t kind = message->bytes[0] & 0xF0U;
  if (tapping_hear(&engine->tapping, message) ||
      (kind != MIDI_NOTE_ON && kind != MIDI_NOTE_OFF)) {
    return;
  }
  HeardKey key = {
    tempo_clock_tick(&engine->clock, pace_of(engine->pace, message->time_ns)),
    message->bytes[1],
    kind == MIDI_NOTE_ON ? message->bytes[2] : 0};
  if (!place_key(engine, &key)) {
    return;
  }
  if (key.tick > engine->reached) {
    advance(engine, key.tick);
  }
  key.tick        = session_hear(&engine->session, key);
  const Kept kept = {.kind = KEPT_KEY, .key = key};
  (void)ring_push(&engine->kept, &kept);
}

// What goes with the notes

static void
click_until(Engine* const engine, const Tick until)
{
  const SessionOptions* const options = engine->options.session;
  const Meter                 meter   = options->chart->meter;
  for (; engine->next_beat < until;
       engine->next_beat += meter_beat_ticks(meter)) {
    const Tick beat      = engine->next_beat;
    const Turn turn      = engine->session.turn;
    const bool is_strong = beat % meter_bar_ticks(meter) == 0;
    if (atomic_load_explicit(&engine->clicks, memory_order_relaxed) &&
        turn.by_player && beat >= turn.start && beat < turn.end &&
        beat < engine->session.end) {
      cast_note(engine,
                beat,
                tempo_clock_ns(&engine->clock, beat) + CLICK_NS,
                conversation_channel(PART_DRUMS),
                is_strong ? GM_HI_WOOD_BLOCK : GM_LOW_WOOD_BLOCK,
                is_strong ? click_strong : click_weak);
    }
  }
}

// After time was lost: stop, say where we are, go on from the next sixteenth
static void
find_step(Engine* const engine, const Tick pulse)
{
  if (pulse < 0 || pulse % SIXTEENTH_TICKS) {
    return;
  }
  cast_bytes(engine, pulse - BEFORE_START, 1, MIDI_STOP, 0);
  cast_bytes(engine,
             pulse - BEFORE_START,
             3,
             MIDI_SONG_POSITION,
             (unsigned)(pulse / SIXTEENTH_TICKS));
  cast_bytes(engine, pulse - BEFORE_START, 1, MIDI_CONTINUE, 0);
  engine->is_out_of_step = false;
}

static void
pulse_until(Engine* const engine, const Tick until)
{
  for (; engine->options.sync && engine->next_pulse < until;
       engine->next_pulse += PULSE_TICKS) {
    const Tick pulse = engine->next_pulse;
    if (is_too_late(engine, tempo_clock_ns(&engine->clock, pulse))) {
      engine->is_out_of_step = engine->has_started || pulse >= 0;
      engine->has_started    = engine->is_out_of_step;
      continue;
    }
    if (pulse >= 0 && !engine->has_started) {
      cast_bytes(engine, pulse - BEFORE_START, 1, MIDI_START, 0);
      engine->has_started = true;
    }
    if (engine->is_out_of_step) {
      find_step(engine, pulse);
    }
    cast_bytes(engine, pulse, 1, MIDI_CLOCK, 0);
  }
}

// Time

static void
look_ahead(Engine* const engine)
{
  const Tick before = engine->reached + AHEAD_TICKS;
  PartNote   note;
  while (session_take_ahead(&engine->session, before, &note)) {
    play(engine, &note);
  }
  click_until(engine, before);
  pulse_until(engine, before);
}

static void
look_at_gestures(Engine* const engine)
{
  const Gesture gesture = tapping_look(&engine->tapping, monotonic_ns());
  if (gesture) {
    atomic_store(&engine->gesture, (int)gesture);
  }
}

static bool
take_key(Engine* const engine, MidiMessage* const message)
{
  return ring_pop(engine->keys, message) ||
         (engine->options.typed && ring_pop(engine->options.typed, message));
}

// Requests

static void
pause(Engine* const engine)
{
  if (!engine->is_paused) {
    engine->is_paused = true;
    if (engine->options.sync) {
      cast_bytes(engine, engine->reached, 1, MIDI_STOP, 0);
      engine->is_out_of_step = engine->has_started;
    }
    lay(engine, (SessionChange){.from = engine->reached});
  }
}

static void
click_in(Engine* const engine, const Tick from)
{
  const Meter meter = engine->options.session->chart->meter;
  const Tick  beat  = meter_beat_ticks(meter);
  const Tick  first = from + (beat - (from % beat + beat) % beat) % beat;
  for (Tick tick = first; tick < engine->reached; tick += beat) {
    const bool is_strong = tick % meter_bar_ticks(meter) == 0;
    cast_note(engine,
              tick,
              tempo_clock_ns(&engine->clock, tick) + CLICK_NS,
              conversation_channel(PART_DRUMS),
              is_strong ? GM_HI_WOOD_BLOCK : GM_LOW_WOOD_BLOCK,
              is_strong ? click_strong : click_weak);
  }
}

static void
go_on(Engine* const engine)
{
  if (engine->is_paused) {
    const Meter   meter = engine->options.session->chart->meter;
    const Tick    from  = engine->reached - meter_bar_ticks(meter);
    const int64_t begin =
      pace_ns(engine->pace) + BEGIN_NS * (int64_t)engine->pace->speed;
    tempo_clock_delay(&engine->clock,
                      begin - tempo_clock_ns(&engine->clock, from));
    engine->is_paused = false;
    click_in(engine, from);
    lay(engine, (SessionChange){.from = engine->reached});
  }
}

static void
take_requests(Engine* const engine)
{
  Request request;
  while (ring_pop(&engine->asked, &request)) {
    if (request.kind == REQUEST_CHANGE) {
      session_change(&engine->session, &request.change);
    } else if (request.kind == REQUEST_PAUSE) {
      pause(engine);
    } else {
      go_on(engine);
    }
  }
}

static void
wake(Engine* const engine)
{
  const int64_t now = pace_ns(engine->pace);
  MidiMessage   message;
  if (now - engine->woke_ns > LOST_NS * (int64_t)engine->pace->speed) {
    atomic_fetch_add(&engine->n_skips, 1);
  }
  engine->woke_ns = now;
  take_requests(engine);
  while (take_key(engine, &message)) {
    hear(engine, &message);
  }
  const Tick tick =
    engine->is_paused ? engine->reached : tempo_clock_tick(&engine->clock, now);
  if (!engine->is_paused) {
    advance(engine, tick);
    look_ahead(engine);
  }
  look_at_gestures(engine);
  atomic_store_explicit(&engine->tick, (long long)tick, memory_order_relaxed);
}

static void
stop_sync(Engine* const engine)
{
  if (engine->options.sync) {
    const Tick now = tempo_clock_tick(&engine->clock, pace_ns(engine->pace));
    cast_bytes(engine, now, 1, MIDI_STOP, 0);
  }
}

static int64_t
ticks_ns(const TempoClock* const clock, const Tick ticks)
{
  return beat_clock_ns(&clock->after, ticks) - beat_clock_ns(&clock->after, 0);
}

static int64_t
wake_period_ns(const TempoClock* const clock, const Pace* const pace)
{
  const int64_t wanted_ns = ticks_ns(clock, WAKE_TICKS);
  const int64_t least_ns  = WAKE_NS * (int64_t)pace->speed;
  return wanted_ns > least_ns ? wanted_ns : least_ns;
}

static void*
run(void* const context)
{
  Engine* const engine = context;
  thread_hurry(PRIORITY_OF_ENGINE);
  while (!atomic_load(&engine->stops) && !session_is_over(&engine->session)) {
    wake(engine);
    pace_sleep_until(engine->pace,
                     engine->woke_ns +
                       wake_period_ns(&engine->clock, engine->pace));
  }
  stop_sync(engine);
  atomic_store(&engine->is_over, true);
  return NULL;
}

static void
lay_clock(Engine* const engine)
{
  const double  tempo = engine->options.session->tempo_bpm;
  const Tick    first = session_first_tick(&engine->session);
  const int64_t begin =
    pace_ns(engine->pace) + BEGIN_NS * (int64_t)engine->pace->speed;
  const BeatClock zero = beat_clock_at(0, tempo);
  engine->clock   = tempo_clock_at(begin - beat_clock_ns(&zero, first), tempo);
  engine->reached = first;
  engine->next_beat  = first;
  engine->next_pulse = first;
  engine->woke_ns    = pace_ns(engine->pace);
  atomic_init(&engine->tick,
              (long long)tempo_clock_tick(&engine->clock, engine->woke_ns));
}

void
engine_setup(Engine* const       engine,
             const Pace* const   pace,
             Ring* const         keys,
             Ring* const         notes,
             const EngineOptions options)
{
  memset(engine, 0, sizeof(*engine));
  engine->pace            = pace;
  engine->keys            = keys;
  engine->notes           = notes;
  engine->options         = options;
  engine->tapping.trigger = options.control;
  session_begin(&engine->session, options.session);
  ring_setup(&engine->asked,
             engine->asked_slots,
             sizeof(*engine->asked_slots),
             ENGINE_ASKED);
  ring_setup(&engine->laid,
             engine->laid_slots,
             sizeof(*engine->laid_slots),
             ENGINE_LAID);
  ring_setup(&engine->kept,
             engine->kept_slots,
             sizeof(*engine->kept_slots),
             ENGINE_KEPT);
  ring_setup(&engine->turns,
             engine->turn_slots,
             sizeof(*engine->turn_slots),
             ENGINE_TURNS);
  ring_setup(&engine->told,
             engine->told_slots,
             sizeof(*engine->told_slots),
             ENGINE_TURNS);
  atomic_init(&engine->stops, false);
  atomic_init(&engine->is_over, false);
  atomic_init(&engine->clicks, options.click);
  atomic_init(&engine->gesture, GESTURE_NONE);
  atomic_init(&engine->n_skips, 0);
  lay_clock(engine);
}

int64_t
engine_notice_ns(const TempoClock* const clock, const Pace* const pace)
{
  return (ticks_ns(clock, AHEAD_TICKS) - wake_period_ns(clock, pace)) /
         pace->speed;
}

Status
engine_begin(Engine* const engine)
{
  lay_clock(engine);
  lay(engine, (SessionChange){.from = 0});
  return thread_begin(&engine->thread, run, engine);
}

void
engine_end(Engine* const engine)
{
  atomic_store(&engine->stops, true);
  (void)pthread_join(engine->thread, NULL);
}
