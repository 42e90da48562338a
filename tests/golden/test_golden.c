/// A conversation kept note by note. Each case is a folder: in.txt says the
/// session and what the player does, out.txt what came of it.
///
///   in.txt    session chart=blues feel=swing bars=2 choruses=1 rung=4 seed=1
///             bar:beat:tick key velocity length       (from 1:1:0)
///   out.txt   part bar:beat:tick key velocity length
///
/// With BARTER_GOLDEN_WRITE set, out.txt is written anew: a change to be looked
/// at, listened to and committed by itself.

#include "core/settings/chart_file.h"
#include "core/settings/feel_file.h"
#include "profiles/files/ladder_file.h"
#include "responder/session/session.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LINE_CAPACITY = 160, NOTE_CAPACITY = 4096, TEXT_CAPACITY = 400000 };

#define GOLDEN BARTER_SOURCE_DIR "/tests/golden/"
#define CONFIG BARTER_SOURCE_DIR "/config/"

static ChartFile  chart;
static Feel       feel;
static Ladder     ladder;
static Session    session;
static SessionOut out;
static HeardKey   keys[2 * NOTE_CAPACITY];
static char       made[TEXT_CAPACITY];
static char       kept[TEXT_CAPACITY];

static const char* const parts[] = {"player",
                                    "partner",
                                    "chords",
                                    "bass",
                                    "drums"};

static SessionOptions
read_session(const char* const line)
{
  char     chart_name[32];
  char     feel_name[32];
  char     rung_words[32];
  unsigned bars     = 0;
  unsigned choruses = 0;
  unsigned seed     = 0;
  double   tempo    = 0.0;
  cr_assert_eq(sscanf(line,
                      "session chart=%31s feel=%31s tempo=%lf bars=%u "
                      "choruses=%u rung=%31s seed=%u",
                      chart_name,
                      feel_name,
                      &tempo,
                      &bars,
                      &choruses,
                      rung_words,
                      &seed),
               7);
  char   path[256];
  Faults faults = {.n_faults = 0};
  (void)snprintf(path, sizeof(path), CONFIG "charts/%s.cfg", chart_name);
  cr_assert_eq(chart_file_load(&chart, path, &faults), STATUS_OK);
  (void)snprintf(path, sizeof(path), CONFIG "feels/%s.cfg", feel_name);
  cr_assert_eq(feel_file_load(&feel, path, &faults), STATUS_OK);
  cr_assert_eq(ladder_file_load(&ladder, CONFIG "ladder.cfg", &faults),
               STATUS_OK);

  SessionOptions options = {
    .chart         = &chart.chart,
    .feel          = &feel,
    .ladder        = &ladder,
    .tempo_bpm     = tempo,
    .bars_per_turn = bars,
    .choruses      = choruses,
    .rung          = ladder.start,
    .seed          = seed,
    .split_pitch   = 60,
    .lowest        = 60,
    .highest       = 84,
    .hand_span     = 12,
    .spread_ms     = 20.0,
  };
  cr_assert_eq(rung_parse(&options.rung, rung_words), STATUS_OK);
  return options;
}

static Tick
tick_of(const unsigned bar, const unsigned beat, const unsigned tick)
{
  const Meter meter = chart.chart.meter;
  return (bar - 1) * meter_bar_ticks(meter) +
         (beat - 1) * meter_beat_ticks(meter) + tick;
}

static int
compare_keys(const void* const left, const void* const right)
{
  const HeardKey* const a = left;
  const HeardKey* const b = right;
  if (a->tick != b->tick) {
    return a->tick < b->tick ? -1 : 1;
  }
  return a->velocity - b->velocity;
}

static unsigned
read_keys(FILE* const file)
{
  char     line[LINE_CAPACITY];
  unsigned n = 0;
  while (fgets(line, sizeof(line), file)) {
    unsigned bar, beat, tick, pitch, velocity, length;
    if (sscanf(line,
               "%u:%u:%u %u %u %u",
               &bar,
               &beat,
               &tick,
               &pitch,
               &velocity,
               &length) == 6) {
      const Tick begin = tick_of(bar, beat, tick);
      keys[n++]        = (HeardKey){begin, (uint8_t)pitch, (uint8_t)velocity};
      keys[n++]        = (HeardKey){begin + length, (uint8_t)pitch, 0};
    }
  }
  qsort(keys, n, sizeof(*keys), compare_keys);
  return n;
}

// Ticks before bar 1 are told as in bar 0 and less
static void
write_note(const PartNote* const part)
{
  const Meter  meter = chart.chart.meter;
  const Tick   bar   = meter_bar_ticks(meter);
  const Tick   beat  = meter_beat_ticks(meter);
  const Tick   tick  = part->note.tick;
  const Tick   n_bar = tick / bar - (tick % bar < 0);
  const Tick   in    = tick - n_bar * bar;
  const size_t n     = strlen(made);
  cr_assert_lt(n + LINE_CAPACITY, sizeof(made));
  (void)snprintf(made + n,
                 sizeof(made) - n,
                 "%s %d:%d:%d %u %u %d\n",
                 parts[part->part],
                 (int)n_bar + 1,
                 (int)(in / beat) + 1,
                 (int)(in % beat),
                 part->note.pitch,
                 part->note.velocity,
                 (int)part->note.length);
}

static void
advance(const Tick until)
{
  Tick reached = 0;
  do {
    reached = session_advance(&session, until, &out);
    for (unsigned i = 0; i < out.n_played; ++i) {
      write_note(&out.played[i]);
    }
  } while (reached < until);
}

static void
play(const SessionOptions* const options, const unsigned n_keys)
{
  made[0] = '\0';
  session_begin(&session, options);
  for (unsigned i = 0; i < n_keys; ++i) {
    advance(keys[i].tick);
    (void)session_hear(&session, keys[i]);
  }
  advance(session_last_tick(&session));
}

static void
read_kept(const char* const path)
{
  FILE* const file = fopen(path, "r");
  cr_assert_not_null(file, "%s", path);
  const size_t n = fread(kept, 1, sizeof(kept) - 1, file);
  kept[n]        = '\0';
  (void)fclose(file);
}

static void
write_kept(const char* const path)
{
  FILE* const file = fopen(path, "w");
  cr_assert_not_null(file, "%s", path);
  (void)fputs(made, file);
  (void)fclose(file);
}

static void
compare_lines(const char* const name)
{
  const char* a    = made;
  const char* b    = kept;
  unsigned    line = 1;
  while (*a && *a == *b) {
    line += *a == '\n';
    ++a;
    ++b;
  }
  cr_assert(*a == *b, "%s/out.txt: line %u is another", name, line);
}

static void
check_case(const char* const name)
{
  char path[256];
  char line[LINE_CAPACITY];
  (void)snprintf(path, sizeof(path), GOLDEN "%s/in.txt", name);
  FILE* const file = fopen(path, "r");
  cr_assert_not_null(file, "%s", path);
  cr_assert_not_null(fgets(line, sizeof(line), file));
  const SessionOptions options = read_session(line);
  const unsigned       n_keys  = read_keys(file);
  (void)fclose(file);

  play(&options, n_keys);
  (void)snprintf(path, sizeof(path), GOLDEN "%s/out.txt", name);
  if (getenv("BARTER_GOLDEN_WRITE")) {
    write_kept(path);
  }
  read_kept(path);
  compare_lines(name);
}

Test(golden, blues_in_twos)
{
  check_case("blues-in-twos");
}

Test(golden, waltz_in_fours)
{
  check_case("waltz-in-fours");
}
