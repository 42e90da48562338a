// The band beside the partner: what sounds of both, by this test's own ear,
// over whole sessions of players who end early, late or over the line.

#include "core/rng.h"
#include "support/stand.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { APART = 3, KEYS = 8000, SESSIONS = 8, STEP = 100 };

static Log      log_all;
static HeardKey keys[KEYS];
static unsigned n_keys;

typedef struct {
  char   chart[24];
  char   feel[16];
  double tempo_bpm;
} Ground;

ParameterizedTestParameters(accompany, chords_keep_below_the_partner)
{
  static Ground rows[] = {
    {"blues", "swing", 100.0},
    {"blues-jazz", "swing", 220.0},
    {"blues-minor", "bossa", 92.0},
    {"blues-minor-scale", "straight", 60.0},
    {"blues-quick-change", "shuffle", 108.0},
    {"modal-vamp", "straight", 145.0},
    {"one-chord", "bossa", 300.0},
    {"sixteen-bar", "swing", 145.0},
    {"two-five-one", "straight", 180.0},
    {"waltz", "waltz", 126.0},
  };
  return cr_make_param_array(Ground, rows, sizeof(rows) / sizeof(*rows));
}

static void
load_ground(const Ground* const ground)
{
  Faults faults = {.n_faults = 0};
  char   path[512];
  load();
  load_chart(ground->chart);
  (void)snprintf(
    path, sizeof(path), BARTER_SOURCE_DIR "/config/feels/%s.cfg", ground->feel);
  cr_assert_eq(feel_file_load(&feel, path, &faults), 0);
}

static int
by_tick(const void* const a, const void* const b)
{
  const HeardKey* const one   = (const HeardKey*)a;
  const HeardKey* const other = (const HeardKey*)b;
  return one->tick != other->tick
           ? (one->tick > other->tick) - (one->tick < other->tick)
           : one->velocity - other->velocity;
}

static void
strike(const Tick tick, const Tick length, const unsigned pitch)
{
  cr_assert_lt(n_keys + 1, KEYS);
  keys[n_keys++] = (HeardKey){tick, (uint8_t)pitch, 80};
  keys[n_keys++] = (HeardKey){tick + length, (uint8_t)pitch, 0};
}

/// A turn of a player's: it ends up to three beats before the line, or runs up
/// to half a beat over it.
static void
draw_turn(const Turn* const turn, const Tick beat, Rng* const rng)
{
  const Tick step = beat / (Tick)(1 + rng_below(rng, 3));
  const Tick end  = turn->end + beat / 2 - (Tick)rng_below(rng, 8) * beat / 2;
  Tick       at   = turn->start + (Tick)rng_below(rng, 3) * beat / 2;
  while (at < end) {
    strike(
      at + (Tick)rng_below(rng, 40), step * 3 / 4, 60 + rng_below(rng, 20));
    at += rng_below(rng, 4) ? step : 2 * step;
  }
}

static void
draw_player(const SessionOptions* const options, Rng* const rng)
{
  const Tick     beat = meter_beat_ticks(chart.chart.meter);
  const Tick     end  = options->choruses * chart_ticks(&chart.chart);
  const TurnPlan plan = session_turn_plan(options);
  n_keys              = 0;
  for (unsigned i = 1; turn_at(plan, i).start < end; ++i) {
    const Turn turn = turn_at(plan, i);
    if (turn.by_player && rng_below(rng, 8) > 0) {
      draw_turn(&turn, beat, rng);
    }
  }
  qsort(keys, n_keys, sizeof(*keys), by_tick);
}

/// Go on in steps; nothing may be decided after its time.
static void
go_on(const Tick until)
{
  while (session.now < until) {
    const Tick     now = session.now;
    const unsigned n   = log_all.n_notes;
    advance(&log_all, tick_least(until, now + STEP));
    for (unsigned i = n; i < log_all.n_notes; ++i) {
      cr_assert_geq(log_all.notes[i].note.tick,
                    now,
                    "part %u, way %u seed %lu: %ld at %ld",
                    log_all.notes[i].part,
                    session.options.way,
                    (unsigned long)session.options.seed,
                    (long)log_all.notes[i].note.tick,
                    (long)now);
    }
  }
}

static void
hold(const SessionOptions* const options)
{
  log_all.n_notes = 0;
  log_all.n_turns = 0;
  session_begin(&session, options);
  for (unsigned i = 0; i < n_keys; ++i) {
    go_on(keys[i].tick);
    (void)session_hear(&session, keys[i]);
  }
  go_on(session_last_tick(&session));
}

static bool
sound_together(const Note a, const Note b)
{
  return a.tick < b.tick + b.length && b.tick < a.tick + a.length;
}

static unsigned
count_notes(const Part part)
{
  unsigned n = 0;
  for (unsigned i = 0; i < log_all.n_notes; ++i) {
    n += log_all.notes[i].part == part;
  }
  return n;
}

static void
keep_apart(const Ground* const ground, const SessionOptions* const options)
{
  for (unsigned i = 0; i < log_all.n_notes; ++i) {
    for (unsigned j = 0; j < log_all.n_notes; ++j) {
      const PartNote chord = log_all.notes[i];
      const PartNote line  = log_all.notes[j];
      cr_assert(chord.part != PART_CHORDS || line.part != PART_PARTNER ||
                  !sound_together(chord.note, line.note) ||
                  chord.note.pitch + APART <= line.note.pitch,
                "%s, way %u, seed %lu: %u at %ld under %u at %ld",
                ground->chart,
                options->way,
                (unsigned long)options->seed,
                chord.note.pitch,
                (long)chord.note.tick,
                line.note.pitch,
                (long)line.note.tick);
    }
  }
}

ParameterizedTest(Ground* ground, accompany, chords_keep_below_the_partner)
{
  load_ground(ground);
  unsigned n_chords = 0;
  unsigned n_line   = 0;
  for (unsigned seed = 0; seed < SESSIONS * N_WAYS; ++seed) {
    Rng            rng             = rng_seed(seed, 31);
    SessionOptions options         = usual();
    options.seed                   = seed;
    options.way                    = (Way)(seed % N_WAYS);
    options.tempo_bpm              = ground->tempo_bpm;
    options.bars_per_turn          = 1U << rng_below(&rng, 3);
    options.partner_begins         = rng_below(&rng, 3) == 0;
    options.lowest                 = 48;
    options.band_thins_for_partner = rng_below(&rng, 4) == 0;
    draw_player(&options, &rng);
    hold(&options);
    keep_apart(ground, &options);
    n_chords += count_notes(PART_CHORDS);
    n_line += count_notes(PART_PARTNER);
  }
  cr_assert_gt(n_line, 1000U, "%u", n_line);
  cr_assert_gt(n_chords, 2 * n_line, "%u", n_chords);
}
