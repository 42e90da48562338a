#include "core/sound/live.h"
#include "core/time/monotonic.h"

#include <criterion/criterion.h>

#include <string.h>

static const SoundFont small_font = {NULL, "TimGM6mb.sf2"};

// A note is heard, and silence is none; before the font is there nothing is
Test(live, null_driver_plays, .timeout = 60)
{
  static const uint8_t key[3] = {0x90, 60, 100};
  static const uint8_t odd[3] = {0xF8, 0, 0};
  Live*                live   = NULL;
  Fault                fault  = {.text = ""};
  cr_assert_eq(
    live_open(&live, &(LiveWish){.font = small_font, .driver = "null"}, &fault),
    STATUS_OK,
    "%s",
    fault.text);
  cr_assert_eq(strcmp(live_driver(live), "null"), 0);
  live_send(live, key);
  cr_assert_eq(live_load(live, &fault), STATUS_OK, "%s", fault.text);
  monotonic_sleep_ms(50);
  const float before = live_peak(live);
  live_send(live, odd);
  live_send(live, key);
  for (unsigned i = 0; i < 200 && live_peak(live) < 0.01F; ++i) {
    monotonic_sleep_ms(10);
  }
  cr_expect_lt(before, 0.001F);
  cr_expect_gt(live_peak(live), 0.01F);
  live_close(live);
}

Test(live, faults_are_told)
{
  Live* live  = NULL;
  Fault fault = {.text = ""};
  cr_assert_eq(
    live_open(&live,
              &(LiveWish){.font = {"no-such.sf2", ""}, .driver = "null"},
              &fault),
    STATUS_MISSING);
  cr_assert_eq(live_open(&live,
                         &(LiveWish){.font = small_font, .driver = "telepathy"},
                         &fault),
               STATUS_SYSTEM);
  cr_assert_neq(strstr(fault.text, "--out none"), NULL, "%s", fault.text);
  live_close(NULL);
}
