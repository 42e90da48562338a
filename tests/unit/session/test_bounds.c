#include "core/rng.h"
#include "responder/session/accompany.h"
#include "responder/session/outcome.h"
#include "responder/session/remark.h"
#include "responder/session/summary.h"
#include "support/stand.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <string.h>

// Both sides of the numbers that decide what is said of a turn, what counts as
// having come off, and when the player is lost or talks too much. The numbers
// themselves are common practice, no source.

enum { BAR = 3840 };

static Phrase     phrase;
static Phrase     said;
static Sentences  worded;
static SessionOut out;

static void
load_words(void)
{
  load();
  for (unsigned kind = 0; kind < N_SENTENCES; ++kind) {
    worded.of[kind].n = 1;
    (void)snprintf(worded.of[kind].words[0], SENTENCE_CAPACITY, "<%u>", kind);
  }
}

/// A phrase of four chord tones that ends on the root, with what is measured
/// set to what calls for no word: neither roomy nor full, neither steady nor
/// uneven.
static void
make_phrase(void)
{
  static const uint8_t pitches[] = {64, 67, 64, 60};
  const Ear            ear       = ear_usual(&chart.chart, &ladder, 120.0);
  Note                 notes[4];
  Tick                 grid[4];
  const bool           plain[4] = {false};
  for (unsigned i = 0; i < 4; ++i) {
    grid[i]  = i * 960;
    notes[i] = (Note){grid[i], 700, pitches[i], 80};
  }
  hear_written(&phrase, &ear, notes, grid, plain, 4, 0, 2 * BAR);
  phrase.measures.space     = 0.2F;
  phrase.measures.spread_ms = 35.0F;
  phrase.measures.offset_ms = 0.0F;
}

typedef enum { OF_SPACE, OF_SPREAD, OF_OFFSET } Field;

static void
set_field(Measures* const measures, const Field field, const float value)
{
  switch (field) {
    case OF_SPACE:
      measures->space = value;
      break;
    case OF_SPREAD:
      measures->spread_ms = value;
      break;
    case OF_OFFSET:
      measures->offset_ms = value;
      break;
  }
}

typedef struct {
  Field        field;
  float        value;
  SentenceKind kind;
  bool         is_said;
} RemarkRow;

ParameterizedTestParameters(bounds, remarks)
{
  static RemarkRow rows[] = {
    {OF_SPACE, 0.25F, SENTENCE_PRAISE_ROOM, true},
    {OF_SPACE, 0.249F, SENTENCE_PRAISE_ROOM, false},
    {OF_SPACE, 0.1F, SENTENCE_ADVICE_ROOM, false},
    {OF_SPACE, 0.099F, SENTENCE_ADVICE_ROOM, true},
    {OF_SPREAD, 25.0F, SENTENCE_PRAISE_STEADY, true},
    {OF_SPREAD, 25.1F, SENTENCE_PRAISE_STEADY, false},
    {OF_SPREAD, 45.0F, SENTENCE_ADVICE_EVEN, false},
    {OF_SPREAD, 45.1F, SENTENCE_ADVICE_EVEN, true},
    {OF_OFFSET, 60.0F, SENTENCE_ADVICE_LATE, false},
    {OF_OFFSET, 60.1F, SENTENCE_ADVICE_LATE, true},
    {OF_OFFSET, -60.0F, SENTENCE_ADVICE_EARLY, false},
    {OF_OFFSET, -60.1F, SENTENCE_ADVICE_EARLY, true},
  };
  return cr_make_param_array(RemarkRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(RemarkRow* row, bounds, remarks, .init = load_words)
{
  // The landing was praised the last time, so that it is something else's turn
  Remarks remarks = {
    .n_said  = 1,
    .said_at = {[SENTENCE_PRAISE_ROOT] = 1, [SENTENCE_PRAISE_TONE] = 1},
  };
  char text[REMARK_CAPACITY];
  char word[16];
  make_phrase();
  set_field(&phrase.measures, row->field, row->value);
  remark_turn(&remarks,
              &worded,
              &(RemarkView){.chart        = &chart.chart,
                            .phrase       = &phrase,
                            .silent_turns = 0,
                            .times_said   = 1},
              text);
  (void)snprintf(word, sizeof(word), "<%u>", row->kind);
  cr_assert_eq(strstr(text, word) != NULL,
               row->is_said,
               "%g: %s in %s",
               (double)row->value,
               word,
               text);
}

Test(bounds, what_comes_again, .init = load_words)
{
  static const SentenceKind kinds[] = {
    SENTENCE_AGAIN_TWICE, SENTENCE_AGAIN_THIRD, SENTENCE_AGAIN_MORE};
  static const unsigned expected[] = {9, 9, 0, 1, 9, 2, 9, 2, 9};
  make_phrase();
  for (unsigned times = 0; times < 9; ++times) {
    Remarks remarks = {.n_said = 1};
    char    text[REMARK_CAPACITY];
    remark_turn(&remarks,
                &worded,
                &(RemarkView){.chart        = &chart.chart,
                              .phrase       = &phrase,
                              .silent_turns = 0,
                              .times_said   = times},
                text);
    for (unsigned i = 0; i < 3; ++i) {
      char word[16];
      (void)snprintf(word, sizeof(word), "<%u>", kinds[i]);
      cr_assert_eq(
        strstr(text, word) != NULL, expected[times] == i, "%s", text);
    }
  }
}

// What came off

typedef struct {
  float  value;
  double usual_ms;
  bool   in_time;
} TimeRow;

ParameterizedTestParameters(bounds, in_time)
{
  static TimeRow rows[] = {
    {30.0F, 5.0, true}, // Nobody is held to less than 30 ms
    {30.1F, 5.0, false},
    {50.0F, 25.0, true}, // Twice the usual
    {50.1F, 25.0, false},
    {60.0F, 80.0, true}, // Anyone hears more than 60 ms
    {60.1F, 80.0, false},
  };
  return cr_make_param_array(TimeRow, rows, sizeof(rows) / sizeof(*rows));
}

static OutcomeView
view_of(const double usual_ms)
{
  return (OutcomeView){.spread_ms = usual_ms};
}

ParameterizedTest(TimeRow* row, bounds, in_time, .init = load_words)
{
  const OutcomeView view = view_of(row->usual_ms);
  make_phrase();
  phrase.measures.spread_ms = row->value;
  cr_assert_eq(outcome_judge(&phrase, &view).in_time,
               row->in_time,
               "%g of %g",
               (double)row->value,
               row->usual_ms);
}

Test(bounds, has_space, .init = load_words)
{
  const OutcomeView view = view_of(20.0);
  make_phrase();
  phrase.measures.space = 0.101F;
  cr_assert(outcome_judge(&phrase, &view).has_space);
  phrase.measures.space = 0.099F;
  cr_assert_not(outcome_judge(&phrase, &view).has_space);
}

// One note in five may be left hanging
Test(bounds, is_led, .init = load_words)
{
  const OutcomeView view = view_of(20.0);
  make_phrase();
  for (unsigned n = 4; n <= 5; ++n) {
    phrase.n_notes             = n;
    phrase.notes[4]            = phrase.notes[3];
    phrase.notes[1].role       = ROLE_OUTSIDE;
    phrase.notes[1].resolution = RESOLUTION_LEFT;
    cr_assert_eq(outcome_judge(&phrase, &view).is_led, n == 5);
  }
}

// Takes up the partner's last note: a third away, no fourth; but that note
// itself in another octave. Two long notes before, so that nothing else is
// alike.
Test(bounds, is_connected, .init = load_words)
{
  for (unsigned last = 67; last <= 77; ++last) {
    const Note  notes[] = {{0, 3000, 84, 80}, {3100, 3000, (uint8_t)last, 80}};
    const Tick  grid[]  = {0, 3120};
    const bool  plain[] = {false, false};
    const Ear   ear     = ear_usual(&chart.chart, &ladder, 120.0);
    OutcomeView view    = view_of(20.0);
    make_phrase(); // Begins on E, 64
    hear_written(&said, &ear, notes, grid, plain, 2, 0, 2 * BAR);
    view.said = &said;
    cr_assert_eq(outcome_judge(&phrase, &view).connected,
                 last <= 68 || last == 76,
                 "%u",
                 last);
  }
}

// ... or is like what the partner said, though it begins far from it: intervals
// that go the same way are .41 alike, with one the other way .29 (worked out in
// the tests of ideas); an even rhythm makes no idea
Test(bounds, is_connected_by_likeness, .init = load_words)
{
  static const uint8_t mine[2][4]   = {{60, 62, 64}, {60, 62, 64, 66}};
  static const uint8_t theirs[2][4] = {{70, 72, 79}, {71, 73, 71, 73}};
  const Ear            ear          = ear_usual(&chart.chart, &ladder, 120.0);
  for (unsigned row = 0; row < 2; ++row) {
    const unsigned n        = 3 + row;
    const bool     plain[4] = {false};
    OutcomeView    view     = view_of(20.0);
    Note           notes[2][4];
    Tick           grid[4];
    for (unsigned i = 0; i < n; ++i) {
      grid[i]     = i * 960;
      notes[0][i] = (Note){grid[i], 700, mine[row][i], 80};
      notes[1][i] = (Note){grid[i], 700, theirs[row][i], 80};
    }
    hear_written(&phrase, &ear, notes[0], grid, plain, n, 0, 2 * BAR);
    hear_written(&said, &ear, notes[1], grid, plain, n, 0, 2 * BAR);
    view.said = &said;
    cr_assert_eq(outcome_judge(&phrase, &view).connected, row == 0);
  }
}

// A whole session

typedef struct {
  double       space;
  double       spread;
  double       offset;
  unsigned     n_landed; // Of ten
  SentenceKind kind;
  bool         is_said;
} SummaryRow;

ParameterizedTestParameters(bounds, summaries)
{
  static SummaryRow rows[] = {
    {0.2, 30, 0, 6, SENTENCE_WORKED_LANDING, true},
    {0.2, 30, 0, 5, SENTENCE_WORKED_LANDING, false},
    {0.2, 30, 0, 5, SENTENCE_WORK_ON_LANDING, true},
    {0.2, 30, 0, 6, SENTENCE_WORK_ON_LANDING, false},
    {0.25, 30, 0, 6, SENTENCE_WORKED_ROOM, true},
    {0.2499, 30, 0, 6, SENTENCE_WORKED_ROOM, false},
    {0.12, 30, 0, 6, SENTENCE_WORK_ON_ROOM, false},
    {0.1199, 30, 0, 6, SENTENCE_WORK_ON_ROOM, true},
    {0.2, 25, 0, 6, SENTENCE_WORKED_TIME, true},
    {0.2, 25.01, 0, 6, SENTENCE_WORKED_TIME, false},
    {0.2, 40, 0, 6, SENTENCE_WORK_ON_TIME, false},
    {0.2, 40.01, 0, 6, SENTENCE_WORK_ON_TIME, true},
    {0.2, 30, 50, 6, SENTENCE_WORK_ON_BAND, false},
    {0.2, 30, 50.01, 6, SENTENCE_WORK_ON_BAND, true},
    {0.2, 30, -50.01, 6, SENTENCE_WORK_ON_BAND, true},
  };
  return cr_make_param_array(SummaryRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(SummaryRow* row, bounds, summaries, .init = load_words)
{
  const Summary summary = {
    .sentences = &worded,
    .n_turns   = 10,
    .n_landed  = row->n_landed,
    .n_notes   = 40,
    .space     = 10.0 * row->space,
    .spread_ms = 10.0 * row->spread,
    .offset_ms = 10.0 * row->offset,
  };
  const SummaryWords words = summary_words(&summary);
  char               word[16];
  (void)snprintf(word, sizeof(word), "<%u>", row->kind);
  cr_assert_eq(strcmp(words.worked[0], word) == 0 ||
                 strcmp(words.worked[1], word) == 0 ||
                 strcmp(words.work_on, word) == 0,
               row->is_said,
               "%s: %s %s %s",
               word,
               words.worked[0],
               words.worked[1],
               words.work_on);
}

// The session

static SessionOptions
five_choruses(void)
{
  SessionOptions options = usual();
  options.choruses       = 5;
  return options;
}

static TurnRecord records[60];
static unsigned   times_said[60];

static unsigned
run(const HeardKey* const keys, const unsigned n_keys)
{
  const SessionOptions options = five_choruses();
  unsigned             n       = 0;
  unsigned             next    = 0;
  session_begin(&session, &options);
  while (!session_is_over(&session)) {
    Tick until = session.now + 500;
    until = next < n_keys && keys[next].tick < until ? keys[next].tick : until;
    (void)session_advance(&session, until, &out);
    for (unsigned i = 0; i < out.n_turns; ++i) {
      times_said[n] = session.standing.times_said;
      records[n++]  = out.turns[i];
    }
    while (next < n_keys && session.now >= keys[next].tick) {
      (void)session_hear(&session, keys[next++]);
    }
  }
  return n;
}

// Longer turns are offered to who fills more than half of two of the partner's
// turns; the half beat before the player's own turn is no part of them.
Test(bounds, crowded, .init = load_words)
{
  const Tick half = (2 * BAR - 480) / 2;
  for (unsigned more = 0; more < 2; ++more) {
    HeardKey keys[6];
    unsigned n = 0;
    for (unsigned turn = 1; turn < 4; turn += 2) {
      const Tick from = (Tick)turn * 2 * BAR + 960;
      keys[n++]       = (HeardKey){from, 64, 80};
      keys[n++]       = (HeardKey){from + half + more, 64, 0};
    }
    keys[n++] = (HeardKey){8 * BAR, 64, 80}; // The turn after is not silent
    keys[n++] = (HeardKey){8 * BAR + 900, 64, 0};
    cr_assert_geq(run(keys, n), 6U);
    cr_assert_eq(records[4].offers_longer, more == 1);
  }
}

// Four silent turns running ask whether to stop; a note in between begins the
// count again.
Test(bounds, silent_turns_are_counted_running, .init = load_words)
{
  const HeardKey keys[] = {{12 * BAR, 64, 80}, {12 * BAR + 900, 64, 0}};
  cr_assert_geq(run(keys, 2), 16U);
  for (unsigned turn = 0; turn < 16; ++turn) {
    cr_assert_eq(records[turn].asks_to_stop, turn == 14, "turn %u", turn);
  }
}

// A twentieth of a beat later each turn until lost, and then about a seventh
// late: found
Test(bounds, found, .init = load_words)
{
  static const struct {
    Tick late;
    bool is_lost;
  } rows[] = {{134, false}, {154, true}}; // .15 of a beat are 144
  for (unsigned row = 0; row < 2; ++row) {
    HeardKey keys[700];
    unsigned n = 0;
    for (unsigned turn = 0; turn < 26; turn += 2) {
      const Tick late = turn < 24 ? (Tick)turn / 2 * 48 : rows[row].late;
      for (unsigned i = 0; i < 12; ++i) {
        const Tick tick = (Tick)turn * 2 * BAR + i * 480 + late;
        keys[n++]       = (HeardKey){tick, (uint8_t)(60 + i), 80};
        keys[n++]       = (HeardKey){tick + 400, (uint8_t)(60 + i), 0};
      }
    }
    (void)run(keys, n);
    cr_assert(records[22].is_lost);
    cr_assert_eq(records[24].is_lost, rows[row].is_lost, "row %u", row);
  }
}

// A turn of more than six notes a bar of four, with less rest than a bar's
// sixteenth, is overfull: the answer leaves space. A rest of less than an
// eighth is none.
typedef struct {
  Tick      step;
  Tick      rest;
  Treatment treatment;
} FullRow;

ParameterizedTestParameters(bounds, overfull)
{
  static FullRow rows[] = {
    {480, 0, TREAT_SPACE},
    {480, 230, TREAT_SPACE},
    {480, 480, TREAT_ANSWER},
    {640, 0, TREAT_ANSWER},
    {549, 0, TREAT_SPACE},
  };
  return cr_make_param_array(FullRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FullRow* row, bounds, overfull, .init = load_words)
{
  HeardKey keys[64];
  unsigned n = 0;
  for (unsigned i = 0; i * row->step < 2 * BAR; ++i) {
    const Tick tick = i * row->step;
    const Tick end  = tick + row->step - (i == 7 ? row->rest : 0);
    if (end > tick) {
      keys[n++] = (HeardKey){tick, (uint8_t)(60 + i), 80};
      keys[n++] = (HeardKey){end, (uint8_t)(60 + i), 0};
    }
  }
  (void)run(keys, n);
  cr_assert_eq(records[1].treatment,
               row->treatment,
               "%ld, %ld",
               (long)row->step,
               (long)row->rest);
}

// Said again from a likeness of .75 on, by riffs that are changed a little
Test(bounds, said_again, .init = load_words)
{
  static const Tick    places[]     = {0, 720, 1440, 2400, 3360, 3840};
  static const uint8_t pitches[]    = {60, 64, 63, 67, 62, 60};
  unsigned             n_just_above = 0;
  unsigned             n_just_below = 0;
  for (uint64_t seed = 0; seed < 60; ++seed) {
    Rng      rng = rng_seed(seed, 9);
    HeardKey keys[800];
    unsigned n     = 0;
    Idea     last  = {.n_notes = 0};
    unsigned times = 0;
    for (unsigned turn = 0; turn < 28; turn += 2) {
      for (unsigned i = 0; i < 6; ++i) {
        const Tick     move = rng_below(&rng, 5) == 0 ? 240 : 0;
        const Tick     tick = (Tick)turn * 2 * BAR + places[i] + move;
        const unsigned up   = rng_below(&rng, 3) == 0 ? rng_below(&rng, 5) : 0;
        keys[n++]           = (HeardKey){tick, (uint8_t)(pitches[i] + up), 80};
        keys[n++] = (HeardKey){tick + 200, (uint8_t)(pitches[i] + up), 0};
      }
    }
    const unsigned n_records = run(keys, n);
    for (unsigned i = 0; i < n_records && i < 28; i += 2) {
      const Idea  idea  = idea_of(&records[i].phrase, true);
      const float whole = idea_likeness(&last, &idea).whole;
      times             = whole >= 0.75F ? times + 1 : 1;
      cr_assert_eq(times_said[i], times, "%g", (double)whole);
      n_just_above += whole >= 0.75F && whole < 0.8F;
      n_just_below += whole < 0.75F && whole > 0.7F;
      last = idea;
    }
  }
  cr_assert_gt(n_just_above, 0U);
  cr_assert_gt(n_just_below, 0U);
}

// What the band hears

Test(bounds, accent, .init = load_words)
{
  for (unsigned louder = 7; louder <= 8; ++louder) {
    const SessionOptions options = five_choruses();
    session_begin(&session, &options);
    make_phrase();
    phrase.notes[2].note.velocity = (uint8_t)(80 + louder);
    session.standing.call         = phrase;
    session.loudness              = 80.0;
    session.turn                  = turn_at(session_turn_plan(&options), 2);
    const Solo solo               = accompany_solo(&session, 2 * BAR);
    cr_assert_eq(solo.accent, louder == 8 ? 1920 : SOLO_NO_ACCENT);
  }
}

Test(bounds, leads_on, .init = load_words)
{
  const SessionOptions options = five_choruses(); // Five choruses, thirty turns
  const TurnPlan       plan    = session_turn_plan(&options);
  session_begin(&session, &options);
  for (unsigned bar = 0; bar < 60; ++bar) {
    session.turn     = turn_at(plan, bar / 2 + 1);
    const Solo solo  = accompany_solo(&session, (Tick)bar * BAR);
    const bool leads = bar % 4 == 3 && bar != 59; // The player begins
    cr_assert_eq(solo.leads_on, leads, "bar %u", bar);
  }
}
