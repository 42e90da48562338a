// Whether a turn met the goal of its way, what it missed, and which phrase of a
// session is the best. What each way asks comes from common practice, no
// source.

#include "core/settings/chart_file.h"
#include "profiles/files/ladder_file.h"
#include "responder/hear/hear.h"
#include "responder/session/best.h"
#include "responder/session/fit.h"
#include "responder/session/goal.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

#define CONFIG BARTER_SOURCE_DIR "/config/"

enum { BAR = 3840 };

static ChartFile chart;
static Ladder    ladder;

static void
load(void)
{
  Faults faults = {.n_faults = 0};
  cr_assert_eq(chart_file_load(&chart, CONFIG "charts/blues.cfg", &faults), 0);
  cr_assert_eq(ladder_file_load(&ladder, CONFIG "ladder.cfg", &faults), 0);
}

// What comes first is missed first
Test(goal, echo_says_what_was_missing, .init = load)
{
  static Phrase   cell;
  static Phrase   back;
  static HearWork work;
  const Ear       ear  = ear_usual(&chart.chart, &ladder, 120.0);
  const GoalView  view = {.chart = &chart.chart, .said = &cell};
  Note own[5] = {{0, 400, 60, 80}, {480, 400, 62, 80}, {960, 900, 64, 80}};
  hear_phrase(&cell, &work, &ear, own, 3, 0, 2 * BAR);
  own[1].pitch = 67;
  hear_phrase(&back, &work, &ear, own, 3, 0, 2 * BAR);
  cr_assert_eq(goal_miss(GOAL_WHOLE, &back, &view), MISS_WHOLE);
  cr_assert_eq(goal_miss(GOAL_LANDING, &back, &view), MISS_NOTHING);
  own[2].pitch = 67;
  hear_phrase(&back, &work, &ear, own, 3, 0, 2 * BAR);
  cr_assert_eq(goal_miss(GOAL_WHOLE, &back, &view), MISS_LANDING);
  cr_assert_eq(goal_miss(GOAL_LANDING, &back, &view), MISS_LANDING);
  cr_assert_eq(goal_miss(GOAL_RHYTHM, &back, &view), MISS_NOTHING);
  hear_phrase(&back, &work, &ear, own, 2, 0, 2 * BAR);
  cr_assert_eq(goal_miss(GOAL_WHOLE, &back, &view), MISS_SOME);
  own[1].tick = 1920;
  hear_phrase(&back, &work, &ear, own, 2, 0, 2 * BAR);
  cr_assert_eq(goal_miss(GOAL_WHOLE, &back, &view), MISS_RHYTHM);
  for (unsigned i = 0; i < 5; ++i) { // In a later turn, every half beat
    own[i] = (Note){2 * BAR + (Tick)i * 480, 400, 60, 80};
  }
  hear_phrase(&back, &work, &ear, own, 5, 2 * BAR, 4 * BAR);
  cr_assert_eq(goal_miss(GOAL_RHYTHM, &back, &view), MISS_MORE);
}

// All places kept, by a tenth of a beat or as one swings, and not by what lies
// about them
Test(goal, places_kept_are_struck, .init = load)
{
  static const struct {
    Tick place;
    Tick struck;
    Miss more; // Where another note was added
    Miss some; // ... or is all there is
  } rows[] = {
    {960, 1056, MISS_MORE, MISS_SOME},
    {960, 1057, MISS_RHYTHM, MISS_RHYTHM},
    {480, 640, MISS_MORE, MISS_SOME}, // Swung
    {640, 480, MISS_MORE, MISS_SOME},
    {1440, 1600, MISS_MORE, MISS_SOME},
    {480, 620, MISS_RHYTHM, MISS_RHYTHM},
    {640, 800, MISS_RHYTHM, MISS_RHYTHM},
    {960, 800, MISS_RHYTHM, MISS_RHYTHM},
  };
  static Phrase  cell     = {.n_notes = 2};
  static Phrase  mine     = {.n_notes = 3};
  const GoalView view     = {.chart = &chart.chart, .said = &cell};
  mine.notes[0].grid_tick = cell.notes[0].grid_tick = 1920;
  mine.notes[1].grid_tick                           = 3000;
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    cell.notes[1].grid_tick = rows[i].place;
    mine.notes[2].grid_tick = rows[i].struck;
    mine.n_notes            = 3;
    cr_assert_eq(goal_miss(GOAL_RHYTHM, &mine, &view), rows[i].more, "%u", i);
    Phrase one             = mine;
    one.n_notes            = 1;
    one.notes[0].grid_tick = rows[i].struck;
    cr_assert_eq(goal_miss(GOAL_RHYTHM, &one, &view), rows[i].some, "%u", i);
  }
}

// Three places of four among other notes are most of it; of two notes none are
Test(goal, most_places_are_told, .init = load)
{
  static const struct {
    unsigned n_said;
    unsigned n_kept;
    Miss     miss;
  } rows[] = {{4, 3, MISS_MOST},
              {4, 2, MISS_ALONG},
              {5, 4, MISS_MOST},
              {7, 5, MISS_ALONG},
              {2, 1, MISS_ALONG},
              {4, 4, MISS_MORE}};
  static Phrase said;
  static Phrase mine;
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    const GoalView view = {.chart = &chart.chart, .said = &said};
    said                = (Phrase){.n_notes = rows[i].n_said};
    mine                = (Phrase){.n_notes = rows[i].n_kept + 8};
    for (unsigned n = 0; n < mine.n_notes; ++n) {
      const Tick beside           = n < rows[i].n_kept ? 0 : 240;
      mine.notes[n].grid_tick     = (Tick)n * 960 + beside;
      said.notes[n % 8].grid_tick = (Tick)(n % 8) * 960;
    }
    cr_assert_eq(goal_miss(GOAL_ALONG, &mine, &view), rows[i].miss, "%u", i);
  }
}

static Miss
along_with(const unsigned n_mine, const unsigned n_there, const unsigned n_said)
{
  static Phrase   said;
  static Phrase   mine;
  static HearWork work;
  const Ear       ear  = ear_usual(&chart.chart, &ladder, 120.0);
  const GoalView  view = {.chart = &chart.chart, .said = &said};
  Note            notes[8];
  for (unsigned i = 0; i < n_said; ++i) {
    notes[i] = (Note){(Tick)i * 1920, 400, 60, 80}; // On beats 1 and 3
  }
  hear_phrase(&said, &work, &ear, notes, n_said, 0, 4 * BAR);
  for (unsigned i = 0; i < n_mine; ++i) { // On 2 and 4 those that are apart
    notes[i] = (Note){(Tick)i * 1920 + (i < n_there ? 0 : 960), 400, 64, 80};
  }
  hear_phrase(&mine, &work, &ear, notes, n_mine, 0, 4 * BAR);
  return goal_miss(GOAL_ALONG, &mine, &view);
}

// Three notes of four in their places, and a quarter of what is played; what
// was kept where that is missed is told apart
Test(goal, going_along_needs_some_of_it_in_place, .init = load)
{
  cr_assert_eq(along_with(4, 3, 8), MISS_NOTHING);
  cr_assert_eq(along_with(4, 2, 8), MISS_NEAR);
  cr_assert_eq(along_with(5, 2, 8), MISS_ALONG);
  cr_assert_eq(along_with(2, 1, 8), MISS_ALONG); // Of one note nothing is near
  cr_assert_eq(along_with(2, 2, 8), MISS_NOTHING);
  cr_assert_eq(along_with(1, 1, 8), MISS_SOME);
  cr_assert_eq(along_with(8, 2, 2), MISS_MORE);
}

// All of it a little ahead is the same rhythm; a sixteenth of one note, or half
// a beat of all, is another
Test(goal, places_are_places_on_the_grid, .init = load)
{
  static const struct {
    Tick all;
    Tick second;
    Miss miss;
  } rows[] = {
    {0, 0, MISS_NOTHING},
    {240, 0, MISS_NOTHING},
    {480, 0, MISS_RHYTHM},
    {0, 240, MISS_RHYTHM},
  };
  static Phrase   said;
  static Phrase   mine;
  static HearWork work;
  const Ear       ear   = ear_usual(&chart.chart, &ladder, 120.0);
  const GoalView  view  = {.chart = &chart.chart, .said = &said};
  const Note      own[] = {{960, 400, 60, 80},
                           {1440, 400, 60, 80},
                           {1920, 200, 60, 80},
                           {2400, 900, 60, 80}};
  hear_phrase(&said, &work, &ear, own, 4, 0, 2 * BAR);
  for (unsigned row = 0; row < sizeof(rows) / sizeof(*rows); ++row) {
    mine = said;
    for (unsigned i = 0; i < mine.n_notes; ++i) {
      mine.notes[i].grid_tick +=
        rows[row].all + (i == 1 ? rows[row].second : 0);
    }
    cr_assert_eq(
      goal_miss(GOAL_RHYTHM, &mine, &view), rows[row].miss, "%u", row);
  }
}

// What came off is better than what did not, and landing on the root, taking up
// a rhythm and shape are better still
Test(goal, know_the_best_phrase, .init = load)
{
  static Phrase   plain;
  static Phrase   shaped;
  static HearWork work;
  const Ear       ear      = ear_usual(&chart.chart, &ladder, 120.0);
  const Outcome   good     = {1, 1, 1, 1, 1, 1, GOAL_NONE, MISS_NOTHING};
  const Outcome   bad      = {1, 0, 1, 1, 1, 1, GOAL_NONE, MISS_NOTHING};
  Note            notes[5] = {{0}};
  for (unsigned i = 0; i < 5; ++i) {
    notes[i] = (Note){(Tick)i * 960, 500, 64, 80};
  }
  hear_phrase(&plain, &work, &ear, notes, 5, 0, 2 * BAR);
  for (unsigned i = 0; i < 5; ++i) {
    notes[i].velocity = (uint8_t)(60 + i * 10);
  }
  notes[4].pitch = 60;
  hear_phrase(&shaped, &work, &ear, notes, 5, 0, 2 * BAR);
  cr_assert_eq(best_worth(&shaped, &bad, NULL), 0);
  cr_assert_gt(best_worth(&plain, &good, NULL), 0);
  cr_assert_gt(best_worth(&shaped, &good, NULL),
               best_worth(&plain, &good, NULL));
  cr_assert_gt(best_worth(&plain, &good, &plain),
               best_worth(&plain, &good, NULL));
}

static Miss
missed_of(const Goal goal, const int last, const bool was_silent)
{
  static Phrase   first;
  static Phrase   phrase;
  static HearWork work;
  const Ear       ear     = ear_usual(&chart.chart, &ladder, 120.0);
  Note            notes[] = {{0, 400, 67, 80},
                             {480, 400, 64, 80},
                             {1440, 400, 67, 80},
                             {1920, 1800, 60, 80}};
  hear_phrase(&first, &work, &ear, notes, 4, 0, 2 * BAR);
  const Idea     line = idea_of(&first, true);
  const GoalView view = {
    .chart = &chart.chart, .line = &line, .was_silent = was_silent};
  if (last) { // Another rhythm, other notes
    notes[0] = (Note){960, 400, 64, 80};
    notes[1] = (Note){1920, 1800, (uint8_t)last, 80};
  }
  hear_phrase(&phrase, &work, &ear, notes, last ? 2 : 4, 0, 2 * BAR);
  return goal_miss(goal, &phrase, &view);
}

// One note, and two, are like any: no line said before
Test(goal, a_note_or_two_are_no_line_again, .init = load)
{
  static Phrase   phrase;
  static HearWork work;
  const Ear       ear     = ear_usual(&chart.chart, &ladder, 120.0);
  const Note      notes[] = {{0, 400, 67, 80},
                             {480, 400, 64, 80},
                             {1440, 400, 67, 80},
                             {1920, 1800, 60, 80}};
  for (unsigned n = 1; n <= 4; ++n) {
    hear_phrase(&phrase, &work, &ear, notes + 4 - n, n, 0, 2 * BAR);
    const Idea     line = idea_of(&phrase, true);
    const GoalView view = {
      .chart = &chart.chart, .line = &line, .was_said = true};
    const Idea     other = {.n_notes = 1}; // The first line
    const GoalView again = {
      .chart = &chart.chart, .line = &other, .was_said = true};
    cr_assert_eq(goal_miss(GOAL_LAST, &phrase, &view),
                 n < 3 ? MISS_NOTHING : MISS_LAST_SAME);
    if (n > 1) { // Not like the one note
      cr_assert_eq(goal_miss(GOAL_AGAIN, &phrase, &again),
                   n < 3 ? MISS_AGAIN : MISS_AGAIN_OTHER);
    }
  }
}

// A root that is major first and minor then: two chords
static const Chart*
same_roots(void)
{
  static Chart      own;
  static const char bars[][8] = {"Bmaj7", "Bm7"};
  char              fault[CHART_FAULT_CAPACITY];
  chart_begin(&own, "test", (Meter){4, 4}, (Key){{0, 0}, false});
  for (unsigned i = 0; i < 2; ++i) {
    cr_assert_eq(chart_add_bar(&own, bars[i], fault), STATUS_OK, "%s", fault);
  }
  return &own;
}

typedef struct {
  char     name[32];
  unsigned n_allowed;
  uint8_t  pitches[4]; // Two in each bar: over Bmaj7 and Bm7
  Miss     miss;
} FewRow;

ParameterizedTestParameters(goal, few)
{
  static FewRow rows[] = {
    {"one root", 1, {71, 71, 71, 59}, MISS_NOTHING},
    {"one, and none of them roots", 1, {75, 75, 74, 74}, MISS_FEW_ROOT},
    {"one a chord, one no root", 1, {71, 71, 74, 74}, MISS_FEW_ROOT},
    {"two where one may be", 1, {71, 75, 71, 71}, MISS_FEW},
    {"the root and its third", 2, {71, 75, 71, 74}, MISS_NOTHING},
    {"thirds and fifths", 2, {75, 78, 74, 78}, MISS_FEW_ROOT},
    {"three may do without", 3, {75, 78, 74, 78}, MISS_NOTHING},
  };
  return cr_make_param_array(FewRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FewRow* row, goal, few, .init = load)
{
  static Phrase      phrase;
  static HearWork    work;
  const Chart* const own  = same_roots();
  const Ear          ear  = ear_usual(own, &ladder, 120.0);
  const GoalView     view = {.chart = own, .n_notes = row->n_allowed};
  Note               notes[4];
  for (unsigned i = 0; i < 4; ++i) {
    notes[i] = (Note){(Tick)i * 1920, 900, row->pitches[i], 80};
  }
  hear_phrase(&phrase, &work, &ear, notes, 4, 0, 2 * BAR);
  cr_assert_eq(goal_miss(GOAL_FEW, &phrase, &view), row->miss, "%s", row->name);
}

// What the partner keeps of an answer is a tone of the chord that it stands
// over
Test(goal, few_notes_are_kept_by_chord, .init = load)
{
  static Answer      answer;
  const Chart* const own       = same_roots();
  const FitTurn      turn      = {.ear     = ear_usual(own, &ladder, 120.0),
                                  .end     = 2 * BAR,
                                  .lowest  = 60,
                                  .highest = 84};
  static const int   pitches[] = {70, 75, 71, 69};
  for (unsigned i = 0; i < 4; ++i) {
    answer.notes[i]      = (Note){(Tick)i * 1920, 900, (uint8_t)pitches[i], 80};
    answer.grid_ticks[i] = (Tick)i * 1920;
  }
  answer.n_notes = 4;
  hear_written(&answer.heard,
               &turn.ear,
               answer.notes,
               answer.grid_ticks,
               answer.is_ornament,
               4,
               0,
               2 * BAR);
  fit_few(&answer, 2, &turn);
  for (unsigned i = 0; i < 4; ++i) {
    cr_assert_leq(answer.heard.notes[i].role, ROLE_CHORD_TONE, "%u", i);
  }
  cr_assert_leq(fit_most_notes(&answer.heard, own), 2);
  cr_assert_eq(answer.notes[3].pitch, 69); // The seventh of Bm7
}

// A cell of two keys is one of two keys wherever it is said again: else nothing
// would be there to listen for
Test(goal, cells_keep_moving, .init = load)
{
  static Phrase   cell;
  static HearWork work;
  static Answer   again;
  const Ear       ear = ear_usual(&chart.chart, &ladder, 120.0);
  for (unsigned i = 0; i < 12 * 12 * 5; ++i) {
    const uint8_t first   = (uint8_t)(60 + i % 12);
    const uint8_t then    = (uint8_t)(60 + i / 12 % 12);
    const Note    notes[] = {{0, 900, first, 80}, {960, 900, then, 80}};
    const Tick    start   = (Tick)(i / 144 + 1) * 2 * BAR;
    const FitTurn turn    = {.ear     = ear,
                             .start   = start,
                             .end     = start + 2 * BAR,
                             .lowest  = 60,
                             .highest = 84,
                             .later   = 2 * BAR};
    if (first != then) {
      hear_phrase(&cell, &work, &ear, notes, 2, 0, 2 * BAR);
      fit_again(&again, &cell, &turn);
      cr_assert_neq(again.notes[0].pitch, again.notes[1].pitch, "%u", i);
    }
  }
}

// A line that dips below the partner's range goes up as one, and rises and
// falls as it did; one too wide for the range is folded into it
Test(goal, lines_move_by_octaves_as_one, .init = load)
{
  static Phrase   line;
  static HearWork work;
  static Answer   again;
  static const struct {
    uint8_t highest;
    uint8_t was[4];
    uint8_t is[4];
  } rows[]      = {{84, {60, 58, 64, 60}, {72, 70, 76, 72}},
                   {84, {60, 64, 67, 60}, {60, 64, 67, 60}},
                   {84, {84, 88, 82, 84}, {72, 76, 70, 72}},
                   {71, {60, 58, 64, 60}, {60, 70, 64, 60}}};
  const Ear ear = ear_usual(&chart.chart, &ladder, 120.0);
  for (unsigned row = 0; row < 4; ++row) {
    const Tick    start    = 12 * BAR; // Over C7 once more
    const FitTurn turn     = {.ear     = ear,
                              .start   = start,
                              .end     = start + 2 * BAR,
                              .lowest  = 60,
                              .highest = rows[row].highest};
    Note          notes[4] = {{0}};
    for (unsigned i = 0; i < 4; ++i) {
      notes[i] = (Note){(Tick)i * 960, 900, rows[row].was[i], 80};
    }
    hear_phrase(&line, &work, &ear, notes, 4, 0, 2 * BAR);
    fit_again(&again, &line, &turn);
    for (unsigned i = 0; i < 4; ++i) {
      cr_assert_eq(again.notes[i].pitch, rows[row].is[i], "%u, %u", row, i);
    }
  }
}

// What rises or falls does so over other chords, too
Test(goal, lines_keep_their_direction, .init = load)
{
  static Phrase   line;
  static HearWork work;
  static Answer   again;
  const Ear       ear = ear_usual(&chart.chart, &ladder, 120.0);
  for (unsigned i = 0; i < 12 * 5; ++i) {
    const uint8_t pitch   = (uint8_t)(64 + i % 12);
    const Note    notes[] = {{0, 900, pitch, 80},
                             {960, 900, (uint8_t)(pitch + 2), 80},
                             {1920, 900, pitch, 80}};
    const Tick    start   = (Tick)(i / 12 + 1) * 2 * BAR;
    const FitTurn turn    = {.ear     = ear,
                             .start   = start,
                             .end     = start + 2 * BAR,
                             .lowest  = 48,
                             .highest = 96,
                             .later   = i % 2 ? 2 * BAR : 0};
    hear_phrase(&line, &work, &ear, notes, 3, 0, 2 * BAR);
    fit_again(&again, &line, &turn);
    cr_assert_gt(again.notes[1].pitch, again.notes[0].pitch, "%u", i);
    if (!turn.later) { // Else what both chords have may be too far below
      cr_assert_lt(again.notes[2].pitch, again.notes[1].pitch, "%u", i);
    }
  }
}

// A pick-up is said again if there is time for it; a first note that was early
// is not the less begun with
Test(goal, lines_begin_when_they_may, .init = load)
{
  static Phrase line;
  static Answer again;
  const Ear     ear     = ear_usual(&chart.chart, &ladder, 120.0);
  const Tick    start   = 2 * BAR;
  const Note    notes[] = {{start - 470, 400, 64, 80},
                           {start - 20, 700, 67, 80},
                           {start + 1000, 700, 60, 80}};
  const Tick    grid[]  = {start - 480, start, start + 960};
  const bool    plain[] = {false, false, false};
  hear_written(&line, &ear, notes, grid, plain, 3, start, 2 * start);
  for (unsigned may = 0; may < 2; ++may) {
    const FitTurn turn = {.ear      = ear,
                          .start    = 3 * start,
                          .earliest = 3 * start - (may ? 1440 : 0),
                          .end      = 4 * start,
                          .lowest   = 48,
                          .highest  = 96};
    fit_again(&again, &line, &turn);
    cr_assert_eq(again.n_notes, 2 + may);
    cr_assert_eq(again.notes[0].tick, 3 * start - (may ? 470 : 0));
    cr_assert_eq(again.notes[0].length, may ? 400 : 680);
    cr_assert_eq(again.notes[may].tick, 3 * start - (may ? 20 : 0));
    cr_assert_eq(again.notes[1 + may].tick, 3 * start + 1000);
  }
}

// A line that can be said again: three notes to twelve
Test(goal, lines_have_a_size, .init = load)
{
  static Phrase   phrase;
  static HearWork work;
  const Ear       ear  = ear_usual(&chart.chart, &ladder, 120.0);
  const GoalView  view = {.chart = &chart.chart};
  Note            notes[14];
  for (unsigned i = 0; i < 14; ++i) {
    notes[i] = (Note){(Tick)i * 480, 400, 60, 80};
  }
  for (unsigned n = 1; n <= 14; ++n) {
    hear_phrase(&phrase, &work, &ear, notes, n, 0, 2 * BAR);
    cr_assert_eq(goal_miss(GOAL_LINE, &phrase, &view),
                 n < 3    ? MISS_LINE_SHORT
                 : n > 12 ? MISS_LINE_LONG
                          : MISS_NOTHING,
                 "%u",
                 n);
  }
}

// To close is to end on the root of the chord, as is asked for; the tonic over
// another chord closes nothing, but is no question either
Test(goal, root_of_the_chord_closes, .init = load)
{
  static Phrase   phrase;
  static HearWork work;
  const Ear       ear  = ear_usual(&chart.chart, &ladder, 120.0);
  const GoalView  view = {.chart = &chart.chart};
  for (unsigned pitch = 60; pitch <= 65; pitch += 5) { // Over F7
    const Note note = {4 * BAR, 1800, (uint8_t)pitch, 80};
    hear_phrase(&phrase, &work, &ear, &note, 1, 4 * BAR, 6 * BAR);
    cr_assert_eq(goal_miss(GOAL_CLOSE, &phrase, &view),
                 pitch == 65 ? MISS_NOTHING : MISS_CLOSE);
    cr_assert_eq(goal_miss(GOAL_ASK, &phrase, &view), MISS_ASK);
  }
}

// C asks as the seventh of Dm7, over F7 it is home as over C7; the root of a
// diminished chord asks as well, be the chord half so, unless it is the tonic,
// and so does that of the dominant, as a half close (common practice, no
// source)
Test(goal, home_is_where_it_rests, .init = load)
{
  static const struct {
    const char* chord;
    uint8_t     last;
    Miss        miss;
  } rows[] = {{"Dm7", 60, MISS_NOTHING},
              {"Dbmaj7", 60, MISS_NOTHING},
              {"D7", 60, MISS_NOTHING},
              {"F6", 60, MISS_ASK},
              {"Am7", 60, MISS_ASK},
              {"Ebdim7", 63, MISS_NOTHING},
              {"Ebm7b5", 63, MISS_NOTHING},
              {"Ebm7", 63, MISS_ASK},
              {"G7", 67, MISS_NOTHING},
              {"Cdim7", 60, MISS_ASK}};
  static Phrase   phrase;
  static HearWork work;
  Chart           one  = chart.chart;
  const GoalView  view = {.chart = &one};
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    for (unsigned j = 0; j < one.n_changes; ++j) {
      const char* const name = rows[i].chord;
      cr_assert_eq(chord_parse(&one.changes[j].chord, name, strlen(name)), 0);
    }
    const Ear  ear  = ear_usual(&one, &ladder, 120.0);
    const Note note = {0, 1800, rows[i].last, 80};
    hear_phrase(&phrase, &work, &ear, &note, 1, 0, 2 * BAR);
    cr_assert_eq(
      goal_miss(GOAL_ASK, &phrase, &view), rows[i].miss, "%s", rows[i].chord);
  }
}

// No end, no landing, whatever tone the line passes
Test(goal, no_line_that_runs_on_has_landed, .init = load)
{
  static const struct {
    Goal goal;
    Miss miss;
  } rows[] = {{GOAL_CLOSE, MISS_CLOSE},
              {GOAL_LINE, MISS_LINE},
              {GOAL_LAST, MISS_LAST},
              {GOAL_SING, MISS_SING_LANDING}};
  static Phrase   phrase;
  static HearWork work;
  const Ear       ear  = ear_usual(&chart.chart, &ladder, 120.0);
  const Idea      line = {.n_notes = 0};
  const GoalView  view = {
     .chart = &chart.chart, .line = &line, .was_silent = true};
  const Note notes[] = {
    {0, 400, 67, 80}, {480, 400, 64, 80}, {960, 400, 60, 80}};
  hear_phrase(&phrase, &work, &ear, notes, 3, 0, 2 * BAR);
  for (unsigned i = 0; i < 8; ++i) {
    phrase.runs_on = i % 2;
    cr_assert_eq(goal_miss(rows[i / 2].goal, &phrase, &view),
                 i % 2 ? rows[i / 2].miss : MISS_NOTHING,
                 "row %u",
                 i / 2);
  }
}

// Each cause has its own words: home, outside, the same line, no landing, too
// soon
Test(goal, tells_what_was_missed, .init = load)
{
  cr_assert_eq(missed_of(GOAL_ASK, 67, true), MISS_NOTHING);
  cr_assert_eq(missed_of(GOAL_ASK, 60, true), MISS_ASK);
  cr_assert_eq(missed_of(GOAL_ASK, 66, true), MISS_ASK_OUTSIDE);
  cr_assert_eq(missed_of(GOAL_CLOSE, 67, true), MISS_CLOSE);
  cr_assert_eq(missed_of(GOAL_AGAIN, 0, true), MISS_NOTHING);
  cr_assert_eq(missed_of(GOAL_AGAIN, 67, true), MISS_AGAIN);
  cr_assert_eq(missed_of(GOAL_LAST, 0, true), MISS_LAST_SAME);
  cr_assert_eq(missed_of(GOAL_LAST, 66, true), MISS_LAST);
  cr_assert_eq(missed_of(GOAL_LAST, 60, true), MISS_NOTHING);
  cr_assert_eq(missed_of(GOAL_SING, 60, false), MISS_SING);
  cr_assert_eq(missed_of(GOAL_SING, 66, true), MISS_SING_LANDING);
}
