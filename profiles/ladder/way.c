#include "profiles/ladder/way.h"

#include <assert.h>
#include <stddef.h>

const char* const way_names[N_WAYS + 1] = {
  [WAY_ANSWER]       = "answer",
  [WAY_QUESTION]     = "question",
  [WAY_ECHO]         = "echo",
  [WAY_FEW_NOTES]    = "few notes",
  [WAY_STORY]        = "story",
  [WAY_HANDING_OVER] = "handing over",
  [WAY_SING_FIRST]   = "sing first",
  [N_WAYS]           = NULL,
};

// What suits a way where nobody asks for something else; common practice, no
// source
static const struct {
  unsigned choruses;
  unsigned bars;
} suits[N_WAYS] = {
  [WAY_ECHO]         = {.bars = 2}, // A cell, and room around it
  [WAY_FEW_NOTES]    = {.choruses = 3},
  [WAY_HANDING_OVER] = {.choruses = 3},
};

unsigned
way_choruses(const Way way)
{
  assert((unsigned)way < N_WAYS);
  return suits[way].choruses;
}

unsigned
way_bars(const Way way)
{
  assert((unsigned)way < N_WAYS);
  return suits[way].bars;
}
