#include "responder/session/outcome.h"
#include "support/stand.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

enum { BAR = 3840, KEY_CAPACITY = 4000, RECORD_CAPACITY = 160 };

static SessionOut out;
static Phrase     phrase;
static Phrase     said;
static TurnRecord records[RECORD_CAPACITY];
static PartNote   played[2][20000];
static HeardKey   keys[KEY_CAPACITY];

static void
load_one_chord(void)
{
  load();
  load_chart("one-chord");
}

/// A phrase over two bars of C7, on the beats of its first, and what the
/// partner said before: one long note. `late` is alternately added and taken
/// away, in ticks of half a millisecond.
typedef struct {
  char     name[40];
  unsigned n_notes;
  uint8_t  pitches[8];
  unsigned length; ///< Of each note, ticks
  int      late;
  uint8_t  said;
  Outcome  outcome;
} OutcomeRow;

ParameterizedTestParameters(outcome, judges)
{
  static OutcomeRow rows[] = {
    {"all well",
     4,
     {64, 67, 64, 60},
     700,
     20,
     62,
     {1, 1, 1, 1, 1, 1, GOAL_NONE, true}},
    {"ends on the seventh",
     2,
     {67, 70},
     700,
     0,
     67,
     {1, 1, 1, 1, 1, 1, GOAL_NONE, true}},
    {"ends on the second",
     2,
     {64, 62},
     700,
     0,
     64,
     {1, 0, 1, 1, 1, 1, GOAL_NONE, true}},
    {"ends outside",
     2,
     {64, 61},
     700,
     0,
     64,
     {1, 0, 1, 0, 1, 1, GOAL_NONE, true}},
    {"led from outside",
     3,
     {64, 63, 64},
     700,
     0,
     64,
     {1, 1, 1, 1, 1, 1, GOAL_NONE, true}},
    {"scale tone left",
     3,
     {64, 69, 64},
     700,
     0,
     64,
     {1, 1, 1, 1, 1, 1, GOAL_NONE, true}},
    {"uneven",
     4,
     {64, 67, 64, 60},
     700,
     180,
     62,
     {1, 1, 0, 1, 1, 1, GOAL_NONE, true}},
    {"no space",
     4,
     {64, 67, 64, 60},
     1920,
     0,
     62,
     {1, 1, 1, 1, 0, 1, GOAL_NONE, true}},
    {"far from what was said",
     4,
     {76, 79, 76, 72},
     700,
     0,
     60,
     {1, 1, 1, 1, 1, 0, GOAL_NONE, true}},
    {"silence", 0, {0}, 0, 0, 60, {0, 0, 0, 0, 0, 0, GOAL_NONE, true}},
  };
  return cr_make_param_array(OutcomeRow, rows, sizeof(rows) / sizeof(*rows));
}

static void
hear_row(const OutcomeRow* const row)
{
  Ear  ear = ear_usual(&chart.chart, &ladder, 120.0);
  Note notes[8];
  Tick grid[8];
  bool plain[8] = {false};
  for (unsigned i = 0; i < row->n_notes; ++i) {
    const Tick step = row->length > 960 ? 1920 : 960;
    grid[i]         = BAR * 2 + i * step;
    notes[i] = (Note){grid[i] + (i % 2 ? row->late : -row->late) + row->late,
                      row->length,
                      row->pitches[i],
                      80};
  }
  hear_written(
    &phrase, &ear, notes, grid, plain, row->n_notes, BAR * 2, BAR * 4);
  const Note before = {0, 4 * 960, row->said, 80};
  const Tick start  = 0;
  hear_written(&said, &ear, &before, &start, plain, 1, 0, BAR * 2);
}

ParameterizedTest(OutcomeRow* row, outcome, judges, .init = load_one_chord)
{
  hear_row(row);
  const OutcomeView view = {
    .spread_ms = 20.0,
    .said      = &said,
  };
  const Outcome found    = outcome_judge(&phrase, &view);
  const Outcome expected = row->outcome;
  cr_assert_eq(found.is_judged, expected.is_judged, "%s", row->name);
  cr_assert_eq(found.landed, expected.landed, "%s: landed", row->name);
  cr_assert_eq(found.in_time, expected.in_time, "%s: in time", row->name);
  cr_assert_eq(found.is_led, expected.is_led, "%s: led", row->name);
  cr_assert_eq(found.has_space, expected.has_space, "%s: space", row->name);
  cr_assert_eq(found.connected, expected.connected, "%s: connected", row->name);
  char text[OUTCOME_TEXT_CAPACITY];
  cr_assert_eq(*outcome_text(&found, text) == '\0', !found.is_judged);
}

// What is missing tells of the rung, but for what no rung makes easier
Test(outcome, tells_of_rung)
{
  static const struct {
    Outcome outcome;
    bool    tells;
  } rows[] = {
    {{1, 1, 1, 1, 1, 1, GOAL_NONE, true}, true},
    {{1, 0, 1, 1, 1, 1, GOAL_NONE, true}, true},
    {{1, 1, 1, 1, 0, 1, GOAL_NONE, true}, true},
    {{1, 1, 1, 1, 1, 0, GOAL_NONE, true}, false}, // That alone
    {{1, 1, 0, 1, 1, 0, GOAL_NONE, true}, true},  // ... not alone
    {{0, 0, 0, 0, 0, 0, GOAL_NONE, true}, false}, // Silence
    {{1, 1, 1, 1, 1, 1, GOAL_CLOSE, true}, false},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    cr_assert_eq(
      outcome_tells_of_rung(&rows[i].outcome), rows[i].tells, "row %u", i);
  }
}

// A session of a plan

static SessionOptions
with_plan(const double step)
{
  SessionOptions options = usual();
  options.choruses       = 12;
  options.rung           = (Rung){{4, 3, 2, 1}};
  options.plan           = (ClimbPlan){.success_step = step, .target = 0.8};
  options.budget         = 10.0;
  return options;
}

/// Every player's turn: four quarters; the same ones, so that the idea comes
/// back, or ones that end outside; or nothing.
typedef enum { PLAYS_WELL, PLAYS_BADLY, PLAYS_NOTHING } Plays;

static unsigned
lay_keys(const Plays plays)
{
  static const uint8_t pitches[2][4] = {{64, 67, 64, 60}, {64, 67, 64, 61}};
  const unsigned       n_bars        = chart.chart.n_bars * 12;
  unsigned             n             = 0;
  for (unsigned bar = 0; bar < n_bars && plays != PLAYS_NOTHING; bar += 4) {
    for (unsigned i = 0; i < 4; ++i) {
      const Tick tick = (Tick)bar * BAR + i * 960;
      keys[n++]       = (HeardKey){tick, pitches[plays][i], 80};
      keys[n++]       = (HeardKey){tick + 700, pitches[plays][i], 0};
    }
  }
  return n;
}

/// Return how many turns there were.
static unsigned
play(const SessionOptions* const options,
     const unsigned              n_keys,
     PartNote* const             notes,
     unsigned* const             n_notes,
     const Tick                  step)
{
  unsigned n_records = 0;
  unsigned next      = 0;
  *n_notes           = 0;
  session_begin(&session, options);
  while (!session_is_over(&session)) {
    Tick until = session.now + step;
    until = next < n_keys && keys[next].tick < until ? keys[next].tick : until;
    (void)session_advance(&session, until, &out);
    for (unsigned i = 0; i < out.n_turns; ++i) {
      records[n_records++] = out.turns[i];
    }
    for (unsigned i = 0; i < out.n_played; ++i) {
      notes[(*n_notes)++] = out.played[i];
    }
    while (next < n_keys && session.now >= keys[next].tick) {
      (void)session_hear(&session, keys[next++]);
    }
  }
  return n_records;
}

Test(outcome, who_plays_well_climbs_one_rung_a_session, .init = load_one_chord)
{
  const SessionOptions options = with_plan(0.5);
  unsigned             n_notes = 0;
  const unsigned       n =
    play(&options, lay_keys(PLAYS_WELL), played[0], &n_notes, 4 * BAR);
  unsigned ups    = 0;
  Rung     stands = options.rung;
  for (unsigned i = 0; i < n; ++i) {
    cr_assert_eq(
      memcmp(&records[i].rung, &stands, sizeof(stands)), 0, "turn %u", i);
    if (records[i].turn.by_player) {
      cr_assert(outcome_succeeds(&records[i].outcome), "turn %u", i);
      ups += records[i].climb.reason == CLIMB_UP;
      stands = records[i].climb.rung;
    }
  }
  cr_assert_eq(ups, 1);
  cr_assert_eq(climb_sum(stands), climb_sum(options.rung) + 1);
}

Test(outcome, who_fails_is_eased_at_once, .init = load_one_chord)
{
  SessionOptions options = with_plan(0.01);
  options.budget         = 11.0;
  unsigned n_notes       = 0;
  (void)play(&options, lay_keys(PLAYS_BADLY), played[0], &n_notes, 4 * BAR);
  cr_assert_eq(records[0].climb.reason, CLIMB_STAYS);
  cr_assert_eq(records[2].climb.reason, CLIMB_STAYS);
  cr_assert_eq(records[4].climb.reason, CLIMB_DOWN_AT_ONCE);
  cr_assert_eq(climb_sum(records[5].rung), climb_sum(options.rung) - 1);
}

Test(outcome, silence_moves_nothing, .init = load_one_chord)
{
  const SessionOptions options = with_plan(0.5);
  unsigned             n_notes = 0;
  const unsigned       n =
    play(&options, lay_keys(PLAYS_NOTHING), played[0], &n_notes, 4 * BAR);
  for (unsigned i = 0; i < n; ++i) {
    cr_assert(!records[i].outcome.is_judged);
    cr_assert_eq(memcmp(&records[i].rung, &options.rung, sizeof(Rung)), 0);
  }
}

static bool
same_notes(const unsigned n)
{
  for (unsigned i = 0; i < n; ++i) {
    const PartNote* const a = &played[0][i];
    const PartNote* const b = &played[1][i];
    if (a->part != b->part || a->note.tick != b->note.tick ||
        a->note.length != b->note.length || a->note.pitch != b->note.pitch ||
        a->note.velocity != b->note.velocity) {
      return false;
    }
  }
  return true;
}

Test(outcome, moving_is_the_same_however_time_is_cut_up, .init = load_one_chord)
{
  const SessionOptions options = with_plan(0.2);
  unsigned             n[2]    = {0, 0};
  (void)play(&options, lay_keys(PLAYS_WELL), played[0], &n[0], 4 * BAR);
  (void)play(&options, lay_keys(PLAYS_WELL), played[1], &n[1], 130);
  cr_assert_eq(n[0], n[1]);
  cr_assert(same_notes(n[0]));
}

Test(outcome, without_a_plan_the_rung_stays, .init = load_one_chord)
{
  const SessionOptions options = with_plan(0.0);
  unsigned             n_notes = 0;
  const unsigned       n =
    play(&options, lay_keys(PLAYS_BADLY), played[0], &n_notes, 4 * BAR);
  for (unsigned i = 0; i < n; ++i) {
    cr_assert_eq(memcmp(&records[i].rung, &options.rung, sizeof(Rung)), 0);
    cr_assert_eq(records[i].climb.reason, CLIMB_STAYS);
  }
}

// Equal players, who listen to nobody: they go by steps and small leaps through
// chord and scale of C7, wherever they like, land on C, keep time and leave
// space

static unsigned
lay_walk(Rng* const rng)
{
  static const uint8_t scale[] = {
    60, 62, 64, 65, 67, 69, 70, 72, 74, 76, 77, 79, 81, 82, 84};
  enum { N_SCALE = sizeof(scale), LAST = 12 };
  const unsigned n_bars = chart.chart.n_bars * 12;
  unsigned       n      = 0;
  for (unsigned bar = 0; bar < n_bars; bar += 4) {
    unsigned at = rng_below(rng, N_SCALE);
    for (unsigned eighth = 0; eighth <= LAST; ++eighth) {
      const bool is_last = eighth == LAST;
      if (is_last || rng_below(rng, 3) == 0) {
        const Tick tick = (Tick)bar * BAR + eighth * 480 + rng_below(rng, 20);
        const uint8_t pitch =
          is_last ? scale[7 * rng_below(rng, 3)] : scale[at];
        keys[n++] = (HeardKey){tick, pitch, 80};
        keys[n++] = (HeardKey){tick + 400, pitch, 0};
        at        = (at + N_SCALE + rng_below(rng, 5) - 2) % N_SCALE;
      }
    }
  }
  return n;
}

Test(outcome, equal_players_stand_near_each_other, .init = load_one_chord)
{
  enum { PLAYERS = 5, SESSIONS = 5, NEAR = 3, HIGH = 15 };
  unsigned least = 99;
  unsigned most  = 0;
  for (unsigned player = 0; player < PLAYERS; ++player) {
    Rng            rng     = rng_seed(player, 9);
    SessionOptions options = with_plan(0.05);
    unsigned       n_notes = 0;
    unsigned       first   = 0;
    options.rung           = ladder.start;
    options.budget         = ladder.budget;
    options.plan.finding   = climb_finding(0, 0);
    for (unsigned i = 0; i < SESSIONS; ++i) {
      options.seed = SESSIONS * player + i;
      (void)play(&options, lay_walk(&rng), played[0], &n_notes, 4 * BAR);
      const Climb* const climb = &session.standing.climb;
      options.rung             = climb->rung;
      options.budget           = climb->budget;
      options.plan.finding     = (Finding){0};
      first                    = i ? first : climb_sum(climb->rung);
    }
    const unsigned sum = climb_sum(options.rung);
    cr_assert_leq(sum, first + NEAR, "%u: %u after %u", player, sum, first);
    cr_assert_leq(first, sum + NEAR, "%u: %u after %u", player, sum, first);
    least = sum < least ? sum : least;
    most  = sum > most ? sum : most;
  }
  cr_assert_leq(most, least + NEAR, "from %u to %u", least, most);
  cr_assert_geq(least, HIGH, "%u", least);
}
