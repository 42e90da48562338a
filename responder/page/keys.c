#include "responder/page/keys.h"

#include "core/midi_message.h"
#include "core/time/monotonic.h"

enum { OLDEST_NS = 100000000 }; // Of a key that was struck

void
keys_play(Page* const page, const WireMessage* const key)
{
  const int64_t now     = monotonic_ns();
  const double  at_ns   = key->at_ms * (double)NS_PER_MS;
  const double  oldest  = (double)(now - OLDEST_NS);
  MidiMessage   message = {
      .time_ns = at_ns < oldest        ? now - OLDEST_NS
                 : at_ns > (double)now ? now
                                       : (int64_t)at_ns,
      .size    = 3,
      .bytes   = {key->what == WIRE_ON ? MIDI_NOTE_ON : MIDI_NOTE_OFF,
                key->pitch,
              key->what == WIRE_ON ? key->velocity : 0},
  };
  if (key->what != WIRE_NONE) {
    page->held[key->pitch] = key->what == WIRE_ON;
    stage_key(page->playing.stage, &message);
    return;
  }
  for (unsigned pitch = 0; pitch < FACE_PITCHES; ++pitch) {
    if (page->held[pitch]) {
      page->held[pitch] = false;
      message.bytes[1]  = (uint8_t)pitch;
      stage_key(page->playing.stage, &message);
    }
  }
}

void
keys_release(Page* const page)
{
  const WireMessage none = {
    .what = WIRE_NONE, .at_ms = (double)monotonic_ns() / (double)NS_PER_MS};
  keys_play(page, &none);
}

// What comes from the keyboard

static void
add(json_t* const lists[2], const MidiMessage* const message)
{
  const uint8_t kind  = message->bytes[0] & 0xF0U;
  const bool    is_on = kind == MIDI_NOTE_ON && message->bytes[2];
  if (kind == MIDI_NOTE_ON || kind == MIDI_NOTE_OFF) {
    (void)json_array_append_new(lists[is_on], json_integer(message->bytes[1]));
  }
}

void
keys_look(Page* const page)
{
  MidiMessage message;
  json_t*     lists[2] = {NULL, NULL};
  while (stage_see(page->playing.stage, &message)) {
    for (unsigned i = 0; i < 2 && !lists[i]; ++i) {
      lists[i] = json_array();
    }
    add(lists, &message);
  }
  if (lists[0]) {
    face_tell(
      page,
      json_pack("{ss so so}", "tell", "keys", "off", lists[0], "on", lists[1]));
  }
}
