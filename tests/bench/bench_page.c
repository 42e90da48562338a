// What the page costs, with ports in memory: from a key in headless Chromium to
// the port's call, by the page's stamp and by the driver's clock; a turn's
// remark and staff on the page; how late the band's notes are with a page and
// ten hostile ones, beside no page at all in the same run; the page's weight.
#include "core/ports/system.h"
#include "core/time/monotonic.h"
#include "core/time/realtime.h"
#include "measure.h"
#include "probe.h"
#include "responder/page/assets.h"
#include "responder/page/face.h"
#include "responder/page/page.h"
#include "support/loop.h"
#include "tests/page/channel.h"

#include <jansson.h>
#include <math.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
  KEYS       = 1000,
  MOST       = 4096,
  BARE_NS    = 20000000,
  TURNS      = 512,
  DEAF       = 5,
  LOUD       = 5,
  PATIENT_MS = 60000,
};

static Ports*      loop;
static int64_t     decided_ns[TURNS]; // By index, of the player's turns
static int64_t     out_ns[MOST];      // Note-ons of the player's channel
static unsigned    n_out;
static int64_t     came_ns[MOST]; // ... their keys in the program
static unsigned    n_came;
static Probe       probe;
static double      bare_us[MOST]; // Lateness of a bare sleep
static unsigned    n_bare;
static atomic_bool listens;
static atomic_bool annoys;

// Where the program opens ports and hears of turns, as the linker has it

Status
__wrap_system_open(Ports**     ports,
                   const char* wanted,
                   char        remark[SYSTEM_REMARK_CAPACITY],
                   Fault*      fault);

Status
__wrap_system_open(Ports** const     ports,
                   const char* const wanted,
                   char              remark[SYSTEM_REMARK_CAPACITY],
                   Fault* const      fault)
{
  (void)wanted;
  remark[0] = '\0';
  if (loop_open(ports)) {
    return fault_set(fault, STATUS_MEMORY, NULL, 0, "no loop");
  }
  loop_plug(*ports, PORT_OUT, "Module");
  loop = *ports;
  return STATUS_OK;
}

Tick
__real_session_advance(Session* session, Tick until, SessionOut* out);

Tick
__wrap_session_advance(Session* session, Tick until, SessionOut* out);

Tick
__wrap_session_advance(Session* const    session,
                       const Tick        until,
                       SessionOut* const out)
{
  const Tick reached = __real_session_advance(session, until, out);
  for (unsigned i = 0; i < out->n_turns; ++i) {
    const Turn turn = out->turns[i].turn;
    if (turn.by_player && turn.index < TURNS) {
      decided_ns[turn.index] = monotonic_ns();
    }
  }
  return reached;
}

void
__real_stage_key(Stage* stage, const MidiMessage* message);

void
__wrap_stage_key(Stage* stage, const MidiMessage* message);

void
__wrap_stage_key(Stage* const stage, const MidiMessage* const message)
{
  if (message->bytes[0] == 0x90 && message->bytes[2] && n_came < MOST) {
    came_ns[n_came++] = monotonic_ns();
  }
  __real_stage_key(stage, message);
}

// The page, and what comes out of it

typedef struct {
  Page*       page;
  char        address[PAGE_ADDRESS_CAPACITY];
  atomic_bool is_open;
  double      late_us;
  pthread_t   server;
  pthread_t   listener;
  pthread_t   sleeper;
} Served;

static void*
listen_to_port(void* const context)
{
  (void)context;
  MidiMessage message;
  while (atomic_load(&listens)) {
    while (loop && loop_take(loop, &message)) {
      if (message.bytes[0] == 0x90 && message.bytes[2] && n_out < MOST) {
        out_ns[n_out++] = message.time_ns;
      }
    }
    monotonic_sleep_ms(1);
  }
  return NULL;
}

// What the machine itself does to a thread that sleeps until a moment, while
// all that goes on
static void*
sleep_barely(void* const context)
{
  const Pace pace = pace_begin(1);
  int64_t    due  = pace.origin_ns;
  (void)context;
  (void)thread_hurry(70); // As the sender's
  for (n_bare = 0; atomic_load(&listens) && n_bare < MOST; ++n_bare) {
    due += BARE_NS;
    pace_sleep_until(&pace, due);
    bare_us[n_bare] = (double)(monotonic_ns() - due) / 1e3;
  }
  return NULL;
}

static void*
serve(void* const context)
{
  Served* const  it      = context;
  Notices        notices = {.n = 0};
  Faults         faults  = {.n_faults = 0};
  const PageWish wish    = {
       .playing = {.equipment = {.in = "none", .out = "Module"},
                   .record    = "none",
                   .thru      = true}};
  if (page_open(&it->page, &wish, &notices, &faults)) {
    (void)printf("%s\n", faults.faults[0].text);
    exit(1);
  }
  (void)snprintf(
    it->address, sizeof(it->address), "%s", page_address(it->page));
  atomic_store(&it->is_open, true);
  page_serve(it->page);
  atomic_store(&listens, false); // The ports are about to close
  (void)pthread_join(it->listener, NULL);
  (void)pthread_join(it->sleeper, NULL);
  it->late_us = stage_lateness_us(it->page->playing.stage, 0.99);
  page_close(it->page);
  return NULL;
}

static void
begin(Served* const it)
{
  *it    = (Served){.page = NULL};
  n_out  = 0;
  n_came = 0;
  atomic_init(&it->is_open, false);
  atomic_store(&listens, true);
  if (pthread_create(&it->server, NULL, serve, it)) {
    exit(1);
  }
  while (!atomic_load(&it->is_open)) {
    monotonic_sleep_ms(10);
  }
  if (pthread_create(&it->listener, NULL, listen_to_port, NULL) ||
      pthread_create(&it->sleeper, NULL, sleep_barely, NULL)) {
    exit(1);
  }
}

static unsigned
port_of(const Served* const it)
{
  return (unsigned)strtoul(strrchr(it->address, ':') + 1, NULL, 10);
}

static json_t*
key_of(const Served* const it)
{
  return json_pack(
    "{ss si}", "key", strchr(it->address, '#') + 1, "version", 1);
}

static void
ask(Channel* const channel, const char* const what, json_t* const fields)
{
  json_decref(channel_ask(channel, what, fields));
}

static void
open_channel(Channel* const channel, const Served* const it)
{
  const Knock right = {.host = NULL};
  if (!channel_open(channel, port_of(it), &right)) {
    (void)printf("the channel does not open\n");
    exit(1);
  }
  ask(channel, "open", key_of(it));
}

static void
choose(Channel* const channel, const char* const name, const int value)
{
  ask(channel, "choose", json_pack("{ss si}", "name", name, "value", value));
}

static void
end(Served* const it)
{
  Channel channel;
  open_channel(&channel, it);
  ask(&channel, "take over", NULL);
  ask(&channel, "close", NULL);
  (void)pthread_join(it->server, NULL);
  channel_close(&channel);
}

// Without a browser: a session of twelve bars

static double
play_alone(void)
{
  Served  served;
  Channel channel;
  begin(&served);
  open_channel(&channel, &served);
  choose(&channel, "tempo", 180);
  choose(&channel, "choruses", 1);
  ask(&channel, "begin", NULL);
  for (const char* stands = ""; stands && strcmp(stands, "over") != 0;) {
    json_t* const told = channel_wait_for(&channel, "state", PATIENT_MS);
    const char*   is   = json_string_value(json_object_get(
      json_object_get(json_object_get(told, "set"), "session"), "stands"));
    stands = !told ? NULL : is && strcmp(is, "over") == 0 ? "over" : "";
    json_decref(told);
  }
  channel_close(&channel);
  end(&served);
  return served.late_us;
}

// Hostile ones: some never read, some say nonsense, again and again

static void*
annoy(void* const context)
{
  const Served* const it    = context;
  const Knock         right = {.host = NULL};
  Channel             channel;
  while (atomic_load(&annoys)) {
    if (channel_open(&channel, port_of(it), &right)) {
      ask(&channel, "open", key_of(it));
      for (unsigned i = 0; i < 400 && atomic_load(&annoys); ++i) {
        (void)channel_say(&channel,
                          "{\"n\":9,\"ask\":\"clock\",\"sent\":\"}\"}");
        monotonic_sleep_ms(2);
      }
      channel_close(&channel);
    }
    monotonic_sleep_ms(20);
  }
  return NULL;
}

static FILE*
begin_browser(const Served* const it)
{
  char line[512];
  (void)snprintf(line,
                 sizeof(line),
                 "timeout 280 node " BENCH_SCRIPT " '%s' %d",
                 it->address,
                 KEYS);
  return popen(line, "r"); // NOLINT
}

static json_t*
read_browser(FILE* const out)
{
  json_t* const read = json_loadf(out, JSON_DISABLE_EOF_CHECK, NULL);
  (void)pclose(out);
  return read;
}

// Read beside the thread that writes it: late by a moment is soon enough
static bool
has_player(const Served* const it)
{
  const volatile unsigned* const player = &it->page->player;
  return *player != FACE_NOBODY;
}

// With a browser, which is the first page and so the one that plays
static json_t*
play_beset(Served* const it)
{
  static Channel deaf[DEAF];
  pthread_t      loud[LOUD];
  FILE* const    browser = begin_browser(it);
  if (!browser) {
    return NULL;
  }
  for (unsigned i = 0; i < PATIENT_MS / 20 && !has_player(it); ++i) {
    monotonic_sleep_ms(20);
  }
  atomic_store(&annoys, true);
  for (unsigned i = 0; i < DEAF; ++i) {
    open_channel(&deaf[i], it);
  }
  for (unsigned i = 0; i < LOUD; ++i) {
    if (pthread_create(&loud[i], NULL, annoy, it)) {
      exit(1);
    }
  }
  probe_begin(&probe, port_of(it), strchr(it->address, '#') + 1);
  json_t* const read = read_browser(browser);
  probe_end(&probe);
  atomic_store(&annoys, false);
  for (unsigned i = 0; i < LOUD; ++i) {
    (void)pthread_join(loud[i], NULL);
  }
  for (unsigned i = 0; i < DEAF; ++i) {
    channel_close(&deaf[i]);
  }
  return read;
}

// Rows

static void
print_row(const char* const row,
          const double      value,
          const char* const unit,
          const char* const must,
          const char* const beside)
{
  (void)printf("BENCH {\"row\":\"%s\",\"value\":%.2f,\"unit\":\"%s\","
               "\"must\":\"%s\",\"beside\":\"%s\"}\n",
               row,
               value,
               unit,
               must,
               beside);
}

static double
share_of(double* const values, const size_t n, const double share)
{
  measure_sort(values, n);
  return n ? values[(size_t)(share * (double)(n - 1))] : NAN;
}

static double
number(const json_t* const object, const char* const name)
{
  const json_t* const value = json_object_get(object, name);
  return json_is_number(value) ? json_number_value(value) : NAN;
}

// Of a key's way what is the browser's, until its handler has sent it; and what
// is the program's: from where its message was read to the port, beside what a
// question of a plain client takes, there and back
static void
print_shares(const json_t* const keys)
{
  static double page_ms[MOST];
  static double own_ms[MOST];
  char          beside[96];
  size_t        n_page = 0;
  for (unsigned i = 0; i < n_came && i < n_out; ++i) {
    const json_t* const key  = json_array_get(keys, i);
    const double        sent = number(key, "sent") - number(key, "at");
    own_ms[i]                = (double)(out_ns[i] - came_ns[i]) / 1e6;
    if (!isnan(sent)) {
      page_ms[n_page++] = sent;
    }
  }
  (void)snprintf(
    beside, sizeof(beside), "p50 %.2f ms", share_of(page_ms, n_page, 0.5));
  print_row("... of it in the browser until the page sends it, p99",
            share_of(page_ms, n_page, 0.99),
            "ms",
            "",
            beside);
  const unsigned n = n_came < n_out ? n_came : n_out;
  (void)snprintf(beside,
                 sizeof(beside),
                 "%u keys, p50 %.2f ms; a plain client's round trip p50 %.2f, "
                 "p99 %.2f ms",
                 n,
                 share_of(own_ms, n, 0.5),
                 share_of(probe.took_ms, probe.n, 0.5),
                 share_of(probe.took_ms, probe.n, 0.99));
  print_row("... of it from its message read to the port's call, p99",
            share_of(own_ms, n, 0.99),
            "ms",
            "",
            beside);
}

static void
print_keys(const json_t* const keys, json_t* const trips)
{
  static double late_ms[MOST];
  static double off_ms[MOST];
  static double trip_ms[MOST];
  char          beside[96];
  size_t        n_late = 0;
  size_t        n_off  = 0;
  size_t        n_trip = 0;
  for (size_t i = 0; i < json_array_size(keys) && i < n_out; ++i) {
    const json_t* const key    = json_array_get(keys, i);
    const double        at     = number(key, "at");
    const double        before = number(key, "before") - at;
    const double        after  = at - number(key, "after");
    if (!isnan(at)) {
      late_ms[n_late++] = (double)out_ns[i] / 1e6 - at;
      off_ms[n_off++]   = fmax(0.0, fmax(before, after));
    }
  }
  for (size_t i = 0; i < json_array_size(trips) && i < MOST; ++i) {
    trip_ms[n_trip++] = json_number_value(json_array_get(trips, i));
  }
  (void)snprintf(
    beside,
    sizeof(beside),
    "%zu keys, p50 %.2f ms; Chromium's bare round trip p50 %.2f, p99 %.2f ms",
    n_late,
    share_of(late_ms, n_late, 0.5),
    share_of(trip_ms, n_trip, 0.5),
    share_of(trip_ms, n_trip, 0.99));
  print_row("key in the page to the port's call, p99",
            share_of(late_ms, n_late, 0.99),
            "ms",
            "under 5",
            beside);
  print_shares(keys);
  print_row("a key's stamp outside of when the driver pressed it, p99",
            share_of(off_ms, n_off, 0.99),
            "ms",
            "within 2",
            "");
}

static void
print_turns(const json_t* const turns)
{
  static double says_ms[TURNS];
  static double staff_ms[TURNS];
  char          beside[48];
  size_t        n_says  = 0;
  size_t        n_staff = 0;
  for (size_t i = 0; i < json_array_size(turns) && i < TURNS; ++i) {
    const json_t* const turn  = json_array_get(turns, i);
    const double        index = number(turn, "index");
    const double        says  = number(turn, "says");
    const double        staff = number(turn, "staff");
    const double        decided =
      index < TURNS ? (double)decided_ns[(size_t)index] / 1e6 : 0.0;
    if (decided > 0.0 && !isnan(says)) {
      says_ms[n_says++] = says - decided;
    }
    if (decided > 0.0 && !isnan(staff)) {
      staff_ms[n_staff++] = staff - decided;
    }
  }
  (void)snprintf(beside,
                 sizeof(beside),
                 "%zu turns, p50 %.0f ms",
                 n_says,
                 share_of(says_ms, n_says, 0.5));
  print_row("a decided turn's remark on the page, p99",
            share_of(says_ms, n_says, 0.99),
            "ms",
            "within 30",
            beside);
  (void)snprintf(beside,
                 sizeof(beside),
                 "%zu turns, p50 %.0f ms",
                 n_staff,
                 share_of(staff_ms, n_staff, 0.5));
  print_row("a decided turn's staff on the page, p99",
            share_of(staff_ms, n_staff, 0.99),
            "ms",
            "within 150",
            beside);
}

static double
weight_kb(void)
{
  size_t bytes = 0;
  for (const Asset* asset = page_assets; asset->name; ++asset) {
    bytes += asset->size;
  }
  return (double)bytes / 1000.0;
}

int
main(void)
{
  Served  served;
  Channel chooser;
  char    beside[96];
  char    home[] = "/tmp/bench_page_XXXXXX";
  char    remove[64];
  if (!mkdtemp(home) || setenv("HOME", home, 1) ||
      setenv("BARTER_CONFIG", BENCH_CONFIG, 1)) {
    return 1;
  }
  (void)unsetenv("XDG_DATA_HOME");
  (void)unsetenv("XDG_CONFIG_HOME");
  const double alone_us      = play_alone();
  const double alone_bare_us = share_of(bare_us, n_bare, 0.99);
  begin(&served);
  open_channel(&chooser, &served);
  choose(&chooser, "tempo", 200);
  choose(&chooser, "bars", 1);
  choose(&chooser, "choruses", 40);
  channel_close(&chooser);
  while (has_player(&served)) {
    monotonic_sleep_ms(20);
  }
  json_t* const read = play_beset(&served);
  end(&served);
  (void)snprintf(beside,
                 sizeof(beside),
                 "bare sleep %.0f us; no browser: %.0f us, bare sleep %.0f us",
                 share_of(bare_us, n_bare, 0.99),
                 alone_us,
                 alone_bare_us);
  print_row("notes at the port, lateness p99, a page and ten hostile ones",
            served.late_us,
            "us",
            "as without",
            beside);
  print_row("the page's weight", weight_kb(), "kB", "under 200", "");
  if (read) {
    print_row(
      "first draw of the page", number(read, "paint"), "ms", "under 300", "");
    print_keys(json_object_get(read, "keys"), json_object_get(read, "trips"));
    print_turns(json_object_get(read, "turns"));
  } else {
    (void)printf("node, chromium or chromedriver is missing: nothing is "
                 "measured through a browser\n");
  }
  json_decref(read);
  (void)snprintf(remove, sizeof(remove), "/bin/rm -rf %s", home);
  return system(remove) != 0; // NOLINT
}
