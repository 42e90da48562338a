#include "responder/stage/stage.h"

#include "core/midi_message.h"
#include "core/time/monotonic.h"
#include "responder/stage/stage_parts.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  LOOK_MS    = 20,
  CLOSING_MS = 30, ///< For the last messages of a port
  CLICK_NS   = 50000000,
};

// The input's thread

static void
receive(void* const context, const MidiMessage* const message)
{
  Stage* const stage = context;
  (void)ring_push(&stage->keys, message);
  (void)ring_push(&stage->seen, message); // Where nobody looks it is full
  if (atomic_load_explicit(&stage->thru, memory_order_relaxed)) {
    (void)ring_push(&stage->sender.keys, message);
  }
}

bool
stage_hears_keyboard(const Stage* const stage)
{
  return atomic_load(&stage->supervisor.hears);
}

bool
stage_see(Stage* const stage, MidiMessage* const message)
{
  return ring_pop(&stage->seen, message);
}

void
stage_key(Stage* const stage, const MidiMessage* const message)
{
  (void)ring_push(&stage->typed, message);
  if (atomic_load_explicit(&stage->thru, memory_order_relaxed)) {
    sender_key(&stage->sender, message);
  }
}

// Opening and closing

static void
write_text(Stage* const stage)
{
  const Supervisor* const supervisor = &stage->supervisor;
  const Live* const       live       = supervisor->live;
  (void)snprintf(stage->text,
                 sizeof(stage->text),
                 "In: %.50s. Out: %.50s%s%s%s%.50s.",
                 supervisor->in                 ? supervisor->in_name
                 : supervisor->wiring.awaits_in ? "nothing yet"
                                                : "nothing",
                 supervisor->out ? supervisor->out_name : "",
                 live ? "built-in sound by " : "",
                 live              ? live_driver(live)
                 : supervisor->out ? ""
                                   : "nothing",
                 live ? ", from " : "",
                 live ? live_font(live) : "");
  if (supervisor->out && !supervisor->wiring.is_own) {
    (void)snprintf(
      stage->guarded, sizeof(stage->guarded), "%s", supervisor->out_name);
    (void)snprintf(stage->system,
                   sizeof(stage->system),
                   "%s",
                   ports_name(supervisor->ports));
  }
}

static Status
begin_threads(Stage* const stage)
{
  if (sender_begin(
        &stage->sender, &stage->pace, &stage->outlet, stage->options.voices)) {
    return STATUS_SYSTEM;
  }
  if (supervisor_begin(&stage->supervisor)) {
    sender_end(&stage->sender);
    return STATUS_SYSTEM;
  }
  if (stopping_begin(&stage->stopping)) {
    supervisor_end(&stage->supervisor);
    sender_end(&stage->sender);
    return STATUS_SYSTEM;
  }
  return STATUS_OK;
}

static Stage*
make(const StageOptions* const options)
{
  Stage* const stage = calloc(1, sizeof(*stage));
  if (stage) {
    stage->options         = *options;
    stage->pace            = pace_begin(options->speed);
    stage->tapping.trigger = options->control;
    ring_setup(
      &stage->keys, stage->key_slots, sizeof(*stage->key_slots), ENGINE_KEYS);
    ring_setup(&stage->typed,
               stage->typed_slots,
               sizeof(*stage->typed_slots),
               ENGINE_KEYS);
    ring_setup(
      &stage->seen, stage->seen_slots, sizeof(*stage->seen_slots), STAGE_SEEN);
    atomic_init(&stage->thru, options->thru);
    sender_setup(&stage->sender);
    outlet_begin(&stage->outlet);
  }
  return stage;
}

Status
stage_open(Stage** const             stage,
           const StageOptions* const options,
           Fault* const              fault)
{
  Stage* const opened = make(options);
  if (!opened) {
    return fault_memory(fault, NULL);
  }
  stopping_hold(&opened->stopping);
  Wiring wiring = options->wiring;
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    wiring.programs[part] =
      part == PART_DRUMS ? SOUND_DRUMS : options->voices[part].program;
  }
  Status status = supervisor_open(
    &opened->supervisor, wiring, &opened->outlet, receive, opened, fault);
  if (!status) {
    write_text(opened);
  }
  if (!status && begin_threads(opened)) {
    supervisor_close(&opened->supervisor);
    status = fault_say(
      fault, STATUS_SYSTEM, "the system gave no threads to play with");
  }
  if (status) {
    stopping_release(&opened->stopping);
    outlet_end(&opened->outlet);
    free(opened);
    return status;
  }
  *stage = opened;
  return STATUS_OK;
}

void
stage_close(Stage* const stage)
{
  if (stage) {
    supervisor_end(&stage->supervisor);
    sender_end(&stage->sender);
    monotonic_sleep_ms(CLOSING_MS);
    supervisor_close(&stage->supervisor);
    stopping_end(&stage->stopping);
    stopping_release(&stage->stopping);
    outlet_end(&stage->outlet);
    free(stage);
  }
}

void
stage_tell_guardian(const Stage* const stage, const Guardian* const guardian)
{
  if (stage->guarded[0]) {
    guardian_tell(guardian, stage->system, stage->guarded);
  }
}

const char*
stage_text(const Stage* const stage)
{
  return stage->text;
}

void
stage_await_sound(const Stage* const stage)
{
  supervisor_await_sound(&stage->supervisor);
}

bool
stage_loads_sound(const Stage* const stage)
{
  return atomic_load(&stage->supervisor.is_loading);
}

const Fault*
stage_no_font(const Stage* const stage)
{
  return supervisor_no_font(&stage->supervisor);
}

bool
stage_is_asked_to_stop(const Stage* const stage)
{
  return atomic_load(&stage->stopping.is_asked);
}

bool
stage_take(Stage* const stage, MidiMessage* const message)
{
  return ring_pop(&stage->keys, message) || ring_pop(&stage->typed, message);
}

void
stage_click(Stage* const  stage,
            const int64_t due_ns,
            const uint8_t key,
            const uint8_t velocity)
{
  const uint8_t  channel  = conversation_channel(PART_DRUMS);
  const int64_t  due      = pace_of(&stage->pace, due_ns);
  const Outgoing outgoing = {
    due, due + CLICK_NS, 3, {(uint8_t)(MIDI_NOTE_ON | channel), key, velocity}};
  (void)ring_push(&stage->sender.notes, &outgoing);
}

void
stage_sound(Stage* const  stage,
            const Part    part,
            const int64_t due_ns,
            const int64_t off_ns,
            const uint8_t pitch,
            const uint8_t velocity)
{
  const uint8_t  channel  = conversation_channel(part);
  const Outgoing outgoing = {
    pace_of(&stage->pace, due_ns),
    pace_of(&stage->pace, off_ns),
    3,
    {(uint8_t)(MIDI_NOTE_ON | channel), pitch, velocity}};
  (void)ring_push(&stage->sender.notes, &outgoing);
}

void
stage_hush(Stage* const stage)
{
  sender_hush(&stage->sender);
}

// Performing

bool
stage_take_words(Stage* const stage, char words[SUPERVISOR_LINE])
{
  return ring_pop(&stage->supervisor.lines, words);
}

void
stage_change(Stage* const stage, const SessionChange* const change)
{
  const Request request = {.kind = REQUEST_CHANGE, .change = *change};
  (void)ring_push(&stage->engine.asked, &request);
}

void
stage_pause(Stage* const stage, const bool pauses)
{
  const Request request = {.kind = pauses ? REQUEST_PAUSE : REQUEST_GO_ON};
  (void)ring_push(&stage->engine.asked, &request);
}

void
stage_gesture(Stage* const stage, const Gesture gesture)
{
  atomic_store(&stage->engine.gesture, (int)gesture);
}

Tick
stage_now(const Stage* const stage)
{
  return (Tick)atomic_load_explicit(&stage->engine.tick, memory_order_relaxed);
}

Tick
stage_first(const Stage* const stage)
{
  return session_first_tick(&stage->engine.session);
}

int64_t
stage_moment_ns(const Stage* const stage, const Tick tick)
{
  const Pace* const pace = &stage->pace;
  return pace->origin_ns +
         (tempo_clock_ns(&stage->clock, tick) - pace->origin_ns) / pace->speed;
}

void
stage_clicks(Stage* const stage, const bool click)
{
  atomic_store(&stage->engine.clicks, click);
}

void
stage_voice(Stage* const  stage,
            const Part    part,
            const uint8_t program,
            const uint8_t level)
{
  sender_voice(&stage->sender, part, program, level);
}

// Take the gesture that was made; what steers is put by, to be asked for
static Gesture
take_gesture(Stage* const stage)
{
  const Gesture gesture =
    (Gesture)atomic_exchange(&stage->engine.gesture, GESTURE_NONE);
  if (!gesture || !(stage->options.steering & GESTURE_BIT(gesture))) {
    return gesture;
  }
  stage->steered = gesture;
  return GESTURE_NONE;
}

Gesture
stage_take_steering(Stage* const stage)
{
  const Gesture gesture = stage->steered;
  stage->steered        = GESTURE_NONE;
  return gesture;
}

static bool
is_at_an_end(Stage* const stage, StageResult* const result)
{
  const Gesture gesture = take_gesture(stage);
  if (stage_is_asked_to_stop(stage)) {
    result->end = STAGE_SIGNAL;
    return true;
  }
  if (gesture) {
    result->end     = STAGE_GESTURE;
    result->gesture = gesture;
    return true;
  }
  result->end = STAGE_OVER;
  return atomic_load(&stage->engine.is_over);
}

bool
stage_goes_on(Stage* const stage, StageResult* const result)
{
  if (stage->goes_on && is_at_an_end(stage, result)) {
    stage->goes_on = false;
    engine_end(&stage->engine);
  }
  return stage->goes_on;
}

void
stage_end(Stage* const stage, StageResult* const result)
{
  Engine* const engine = &stage->engine;
  if (result->end == STAGE_OVER) { // Let the last chord ring out
    monotonic_sleep_ms(LOOK_MS);
  }
  sender_hush(&stage->sender);
  result->is_kept   = keeper_end(&stage->keeper);
  result->fault     = (Fault){.status = STATUS_OK};
  result->n_skips   = atomic_load(&engine->n_skips);
  result->n_dropped = atomic_exchange(&stage->sender.n_dropped, 0);
  result->n_lost = ring_refused(&engine->kept) + ring_refused(&engine->turns) +
                   ring_refused(&stage->keys) + ring_refused(&stage->typed) +
                   ring_refused(engine->notes);
  if (atomic_load(&stage->keeper.has_failed)) {
    result->fault = stage->keeper.fault;
  }
}

void
stage_thru(Stage* const stage, const bool thru)
{
  atomic_store(&stage->thru, thru);
  if (thru) {
    sender_look_every(&stage->sender, NS_PER_MS);
  }
}

Status
stage_begin(Stage* const stage, const Performance* const performance)
{
  const EngineOptions options = {
    .session = performance->session,
    .control = stage->options.control,
    .click   = performance->click,
    .sync    = performance->sync,
    .typed   = &stage->typed,
  };
  MidiMessage early;
  TimeChange  change;
  stage_await_sound(stage);
  while (stage_take(stage, &early)) { // Played before anything was asked
  }
  engine_setup(
    &stage->engine, &stage->pace, &stage->keys, &stage->sender.notes, options);
  stage->n_skips = 0;
  stage->steered = GESTURE_NONE;
  Status status =
    keeper_begin(&stage->keeper, &stage->engine, performance->recording);
  if (!status && (status = engine_begin(&stage->engine))) {
    (void)keeper_end(&stage->keeper);
  }
  stage->goes_on = !status && stage_take_time_change(stage, &change);
  return status;
}

StageEnd
stage_wait(Stage* const stage, const unsigned ms, Gesture* const gesture)
{
  const int64_t until = monotonic_ns() + ms * NS_PER_MS;
  MidiMessage   message;
  while (monotonic_ns() < until) {
    while (stage_take(stage, &message)) {
      (void)tapping_hear(&stage->tapping, &message);
    }
    *gesture = tapping_look(&stage->tapping, monotonic_ns());
    if (*gesture) {
      return STAGE_GESTURE;
    }
    if (stage_is_asked_to_stop(stage)) {
      return STAGE_SIGNAL;
    }
    monotonic_sleep_ms(LOOK_MS);
  }
  return STAGE_OVER;
}

double
stage_lateness_us(const Stage* const stage, const double share)
{
  return sender_lateness_us(&stage->sender, share);
}
