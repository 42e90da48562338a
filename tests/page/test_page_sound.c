// While the sound font is still being read the page is there already: what is
// asked to begin does when there is sound, and what is wrong with the font is
// told. So is a keyboard that comes or goes, and that the hands are to rest.

#include "channel.h"
#include "core/files/folder.h"
#include "responder/page/face.h"
#include "responder/page/page.h"

#include <criterion/criterion.h>

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

enum { PATIENT_MS = 10000 };

static atomic_bool loads;
static atomic_bool is_broken;
static atomic_bool hears_keyboard;
static const Fault broken = {.status = STATUS_SYNTAX,
                             .file   = "/fonts/own.sf2",
                             .text   = "the sound font cannot be loaded"};

// How far the font is

bool
__wrap_stage_loads_sound(const Stage* stage);

const Fault*
__wrap_stage_no_font(const Stage* stage);

bool
__wrap_stage_loads_sound(const Stage* const stage)
{
  (void)stage;
  return atomic_load(&loads);
}

const Fault*
__wrap_stage_no_font(const Stage* const stage)
{
  (void)stage;
  return atomic_load(&is_broken) ? &broken : NULL;
}

bool
__wrap_stage_hears_keyboard(const Stage* stage);

bool
__wrap_stage_hears_keyboard(const Stage* const stage)
{
  (void)stage;
  return atomic_load(&hears_keyboard);
}

// A page, and a browser's end of it

static char      home[] = "/tmp/test_page_sound-XXXXXX";
static Page*     page;
static pthread_t server;
static Channel   channel;

static void*
serve(void* const context)
{
  page_serve(context);
  return NULL;
}

static bool
is_done(json_t* const answer)
{
  const bool is = json_object_get(answer, "answer") != NULL;
  json_decref(answer);
  return is;
}

static void
come(Channel* const coming)
{
  const Knock       right = {.host = NULL};
  const char* const key   = strchr(page_address(page), '#') + 1;
  const unsigned    port =
    (unsigned)strtoul(strrchr(page_address(page), ':') + 1, NULL, 10);
  cr_assert(channel_open(coming, port, &right));
  cr_assert(is_done(channel_ask(
    coming, "open", json_pack("{ss si}", "key", key, "version", 1))));
}

static void
setup(void)
{
  Notices        notices = {.n = 0};
  Faults         faults  = {.n_faults = 0};
  const PageWish wish    = {
       .playing = {.equipment = {.in = "none", .out = "none"}, .record = "none"}};
  cr_assert_not_null(mkdtemp(home));
  (void)setenv("HOME", home, 1);
  (void)setenv("XDG_RUNTIME_DIR", home, 1);
  (void)setenv("BARTER_CONFIG", BARTER_SOURCE_DIR "/config", 1);
  cr_assert_eq(page_open(&page, &wish, &notices, &faults), STATUS_OK);
  page->has_sound = true;
  cr_assert_eq(pthread_create(&server, NULL, serve, page), 0);
  come(&channel);
}

static void
teardown(void)
{
  cr_expect(is_done(channel_ask(&channel, "close", NULL)));
  (void)pthread_join(server, NULL);
  channel_close(&channel);
  page_close(page);
  Fault fault;
  cr_expect_eq(folder_remove(home, &fault), STATUS_OK, "%s", fault.text);
}

// Whether the request is answered well, in the end
static bool
is_answered(const unsigned n)
{
  json_t* told = NULL;
  while ((told = channel_hear(&channel, PATIENT_MS))) {
    if (json_integer_value(json_object_get(told, "n")) == (json_int_t)n) {
      return is_done(told);
    }
    json_decref(told);
  }
  return false;
}

TestSuite(page_sound, .timeout = 60);

Test(page_sound, what_is_asked_begins_when_there_is_sound)
{
  atomic_store(&loads, true);
  setup();
  cr_assert(channel_say(&channel, "{\"n\": 100, \"ask\": \"begin\"}"));
  channel.n          = 100;
  json_t* const said = channel_wait_for(&channel, "says", PATIENT_MS);
  cr_assert_not_null(said, "the player is told what is waited for");
  json_decref(said);
  cr_expect(
    is_done(channel_ask(&channel, "clock", json_pack("{sf}", "sent", 1.0))),
    "the page goes on");
  json_t* const again = channel_ask(&channel, "begin", NULL);
  cr_expect_not_null(json_object_get(again, "fault"), "it is asked already");
  json_decref(again);
  json_t* const stop = channel_ask(&channel, "stop", NULL);
  cr_expect_not_null(json_object_get(stop, "fault"), "nothing is played yet");
  json_decref(stop);

  atomic_store(&loads, false);
  cr_expect(is_answered(100));
  cr_expect(is_done(channel_ask(&channel, "stop", NULL)), "it is played");
  teardown();
}

Test(page_sound, a_page_that_is_loaded_again_may_ask_again)
{
  atomic_store(&loads, true);
  setup();
  cr_assert(channel_say(&channel, "{\"n\": 100, \"ask\": \"begin\"}"));
  json_decref(channel_wait_for(&channel, "says", PATIENT_MS));
  channel_close(&channel);
  come(&channel);
  channel.n = 200;
  cr_assert(channel_say(&channel, "{\"n\": 200, \"ask\": \"begin\"}"));
  json_t* const said = channel_wait_for(&channel, "says", PATIENT_MS);
  cr_assert_not_null(said, "it is waited for again");
  json_decref(said);
  atomic_store(&loads, false);
  cr_expect(is_answered(200));
  cr_expect(is_done(channel_ask(&channel, "stop", NULL)), "it is played");
  teardown();
}

// Whether so many nanoseconds before it began are enough to be told to rest
static bool
is_told_to_rest(const int64_t played_ns)
{
  bool    is   = false;
  json_t* said = NULL;
  setup();
  page->played_ns = played_ns;
  cr_expect(is_done(channel_ask(&channel, "begin", NULL)));
  cr_expect(is_done(channel_ask(&channel, "stop", NULL)));
  while (!is && (said = channel_hear(&channel, PATIENT_MS))) {
    const json_t* const session =
      json_object_get(json_object_get(said, "set"), "session");
    const char* const kind = json_string_value(json_object_get(said, "kind"));
    const char* const stands =
      json_string_value(json_object_get(session, "stands"));
    is                 = kind && strcmp(kind, "care") == 0;
    const bool is_over = stands && strcmp(stands, "over") == 0;
    json_decref(said);
    if (is_over) {
      break;
    }
  }
  teardown();
  return is;
}

Test(page_sound, after_half_an_hour_of_playing_hands_rest)
{
  const int64_t half_hour_ns = INT64_C(30) * 60 * 1000000000;
  cr_expect(is_told_to_rest(half_hour_ns));
}

Test(page_sound, before_half_an_hour_nobody_is_told_to_rest)
{
  const int64_t twenty_minutes_ns = INT64_C(20) * 60 * 1000000000;
  cr_expect_not(is_told_to_rest(twenty_minutes_ns));
}

// What a page is told next of the keyboard
static bool
is_told_of_keyboard(const char* const begins)
{
  bool    is   = false;
  json_t* told = NULL;
  while (!is && (told = channel_wait_for(&channel, "state", PATIENT_MS))) {
    const char* const text = json_string_value(json_object_get(
      json_object_get(json_object_get(told, "set"), "keyboard"), "text"));
    is = text && (begins[0] ? strncmp(text, begins, strlen(begins)) == 0
                            : text[0] == '\0');
    json_decref(told);
  }
  return is;
}

Test(page_sound, a_keyboard_that_comes_or_goes_is_told)
{
  setup();
  atomic_store(&hears_keyboard, true);
  cr_expect(is_told_of_keyboard(""));
  atomic_store(&hears_keyboard, false);
  cr_expect(is_told_of_keyboard("No MIDI keyboard is connected"));
  teardown();
}

Test(page_sound, a_broken_font_is_told)
{
  setup();
  atomic_store(&is_broken, true);
  const char* text = NULL;
  json_t*     told = NULL;
  while (!text && (told = channel_wait_for(&channel, "state", PATIENT_MS))) {
    const json_t* const sound =
      json_object_get(json_object_get(told, "set"), "sound");
    if (json_is_false(json_object_get(sound, "works"))) {
      text = json_string_value(json_object_get(sound, "text"));
      cr_expect_str_eq(
        text, "No sound: /fonts/own.sf2: the sound font cannot be loaded.");
    }
    json_decref(told);
  }
  cr_expect_not_null(text);
  teardown();
}
