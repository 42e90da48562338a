#include "responder/stage/gesture.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

typedef struct {
  char    text[12];
  Status  status;
  Trigger trigger;
} TextRow;

ParameterizedTestParameters(trigger, parse)
{
  static TextRow rows[] = {
    {"cc64", STATUS_OK, {0xB0, 64}},
    {"key21", STATUS_OK, {0x90, 21}},
    {"cc0", STATUS_OK, {0xB0, 0}},
    {"key127", STATUS_OK, {0x90, 127}},
    {"key128", STATUS_SYNTAX, {0, 0}},
    {"cc", STATUS_SYNTAX, {0, 0}},
    {"cc-1", STATUS_SYNTAX, {0, 0}},
    {"cc6x", STATUS_SYNTAX, {0, 0}},
    {"pedal", STATUS_SYNTAX, {0, 0}},
    {"", STATUS_SYNTAX, {0, 0}},
  };
  return cr_make_param_array(TextRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const TextRow* row, trigger, parse)
{
  Trigger trigger = {0, 0};
  char    text[TRIGGER_TEXT_CAPACITY];
  cr_assert_eq(
    trigger_parse(&trigger, row->text), row->status, "%s", row->text);
  cr_assert_eq(trigger.kind, row->trigger.kind);
  cr_assert_eq(trigger.number, row->trigger.number);
  if (!row->status) {
    cr_assert_eq(strcmp(trigger_text(trigger, text), row->text), 0);
  }
}

// Presses of the pedal: `t` a tap of 100 ms, `h` held on, 200 ms between
typedef struct {
  char    taps[8];
  Gesture gesture;
} TapRow;

ParameterizedTestParameters(tapping, look)
{
  static TapRow rows[] = {
    {"t", GESTURE_AGAIN},
    {"h", GESTURE_STOP},
    {"tt", GESTURE_EASIER},
    {"ttt", GESTURE_HARDER},
    {"th", GESTURE_SLOWER},
    {"tth", GESTURE_FASTER},
    {"tttt", GESTURE_NONE},
    {"ttth", GESTURE_NONE},
  };
  return cr_make_param_array(TapRow, rows, sizeof(rows) / sizeof(*rows));
}

static void
press(Tapping* const tapping, const int64_t ns, const uint8_t value)
{
  const MidiMessage message = {ns, 3, {0xB3, 64, value}};
  cr_assert(tapping_hear(tapping, &message));
}

ParameterizedTest(const TapRow* row, tapping, look)
{
  static const int64_t ms      = 1000000;
  Tapping              tapping = {.trigger = {0xB0, 64}};
  int64_t              now     = 1000 * ms;
  for (const char* at = row->taps; *at; ++at) {
    press(&tapping, now, 127);
    if (*at == 't') {
      cr_assert_eq(tapping_look(&tapping, now + 50 * ms), GESTURE_NONE);
      press(&tapping, now + 100 * ms, 0);
      now += 300 * ms;
    }
  }
  Gesture found = GESTURE_NONE;
  for (unsigned i = 0; i < 300 && !found; ++i) {
    found = tapping_look(&tapping, now + i * 10 * ms);
  }
  cr_assert_eq(found, row->gesture, "%s: %d", row->taps, (int)found);
  cr_assert_eq(tapping_look(&tapping, now + 9000 * ms), GESTURE_NONE, "once");
}

// A pedal may be half down on the way; only the trigger's own messages count
Test(tapping, hears_only_its_own)
{
  Tapping           tapping  = {.trigger = {0x90, 21}};
  const MidiMessage other    = {5, 3, {0x90, 22, 90}};
  const MidiMessage control  = {5, 3, {0xB0, 21, 127}};
  const MidiMessage own      = {5, 3, {0x92, 21, 1}};
  const MidiMessage released = {6, 3, {0x82, 21, 0}};
  Tapping           none     = {.is_down = false};
  cr_assert(!tapping_hear(&tapping, &other));
  cr_assert(!tapping_hear(&tapping, &control));
  cr_assert(tapping_hear(&tapping, &own));
  cr_assert(tapping_hear(&tapping, &released));
  cr_assert(!tapping_hear(&none, &own));
}
