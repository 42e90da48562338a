#include "core/band/walk.h"

#include "core/band/bass_tone.h"
#include "core/band/walk_worth.h"

#include <stdbool.h>

enum { N_PITCHES = BASS_HIGHEST - BASS_LOWEST + 1 };

/// Say that a place has one pitch, decided before.
static void
pin(PathProblem* const problem, const unsigned note, const unsigned pitch)
{
  for (unsigned i = 0; i < N_PITCHES; ++i) {
    problem->pitches[note][i] = (PathPitch){.weight = BASS_LOWEST + i == pitch};
  }
}

/// Write the problem: the last pitch, if there is one, and the places.
///
/// Returns the number of notes before the first place.
static unsigned
write_problem(Walk* const walk, const WalkPlan* const plan)
{
  PathProblem* const problem  = &walk->problem;
  const unsigned     n_before = walk->last > 0 ? 1 : 0;
  problem->n_notes            = n_before + plan->n;
  problem->n_pitches          = N_PITCHES;
  problem->lowest             = BASS_LOWEST;
  walk_worth_habits(problem);
  for (unsigned i = 0; i < plan->n; ++i) {
    walk_worth_place(problem, n_before + i, plan, i);
  }
  if (n_before > 0) {
    pin(problem, 0, walk->last);
  }
  if (walk->planned > 0 && walk->planned_tick == plan->places[0].tick) {
    pin(problem, n_before, walk->planned);
  }
  return n_before;
}

/// Draw the line; should what was decided before leave no way on, the roots.
static void
draw_line(Walk* const           walk,
          const WalkPlan* const plan,
          Rng* const            rng,
          uint8_t               pitches[PATH_NOTE_CAPACITY])
{
  const unsigned n_before = write_problem(walk, plan);
  uint8_t        line[PATH_NOTE_CAPACITY];
  const bool is_open = path_solve(&walk->solver, &walk->problem) == STATUS_OK;
  if (is_open) {
    path_draw(&walk->solver, &walk->problem, rng, line);
  }
  for (unsigned i = 0; i < plan->n; ++i) {
    pitches[i] = is_open
                   ? line[n_before + i]
                   : (uint8_t)bass_tone_root(plan->places[i].chord, walk->last);
  }
}

unsigned
walk_bar(Walk* const      walk,
         const Cue* const cue,
         const BassLine   line,
         Rng* const       rng,
         WalkNote         notes[const WALK_BAR_MAX])
{
  WalkPlan plan;
  walk_plan_lay_out(&plan, cue, line, rng);
  if (plan.n == 0) {
    walk->planned = 0;
    return 0;
  }

  uint8_t pitches[PATH_NOTE_CAPACITY];
  draw_line(walk, &plan, rng, pitches);
  unsigned n = 0;
  for (; n < plan.n && plan.places[n].tick < cue_end(cue); ++n) {
    notes[n] = (WalkNote){plan.places[n].tick, plan.places[n].role, pitches[n]};
    walk->last = pitches[n];
  }
  walk->planned      = n < plan.n ? pitches[n] : 0;
  walk->planned_tick = n < plan.n ? plan.places[n].tick : 0;
  return n;
}
