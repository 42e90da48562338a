#include "responder/session/pattern.h"

#include <assert.h>

enum { ROUNDS_MOST = 3, TURNS_MOST = 3, LAST_TURNS = 2 };

typedef enum { PLAYER, PARTNER, FIRST, SECOND } Whose;

typedef struct {
  Whose    whose;
  TurnTask task;
} Cell;

/// Turns that come round, and the last two of a chorus where they do not come
/// out even, by how many are left over, from one.
typedef struct {
  unsigned n;
  Cell     turns[TURNS_MOST];
  Cell     last[TURNS_MOST - 1][LAST_TURNS];
} Round;

/// A way as the rounds of its choruses, which come round too. One that runs on
/// takes no notice where a chorus begins; nor does any where a chorus is too
/// short for a round.
typedef struct {
  bool     runs_on;
  unsigned n;
  Round    choruses[ROUNDS_MOST];
} Pattern;

#define IN_TURNS(task)                                                         \
  {                                                                            \
    true, 1,                                                                   \
    {                                                                          \
      {                                                                        \
        2, {{FIRST, task}, {SECOND, task}},                                    \
        {                                                                      \
          {                                                                    \
            {                                                                  \
              0                                                                \
            }                                                                  \
          }                                                                    \
        }                                                                      \
      }                                                                        \
    }                                                                          \
  }

// Common practice, no source: the twelve bars of a blues tell A A B, four lines
// A A B A; of three turns two ask, and the third closes
static const Pattern patterns[N_WAYS] = {
  [WAY_ANSWER]   = IN_TURNS(TASK_FREE),
  [WAY_QUESTION] = {false,
                    2,
                    {{2,
                      {{PARTNER, TASK_ASK}, {PLAYER, TASK_CLOSE}},
                      {{{PLAYER, TASK_ASK}, {PARTNER, TASK_CLOSE}}}},
                     {2,
                      {{PLAYER, TASK_ASK}, {PARTNER, TASK_CLOSE}},
                      {{{PARTNER, TASK_ASK}, {PLAYER, TASK_CLOSE}}}}}},
  [WAY_ECHO] =
    {true, 1, {{2, {{PARTNER, TASK_CELL}, {PLAYER, TASK_GIVE_BACK}}, {{{0}}}}}},
  [WAY_FEW_NOTES] = IN_TURNS(TASK_FEW),
  [WAY_STORY] =
    {false,
     2,
     {{3,
       {{PARTNER, TASK_LINE}, {PLAYER, TASK_AGAIN}, {PLAYER, TASK_LAST}},
       {{{PLAYER, TASK_LAST}, {PLAYER, TASK_AGAIN}},
        {{PARTNER, TASK_LINE}, {PLAYER, TASK_LAST}}}},
      {3,
       {{PLAYER, TASK_LINE}, {PARTNER, TASK_AGAIN}, {PLAYER, TASK_LAST}},
       {{{PLAYER, TASK_LAST}, {PLAYER, TASK_AGAIN}},
        {{PLAYER, TASK_LINE}, {PLAYER, TASK_LAST}}}}}},
  [WAY_HANDING_OVER] = {false,
                        3,
                        {{1, {{PARTNER, TASK_SHOW}}, {{{0}}}},
                         {1, {{PLAYER, TASK_ALONG}}, {{{0}}}},
                         {1, {{PLAYER, TASK_ALONE}}, {{{0}}}}}},
  [WAY_SING_FIRST]   = IN_TURNS(TASK_SING),
};

static Cell
cell_of(const Pattern* const pattern, const PatternPlace at)
{
  const unsigned n = pattern->choruses[0].n;
  if (pattern->runs_on || at.places < n) {
    const Round* const round = &pattern->choruses[at.number / n % pattern->n];
    return round->turns[at.number % n];
  }
  const Round* const round = &pattern->choruses[at.chorus % pattern->n];
  const unsigned     over  = at.places % n;
  const unsigned     to_go = at.places - at.place;
  return over && to_go <= LAST_TURNS ? round->last[over - 1][LAST_TURNS - to_go]
                                     : round->turns[at.place % n];
}

PatternTurn
pattern_turn(const Way way, const PatternPlace place, const bool player_begins)
{
  assert((unsigned)way < N_WAYS);
  const Cell cell = cell_of(&patterns[way], place);
  return (PatternTurn){
    .by_player = cell.whose == PLAYER ||
                 (cell.whose == FIRST && player_begins) ||
                 (cell.whose == SECOND && !player_begins),
    .task = cell.task,
  };
}

const char*
task_name(const TurnTask task)
{
  static const char* const names[N_TASKS] = {
    [TASK_FREE]      = "answer",
    [TASK_ASK]       = "question",
    [TASK_CLOSE]     = "close",
    [TASK_CELL]      = "cell",
    [TASK_GIVE_BACK] = "echo",
    [TASK_FEW]       = "few notes",
    [TASK_LINE]      = "line",
    [TASK_AGAIN]     = "line again",
    [TASK_LAST]      = "new line",
    [TASK_SHOW]      = "chorus",
    [TASK_ALONG]     = "along",
    [TASK_ALONE]     = "alone",
    [TASK_SING]      = "sung first",
  };
  assert((unsigned)task < N_TASKS);
  return names[task];
}

unsigned
pattern_few(const unsigned chorus)
{
  return chorus < PATTERN_FEW_MOST ? chorus + 1 : PATTERN_FEW_MOST;
}

unsigned
pattern_silent_bars(const Way way)
{
  return way == WAY_SING_FIRST ? 1 : 0;
}
