/// @file responder/stage/gesture.h Hands-free control: one key, pedal or
/// controller, tapped or held.
///
///   one tap             start; while playing: again from the top
///   held                stop; while waiting: leave
///   two taps            easier            three taps           harder
///   a tap, then held    slower            two taps, then held  faster

#ifndef RESPONDER_STAGE_GESTURE_H
#define RESPONDER_STAGE_GESTURE_H

#include "core/attributes.h"
#include "core/ports/message.h"
#include "core/status.h"

#include <stdbool.h>
#include <stdint.h>

enum { TRIGGER_TEXT_CAPACITY = 16 };

/// What is pressed; zeroed, nothing is.
typedef struct {
  uint8_t kind;   ///< 0: none; 0x90: a key; 0xB0: a controller
  uint8_t number; ///< 0..127
} Trigger;

typedef enum {
  GESTURE_NONE,
  GESTURE_AGAIN, ///< Or start
  GESTURE_STOP,  ///< Or leave
  GESTURE_EASIER,
  GESTURE_HARDER,
  GESTURE_SLOWER,
  GESTURE_FASTER,
} Gesture;

/// A gesture in a set of them.
#define GESTURE_BIT(gesture) (1U << (gesture))

/// Taps under way; begin it with the trigger and the rest zero.
typedef struct {
  Trigger  trigger;
  bool     is_down;
  unsigned n_taps;     ///< Pressed so often, the present one too
  int64_t  changed_ns; ///< When it last went down or up
} Tapping;

/// Read `cc64` or `key21`; STATUS_OK or STATUS_SYNTAX.
MUST_USE Status
trigger_parse(Trigger* trigger, const char* text);

/// Write it as trigger_parse() reads it; return `text`.
const char*
trigger_text(Trigger trigger, char text[TRIGGER_TEXT_CAPACITY]);

/// Whether a message is a press that could be a trigger, and which.
bool
trigger_learn(const MidiMessage* message, Trigger* trigger);

/// Take in a message; false if it is not the trigger's.
bool
tapping_hear(Tapping* tapping, const MidiMessage* message);

/// Return the gesture that is complete by now, once.
Gesture
tapping_look(Tapping* tapping, int64_t now_ns);

#endif // RESPONDER_STAGE_GESTURE_H
