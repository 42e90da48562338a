#include "responder/stage/held.h"

#include "core/midi_message.h"
#include "core/time/monotonic.h"

enum { HALF_DOWN = 64 }; // MIDI 1.0, table III: 64 and more is on

void
held_note(Held* const held, const MidiMessage* const message)
{
  const uint8_t       kind  = message->bytes[0] & 0xF0U;
  const uint8_t       value = message->bytes[2];
  const unsigned char down  = (message->bytes[0] & 0x0FU) + 1;
  const unsigned      key   = message->bytes[1] % HELD_KEYS;
  if (kind == MIDI_NOTE_ON || kind == MIDI_NOTE_OFF) {
    atomic_store(&held->keys[key], kind == MIDI_NOTE_ON && value ? down : 0);
  } else if (kind == MIDI_CONTROL && key == MIDI_SUSTAIN) {
    atomic_store(&held->pedal, value >= HALF_DOWN ? down : 0);
  }
}

static void
let_go(atomic_uchar* const down,
       const uint8_t       kind,
       const uint8_t       data,
       const PortReceiver  receive,
       void* const         context)
{
  const unsigned char was = atomic_exchange(down, 0);
  if (was) {
    const MidiMessage message = {
      .time_ns = monotonic_ns(),
      .size    = 3,
      .bytes   = {(uint8_t)(kind | (was - 1U)), data, 0},
    };
    receive(context, &message);
  }
}

void
held_release(Held* const held, const PortReceiver receive, void* const context)
{
  for (unsigned key = 0; key < HELD_KEYS; ++key) {
    let_go(&held->keys[key], MIDI_NOTE_OFF, (uint8_t)key, receive, context);
  }
  let_go(&held->pedal, MIDI_CONTROL, MIDI_SUSTAIN, receive, context);
}
