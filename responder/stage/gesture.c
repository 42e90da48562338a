#include "responder/stage/gesture.h"

#include "core/midi_message.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// By hand and foot: how long a press is held on purpose, and after how long
// without another one a row of taps is over
static const int64_t held_ns = INT64_C(700000000);
static const int64_t over_ns = INT64_C(450000000);

enum {
  PRESSED    = 64, ///< From this value on a controller is on (MIDI 1.0)
  MOST_TAPS  = 3,
  MOST_HOLDS = 3,
};

static const Gesture by_taps[MOST_TAPS + 1] = {
  GESTURE_NONE,
  GESTURE_AGAIN,
  GESTURE_EASIER,
  GESTURE_HARDER,
};

static const Gesture by_hold[MOST_HOLDS + 1] = {
  GESTURE_NONE,
  GESTURE_STOP,
  GESTURE_SLOWER,
  GESTURE_FASTER,
};

Status
trigger_parse(Trigger* const trigger, const char* const text)
{
  const bool        is_key = strncmp(text, "key", 3) == 0;
  const bool        is_cc  = strncmp(text, "cc", 2) == 0;
  const char* const number = text + (is_key ? 3 : 2);
  if ((!is_key && !is_cc) || !number[0] || strlen(number) > 3 ||
      strspn(number, "0123456789") != strlen(number)) {
    return STATUS_SYNTAX;
  }
  const unsigned long value = strtoul(number, NULL, 10);
  if (value > 127) {
    return STATUS_SYNTAX;
  }
  *trigger = (Trigger){is_key ? MIDI_NOTE_ON : MIDI_CONTROL, (uint8_t)value};
  return STATUS_OK;
}

const char*
trigger_text(const Trigger trigger, char text[TRIGGER_TEXT_CAPACITY])
{
  (void)snprintf(text,
                 TRIGGER_TEXT_CAPACITY,
                 "%s%u",
                 trigger.kind == MIDI_NOTE_ON ? "key" : "cc",
                 trigger.number);
  return text;
}

bool
trigger_learn(const MidiMessage* const message, Trigger* const trigger)
{
  const uint8_t kind = message->bytes[0] & 0xF0U;
  if (kind != MIDI_NOTE_ON &&
      (kind != MIDI_CONTROL || message->bytes[2] < PRESSED)) {
    return false;
  }
  *trigger = (Trigger){kind, message->bytes[1]};
  return true;
}

bool
tapping_hear(Tapping* const tapping, const MidiMessage* const message)
{
  const uint8_t kind    = message->bytes[0] & 0xF0U;
  const Trigger trigger = tapping->trigger;
  const bool    is_ours = trigger.kind && message->bytes[1] == trigger.number &&
                       (kind == trigger.kind || (trigger.kind == MIDI_NOTE_ON &&
                                                 kind == MIDI_NOTE_OFF));
  if (!is_ours) {
    return false;
  }
  const bool goes_down = kind == MIDI_NOTE_ON ||
                         (kind == MIDI_CONTROL && message->bytes[2] >= PRESSED);
  if (goes_down != tapping->is_down) {
    tapping->is_down    = goes_down;
    tapping->changed_ns = message->time_ns;
    tapping->n_taps += goes_down;
  }
  return true;
}

Gesture
tapping_look(Tapping* const tapping, const int64_t now_ns)
{
  const int64_t  since = now_ns - tapping->changed_ns;
  const unsigned n     = tapping->n_taps;
  if (!n || since < (tapping->is_down ? held_ns : over_ns)) {
    return GESTURE_NONE;
  }
  tapping->n_taps = 0;
  if (tapping->is_down) {
    return n <= MOST_HOLDS ? by_hold[n] : GESTURE_NONE;
  }
  return n <= MOST_TAPS ? by_taps[n] : GESTURE_NONE;
}
