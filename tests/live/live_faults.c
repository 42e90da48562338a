// Each fault of a live session over ports in memory, and what becomes of it.
#include "stand.h"

#include "core/time/monotonic.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static Stand stand;

enum { HELD = 73 };

static unsigned
count_notes_after(const unsigned from)
{
  unsigned n = 0;
  for (unsigned i = from; i < stand.n_heard; ++i) {
    n += (stand.heard[i].bytes[0] & 0xF0U) == 0x90;
  }
  return n;
}

static unsigned
count_kept_of_player(void)
{
  unsigned n = 0;
  for (unsigned i = 0; i < stand.n_kept; ++i) {
    n += stand.kept[i].part == PART_PLAYER;
  }
  return n;
}

// A flood of 10,000 messages a second, with every kind of junk among them

static void*
flood(void* const context)
{
  Stand* const  it        = context;
  const uint8_t junk[][6] = {{0xFE},
                             {0xF8},
                             {0xF0, 1, 2, 3, 0xF7},
                             {0x90, 60},
                             {60, 61, 62},
                             {0x90, 200, 0x90, 61, 80, 0x80},
                             {0xB0, 1, 99},
                             {0x90, 62, 70, 0x80, 62, 0}};
  const size_t  sizes[]   = {1, 1, 5, 2, 3, 6, 3, 6};
  for (unsigned i = 0; i < 1500; ++i) {
    for (unsigned k = 0; k < 10; ++k) {
      loop_play(it->loop, "Piano 20:0", junk[(i + k) % 8], sizes[(i + k) % 8]);
    }
    monotonic_sleep_ms(1);
  }
  return NULL;
}

static void
check_flood(void)
{
  stand_begin(&stand, "one-chord", 2, 8);
  stand_perform(&stand, flood, false, false);
  stand_check(&stand, stand.result.end == STAGE_OVER, "flood: to the end");
  stand_check(&stand, stand_hanging(&stand) == 0, "flood: no note hangs");
  stand_check(&stand, count_notes_after(0) > 50, "flood: the band plays");
  stand_end(&stand);
}

// The keyboard is pulled out, a key and the pedal down, and comes back under
// another number

static void*
pull_keyboard(void* const context)
{
  Stand* const  it      = context;
  const uint8_t pedal[] = {0xB0, 64, 127};
  const uint8_t down[]  = {0x90, HELD, 80};
  monotonic_sleep_ms(300);
  loop_play(it->loop, "Piano 20:0", pedal, sizeof(pedal));
  loop_play(it->loop, "Piano 20:0", down, sizeof(down));
  monotonic_sleep_ms(20);
  loop_pull(it->loop, PORT_IN, "Piano 20:0");
  monotonic_sleep_ms(1500);
  stand_key(it, 61, 5); // Nobody hears it
  loop_plug(it->loop, PORT_IN, "Piano 28:0");
  monotonic_sleep_ms(1500);
  for (unsigned i = 0; i < 5; ++i) {
    stand_key(it, 72, 5);
    monotonic_sleep_ms(20);
  }
  return NULL;
}

// Where something was first sent to the channel of the player
static unsigned
find_sent(const uint8_t kind, const uint8_t data, const uint8_t value)
{
  unsigned i = 0;
  while (i < stand.n_heard &&
         (stand.heard[i].bytes[0] != kind || stand.heard[i].bytes[1] != data ||
          stand.heard[i].bytes[2] != value)) {
    ++i;
  }
  return i;
}

static void
check_keyboard(void)
{
  stand_begin(&stand, "blues", 2, 10);
  stage_thru(stand.stage, true);
  stand_check(
    &stand, stage_hears_keyboard(stand.stage), "keyboard: it is there");
  stand_perform(&stand, pull_keyboard, false, false);
  stand_check(
    &stand, stage_hears_keyboard(stand.stage), "keyboard: ... and again");
  stand_check(&stand,
              find_sent(0x90, HELD, 80) < find_sent(0x80, HELD, 0) &&
                find_sent(0x80, HELD, 0) < find_sent(0x90, 72, 90) &&
                find_sent(0xB0, 64, 0) < find_sent(0x90, 72, 90),
              "keyboard: what was held is let go of when it goes");
  stand_check(&stand, stand.result.end == STAGE_OVER, "keyboard: to the end");
  stand_check(&stand,
              count_kept_of_player() == 5,
              "keyboard: heard again, and only then");
  stand_end(&stand);
}

// There is no keyboard when it begins; one that comes is heard

static void*
bring_keyboard(void* const context)
{
  Stand* const it = context;
  monotonic_sleep_ms(600);
  loop_plug(it->loop, PORT_IN, "Clavier 21:0");
  monotonic_sleep_ms(1200);
  const uint8_t down[] = {0x90, 72, 80};
  const uint8_t up[]   = {0x80, 72, 0};
  for (unsigned i = 0; i < 4; ++i) {
    loop_play(it->loop, "Clavier 21:0", down, sizeof(down));
    monotonic_sleep_ms(20);
    loop_play(it->loop, "Clavier 21:0", up, sizeof(up));
    monotonic_sleep_ms(20);
  }
  return NULL;
}

static void
check_late_keyboard(void)
{
  stand_begin_alone(&stand, "blues", 2, 10);
  stand_check(&stand,
              strstr(stage_text(stand.stage), "In: nothing yet.") != NULL,
              "late keyboard: said at first");
  stand_perform(&stand, bring_keyboard, false, false);
  stand_check(&stand, count_kept_of_player() == 4, "late keyboard: heard");
  stand_check(&stand, stand.has_heard_of_keyboard, "late keyboard: said");
  stand_check(&stand, stand.n_shown == 8, "late keyboard: keys are shown");
  stand_end(&stand);
}

// The output goes and comes back: silence between, sounds told again

static unsigned n_heard_away;

static void*
pull_output(void* const context)
{
  Stand* const it = context;
  MidiMessage  message;
  monotonic_sleep_ms(300);
  loop_pull(it->loop, PORT_OUT, "Module 24:0");
  while (loop_take(it->loop, &message)) {
  }
  monotonic_sleep_ms(500);
  while (loop_take(it->loop, &message)) {
    ++n_heard_away;
  }
  loop_plug(it->loop, PORT_OUT, "Module 24:0");
  return NULL;
}

static void
check_output(void)
{
  stand_begin(&stand, "blues", 2, 10);
  stand_perform(&stand, pull_output, false, false);
  unsigned n_programs = 0;
  for (unsigned i = 0; i < stand.n_heard; ++i) {
    n_programs += (stand.heard[i].bytes[0] & 0xF0U) == 0xC0;
  }
  stand_check(&stand, !n_heard_away, "output: nothing while it is away");
  stand_check(&stand, count_notes_after(0) > 20, "output: heard again");
  stand_check(&stand, n_programs == N_PARTS, "output: its sounds told again");
  stand_check(&stand, stand_hanging(&stand) == 0, "output: no note hangs");
  stand_end(&stand);
}

// The whole system dies and comes back

static void*
kill_system(void* const context)
{
  Stand* const it = context;
  monotonic_sleep_ms(300);
  loop_kill(it->loop);
  return NULL;
}

static void
check_system(void)
{
  stand_begin(&stand, "blues", 2, 10);
  stand_perform(&stand, kill_system, false, false);
  stand_check(&stand, stand.result.end == STAGE_OVER, "system: to the end");
  stand_check(&stand, count_notes_after(0) > 20, "system: heard again");
  stand_check(&stand, stand_hanging(&stand) == 0, "system: no note hangs");
  stand_end(&stand);
}

// Signals, a gesture, a disk that is gone

static int signal_sent;

static void*
send_signal(void* const context)
{
  (void)context;
  monotonic_sleep_ms(1800);
  (void)kill(getpid(), signal_sent);
  return NULL;
}

static void
check_signal(const int number)
{
  signal_sent = number;
  stand_begin(&stand, "blues", 1, 4);
  stand_perform(&stand, send_signal, false, false);
  stand_check(&stand, stand.result.end == STAGE_SIGNAL, "signal: it ends");
  stand_check(&stand, count_notes_after(0) > 5, "signal: it had begun");
  stand_check(&stand, stand_hanging(&stand) == 0, "signal: no note hangs");
  stand_end(&stand);
}

static void*
hold_pedal(void* const context)
{
  Stand* const  it     = context;
  const uint8_t down[] = {0xB0, 66, 127};
  monotonic_sleep_ms(700);
  loop_play(it->loop, "Piano 20:0", down, sizeof(down));
  return NULL;
}

static void
check_gesture(void)
{
  stand_begin(&stand, "blues", 1, 2);
  stand_perform(&stand, hold_pedal, false, false);
  stand_check(&stand, stand.result.end == STAGE_GESTURE, "pedal: it ends");
  stand_check(&stand, stand.result.gesture == GESTURE_STOP, "pedal: a stop");
  stand_check(&stand, stand_hanging(&stand) == 0, "pedal: no note hangs");
  stand_end(&stand);
}

static void
check_disk(void)
{
  stand_begin(&stand, "one-chord", 1, 10);
  stand.disk_is_gone = true;
  stand_perform(&stand, NULL, false, false);
  stand_check(&stand, stand.result.end == STAGE_OVER, "disk: to the end");
  stand_check(&stand, !stand.result.is_kept, "disk: nothing is kept");
  stand_check(&stand,
              stand.result.fault.status == STATUS_SYSTEM &&
                strstr(stand.result.fault.text, "No such file"),
              "disk: and told");
  stand_end(&stand);
}

int
main(void)
{
  const int signals[]          = {SIGINT, SIGTERM, SIGHUP};
  unsigned  n_failed           = 0;
  void (*const checks[])(void) = {
    check_flood,
    check_keyboard,
    check_late_keyboard,
    check_output,
    check_system,
    check_gesture,
    check_disk,
  };
  for (unsigned i = 0; i < sizeof(checks) / sizeof(*checks); ++i) {
    checks[i]();
    n_failed += stand.n_failed;
  }
  for (unsigned i = 0; i < 3; ++i) {
    check_signal(signals[i]);
    n_failed += stand.n_failed;
  }
  (void)printf("%u failed\n", n_failed);
  return n_failed != 0;
}
