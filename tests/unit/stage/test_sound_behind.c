// The sound font that is read once all is open: nobody waits for it before the
// first session, and what is wrong with it is told.

#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "profiles/files/ladder_file.h"
#include "responder/record/conversation.h"
#include "responder/stage/stage.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <string.h>
#include <unistd.h>

static const SoundFont small_font = {NULL, "TimGM6mb.sf2"};

static char       broken_path[] = "/tmp/test_sound_behind-XXXXXX";
static Outlet     outlet;
static Supervisor supervisor;
static ChartFile  chart;
static Feel       feel;
static Ladder     ladder;

static void
receive(void* const context, const MidiMessage* const message)
{
  (void)context;
  (void)message;
}

static Wiring
wiring_of(const SoundFont font, const bool loads_behind)
{
  return (Wiring){.has_sound    = true,
                  .font         = font,
                  .loads_behind = loads_behind,
                  .driver       = "null"};
}

// Its head is a font's (SoundFont 2.04, section 4), and there is nothing in it
static SoundFont
break_font(void)
{
  static const unsigned char bytes[] = "RIFF\x04\0\0\0sfbk";

  const int file = mkstemp(broken_path);
  cr_assert_eq(write(file, bytes, 12), 12);
  (void)close(file);
  return (SoundFont){broken_path, ""};
}

static void
open_supervisor(const SoundFont font, const bool loads_behind)
{
  Fault fault = {.text = ""};
  outlet_begin(&outlet);
  cr_assert_eq(supervisor_open(&supervisor,
                               wiring_of(font, loads_behind),
                               &outlet,
                               receive,
                               NULL,
                               &fault),
               STATUS_OK,
               "%s",
               fault.text);
}

static void
close_supervisor(void)
{
  supervisor_end(&supervisor);
  supervisor_close(&supervisor);
  outlet_end(&outlet);
}

Test(sound_behind, nothing_is_sent_to_it_before, .timeout = 60)
{
  open_supervisor(small_font, true);
  cr_expect_null(outlet.live);
  cr_assert_eq(supervisor_begin(&supervisor), STATUS_OK);
  supervisor_await_sound(&supervisor);
  cr_expect_not_null(outlet.live);
  cr_expect(atomic_load(&outlet.is_new), "the programs are sent");
  cr_expect_null(supervisor_no_font(&supervisor));
  close_supervisor();
}

Test(sound_behind, elsewhere_it_is_there_at_once, .timeout = 60)
{
  open_supervisor(small_font, false);
  cr_expect_not_null(outlet.live);
  cr_assert_eq(supervisor_begin(&supervisor), STATUS_OK);
  close_supervisor();
}

// Of what is not read behind, opening tells
Test(sound_behind, a_broken_font_is_told, .timeout = 60)
{
  const SoundFont font  = break_font();
  Fault           fault = {.text = ""};
  outlet_begin(&outlet);
  cr_expect_eq(
    supervisor_open(
      &supervisor, wiring_of(font, false), &outlet, receive, NULL, &fault),
    STATUS_SYNTAX);
  cr_expect_str_eq(fault.text, "the sound font cannot be loaded");
  outlet_end(&outlet);

  open_supervisor(font, true);
  cr_expect_null(supervisor_no_font(&supervisor));
  cr_assert_eq(supervisor_begin(&supervisor), STATUS_OK);
  supervisor_await_sound(&supervisor);
  const Fault* const told = supervisor_no_font(&supervisor);
  cr_assert_not_null(told);
  cr_expect_str_eq(told->file, broken_path);
  cr_expect_str_eq(told->text, "the sound font cannot be loaded");
  cr_expect_null(outlet.live);
  close_supervisor();
  (void)unlink(broken_path);
}

static SessionOptions
load_session(void)
{
  Faults faults = {.n_faults = 0};
  cr_assert_eq(chart_file_load(&chart,
                               BARTER_SOURCE_DIR "/config/charts/one-chord.cfg",
                               &faults),
               STATUS_OK);
  cr_assert_eq(
    feel_file_load(&feel, BARTER_SOURCE_DIR "/config/feels/swing.cfg", &faults),
    STATUS_OK);
  cr_assert_eq(
    ladder_file_load(&ladder, BARTER_SOURCE_DIR "/config/ladder.cfg", &faults),
    STATUS_OK);
  return (SessionOptions){.chart         = &chart.chart,
                          .feel          = &feel,
                          .ladder        = &ladder,
                          .tempo_bpm     = 120.0,
                          .bars_per_turn = 4,
                          .choruses      = 1,
                          .rung          = {{1, 1, 1, 1}},
                          .seed          = 1,
                          .split_pitch   = 60,
                          .lowest        = 60,
                          .highest       = 84,
                          .hand_span     = 12,
                          .spread_ms     = 20.0};
}

// When a session has begun it is known what there is to hear
Test(sound_behind, a_session_waits_for_it, .timeout = 60)
{
  const SessionOptions session     = load_session();
  const Performance    performance = {.session = &session};
  StageOptions options = {.wiring = wiring_of(break_font(), true), .speed = 1};
  Stage*       stage   = NULL;
  StageResult  result  = {.end = STAGE_OVER};
  Fault        fault   = {.text = ""};
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    options.voices[part] = (Voice){conversation_channel(part), 0, 100};
  }
  cr_assert_eq(
    stage_open(&stage, &options, &fault), STATUS_OK, "%s", fault.text);
  cr_assert_eq(stage_begin(stage, &performance), STATUS_OK);
  cr_expect_not_null(stage_no_font(stage));
  cr_expect_lt(stage_now(stage), 0, "the count-in is still to come");
  stage_gesture(stage, GESTURE_STOP);
  cr_expect_not(stage_goes_on(stage, &result));
  stage_end(stage, &result);
  stage_close(stage);
  (void)unlink(broken_path);
}
