#include "profiles/progress/look.h"

#include "profiles/ladder/climb.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <stdio.h>
#include <string.h>

enum { TODAY = 20000, MOST = 12 };

static JournalTotal sessions[MOST];
static JournalMoved moved[MOST];

// Practised day by day, up to today, each session with 10 turns of which so
// many came off, so many milliseconds off the beat
static JournalTotals
practise(const unsigned n, const unsigned* came_off, const unsigned* spread_ms)
{
  for (unsigned i = 0; i < n; ++i) {
    sessions[i] = (JournalTotal){
      .session.day = TODAY - (int32_t)(n - 1 - i),
      .judged      = 10,
      .successes   = (int64_t)came_off[i],
      .timed       = 10,
      .spread_us   = 10000 * (int64_t)spread_ms[i],
    };
  }
  return (JournalTotals){n, sessions};
}

// The latest first; `+` is a step up, `-` one down, `1` one down in the first
// session; each a day before the other, the latest `ago` days ago
static JournalMoves
move(const char* const text, const int32_t ago)
{
  JournalMoves moves = {strlen(text), moved};
  for (size_t i = 0; text[i]; ++i) {
    const ClimbMove climb = {.reason =
                               text[i] == '+' ? CLIMB_UP : CLIMB_DOWN_AT_ONCE,
                             .rung = {{1, 1, 1, 1}}};
    moved[i]              = (JournalMoved){.day         = TODAY - ago - (int32_t)i,
                                           .is_of_first = text[i] == '1'};
    (void)climb_text(&climb, moved[i].moved);
  }
  return moves;
}

static Look
looked(const JournalTotals totals, const JournalMoves moves, int32_t set_day)
{
  const LookView view = {&totals, &moves, set_day, TODAY};
  return look_at(&view);
}

// Steps down

typedef struct {
  char    moves[MOST];
  int32_t ago;
  char    text[64];
} FallRow;

ParameterizedTestParameters(look, falls)
{
  static FallRow rows[] = {
    {"", 0, ""},
    {"-", 0, ""},
    {"--", 0, "fell twice since 2024-10-03"},
    {"---+", 0, "fell 3 times since 2024-10-02"},
    {"-+-", 0, ""}, // It went up since
    {"-1", 0, ""},  // The first session only looks for a place
    {"--1", 0, "fell twice since 2024-10-03"},
    {"--", 12, "fell twice since 2024-09-21"}, // On the 13th and 14th day
    {"--", 13, ""},                            // One of them on the 15th
  };
  return cr_make_param_array(FallRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FallRow* row, look, falls)
{
  const unsigned      well[] = {8};
  const unsigned      even[] = {10};
  const JournalTotals totals = practise(1, well, even);
  const Look          look = looked(totals, move(row->moves, row->ago), TODAY);
  cr_assert_str_eq(look.text, row->text, "%s", row->moves);
  cr_assert_eq(look.n_reasons, row->text[0] != '\0');
}

// Drops

typedef struct {
  unsigned n;
  unsigned came_off[MOST];
  unsigned spread_ms[MOST];
  char     text[80];
} DropRow;

ParameterizedTestParameters(look, drops)
{
  static DropRow rows[] = {
    // By and by, on the lowest rung, where nothing can fall
    {7,
     {6, 5, 4, 3, 2, 1, 0},
     {8, 13, 17, 22, 27, 31, 36},
     "fewer came off: 10 % after 45 %, less in time: 31 ms after 15 ms"},
    {7, {8, 7, 9, 8, 7, 9, 8}, {8, 9, 8, 8, 8, 9, 8}, ""},
    {4, {8, 8, 5, 2}, {8, 8, 8, 8}, ""}, // 50 after 80, of 10 turns: too few
    {5, {8, 8, 5, 5, 5}, {8, 8, 8, 8, 8}, "fewer came off: 50 % after 80 %"},
    {5, {8, 8, 5, 5, 6}, {8, 8, 8, 8, 8}, ""},      // Just less than thirty
    {5, {2, 2, 8, 8, 8}, {30, 30, 9, 9, 9}, ""},    // Better
    {5, {8, 8, 8, 8, 8}, {4, 4, 13, 13, 13}, ""},   // Wider, by too little
    {5, {8, 8, 8, 8, 8}, {30, 30, 42, 42, 42}, ""}, // ... by too small a part
    {5,
     {8, 8, 8, 8, 8},
     {20, 20, 30, 30, 30},
     "less in time: 30 ms after 20 ms"},
    // Of all that was before, only the latest five count
    {9,
     {0, 8, 8, 8, 8, 8, 5, 5, 5},
     {8, 8, 8, 8, 8, 8, 8, 8, 8},
     "fewer came off: 50 % after 80 %"},
  };
  return cr_make_param_array(DropRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(DropRow* row, look, drops)
{
  const JournalTotals totals = practise(row->n, row->came_off, row->spread_ms);
  const Look          look   = looked(totals, move("", 0), TODAY);
  cr_assert_str_eq(look.text, row->text);
}

// Days

Test(look, who_is_away_or_never_came)
{
  const JournalTotals none = {0, sessions};
  cr_assert_str_eq(looked(none, move("", 0), TODAY - 6).text, "");
  cr_assert_str_eq(looked(none, move("", 0), TODAY - 10).text,
                   "never practised, set 10 days ago");

  const unsigned well[]   = {8};
  JournalTotals  away     = practise(1, well, well);
  sessions[0].session.day = TODAY - 6;
  cr_assert_str_eq(looked(away, move("", 0), 0).text, "");
  sessions[0].session.day = TODAY - 7;
  const Look look         = looked(away, move("--", 3), 0);
  cr_assert_eq(look.n_reasons, 2);
  cr_assert_str_eq(look.text,
                   "fell twice since 2024-09-30, not practised for 7 days");
}
