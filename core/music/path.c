#include "core/music/path.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

/// What a message that is not 0 never falls below, where the largest of its
/// place is 1. A message times three of the smallest floats stays normal.
static const double LEAST_MESSAGE = 1e-150;

static const uint8_t came_by_interval[PATH_INTERVALS] = {
  PATH_CAME_LEAP_DOWN, PATH_CAME_LEAP_DOWN, PATH_CAME_LEAP_DOWN,
  PATH_CAME_LEAP_DOWN, PATH_CAME_LEAP_DOWN, PATH_CAME_LEAP_DOWN,
  PATH_CAME_LEAP_DOWN, PATH_CAME_LEAP_DOWN, PATH_CAME_SKIP_DOWN,
  PATH_CAME_SKIP_DOWN, PATH_CAME_STEP_DOWN, PATH_CAME_STEP_DOWN,
  PATH_CAME_REPEAT,    PATH_CAME_STEP_UP,   PATH_CAME_STEP_UP,
  PATH_CAME_SKIP_UP,   PATH_CAME_SKIP_UP,   PATH_CAME_LEAP_UP,
  PATH_CAME_LEAP_UP,   PATH_CAME_LEAP_UP,   PATH_CAME_LEAP_UP,
  PATH_CAME_LEAP_UP,   PATH_CAME_LEAP_UP,   PATH_CAME_LEAP_UP,
  PATH_CAME_LEAP_UP,
};

static const double no_habit[PATH_CAMES] = {1, 1, 1, 1, 1, 1, 1, 1};

/// The habits as path_solve() reads them: all the ways of having come together.
typedef struct {
  double weights[PATH_INTERVALS][PATH_CAMES];
} Habits;

static Habits
habits_by_interval(const PathProblem* const problem)
{
  Habits habits;
  for (unsigned i = 0; i < PATH_INTERVALS; ++i) {
    for (unsigned came = 0; came < PATH_CAMES; ++came) {
      habits.weights[i][came] = (double)problem->habits[came][i];
    }
  }
  return habits;
}

/// Return the lowest pitch within an octave of another.
static unsigned
reach_first(const unsigned pitch)
{
  return pitch > PATH_LEAP_MAX ? pitch - PATH_LEAP_MAX : 0;
}

/// Return one more than the highest pitch within an octave of another.
static unsigned
reach_end(const PathProblem* const problem, const unsigned pitch)
{
  const unsigned end = pitch + PATH_LEAP_MAX + 1;
  return end < problem->n_pitches ? end : problem->n_pitches;
}

/// Return the index of an interval of an octave or less.
static unsigned
interval_index(const unsigned from, const unsigned to)
{
  return to + PATH_LEAP_MAX - from;
}

/// Return how a line that came by an interval stands at a pitch.
static unsigned
came_at(const PathProblem* const problem,
        const unsigned           place,
        const unsigned           pitch,
        const unsigned           interval)
{
  return problem->pitches[place][pitch].is_new ? PATH_CAME_FIRST
                                               : came_by_interval[interval];
}

/// Return what habit makes of an interval that arrives in some way.
static double
habit_weight(const PathProblem* const problem,
             const unsigned           came,
             const unsigned           interval,
             const unsigned           arrives)
{
  return arrives == PATH_CAME_FIRST ? 1.0
                                    : (double)problem->habits[came][interval];
}

static bool
may_follow(const PathPitch from, const PathPitch to, const PathCame came)
{
  const bool is_step = came == PATH_CAME_STEP_UP || came == PATH_CAME_STEP_DOWN;
  return from.leave == PATH_LEAVE_FREE || from.leave >= PATH_LEAVE_BY_WAYS ||
         (is_step && (from.leave == PATH_LEAVE_BY_STEP || to.is_rest));
}

/// Return what the ways of leaving one pitch and entering another make of an
/// interval.
static double
ways_weight(const PathProblem* const problem,
            const PathPitch          from,
            const PathPitch          to,
            const unsigned           interval)
{
  const double left =
    from.leave < PATH_LEAVE_BY_WAYS
      ? 1.0
      : (double)problem->ways[from.leave - PATH_LEAVE_BY_WAYS][interval];
  return to.enter == 0 ? left
                       : left * (double)problem->ways[to.enter - 1][interval];
}

/// Return the weight of the interval to a place, 0 if it may not follow.
static double
interval_weight(const PathProblem* const problem,
                const unsigned           place,
                const unsigned           from,
                const unsigned           to)
{
  const PathPitch here     = problem->pitches[place - 1][from];
  const PathPitch there    = problem->pitches[place][to];
  const unsigned  interval = interval_index(from, to);
  return may_follow(here, there, came_by_interval[interval])
           ? (double)problem->intervals[place][interval] *
               ways_weight(problem, here, there, interval)
           : 0.0;
}

/// Fill the messages of the last place.
static void
end_messages(PathSolver* const solver, const PathProblem* const problem)
{
  const unsigned place = problem->n_notes - 1;
  for (unsigned pitch = 0; pitch < problem->n_pitches; ++pitch) {
    for (unsigned came = 0; came < PATH_CAMES; ++came) {
      solver->messages[place][pitch][came] =
        (double)problem->pitches[place][pitch].weight;
    }
  }
}

/// Fill the messages of a pitch from those of the place after it.
static void
sum_messages(PathSolver* const        solver,
             const PathProblem* const problem,
             const Habits* const      habits,
             const unsigned           place,
             const unsigned           pitch)
{
  const double weight = (double)problem->pitches[place][pitch].weight;
  // A forbidden pitch need not be summed: many are, and it saves the time.
  const unsigned end = weight > 0.0 ? reach_end(problem, pitch) : 0;

  double sums[PATH_CAMES] = {0.0};
  for (unsigned to = reach_first(pitch); to < end; ++to) {
    const unsigned interval = interval_index(pitch, to);
    const unsigned arrives  = came_at(problem, place + 1, to, interval);
    const double   worth    = interval_weight(problem, place + 1, pitch, to) *
                         solver->messages[place + 1][to][arrives];
    const double* const gains =
      arrives == PATH_CAME_FIRST ? no_habit : habits->weights[interval];
    for (unsigned came = 0; came < PATH_CAMES; ++came) {
      sums[came] += worth * gains[came];
    }
  }
  for (unsigned came = 0; came < PATH_CAMES; ++came) {
    solver->messages[place][pitch][came] = weight * sums[came];
  }
}

static double
largest_message(const PathSolver* const solver,
                const unsigned          place,
                const unsigned          n_pitches)
{
  double largest[PATH_CAMES] = {0.0}; // One for each, to run side by side
  for (unsigned pitch = 0; pitch < n_pitches; ++pitch) {
    for (unsigned came = 0; came < PATH_CAMES; ++came) {
      const double message = solver->messages[place][pitch][came];
      largest[came]        = message > largest[came] ? message : largest[came];
    }
  }
  for (unsigned came = 1; came < PATH_CAMES; ++came) {
    largest[0] = largest[came] > largest[0] ? largest[came] : largest[0];
  }
  return largest[0];
}

/// Scale the messages of a place to a largest of 1, if it is not 0.
static void
scale_messages(PathSolver* const solver,
               const unsigned    place,
               const unsigned    n_pitches)
{
  const double scale = 1.0 / largest_message(solver, place, n_pitches);
  for (unsigned pitch = 0; pitch < n_pitches; ++pitch) {
    for (unsigned came = 0; came < PATH_CAMES; ++came) {
      const double message = solver->messages[place][pitch][came];
      const double scaled  = message * scale;
      const double safe    = scaled > LEAST_MESSAGE ? scaled : LEAST_MESSAGE;
      solver->messages[place][pitch][came] = message > 0.0 ? safe : 0.0;
    }
  }
}

/// Draw an index in proportion to its worth.
static unsigned
pick(Rng* const rng, const double* const worths, const unsigned n)
{
  double total = 0.0;
  for (unsigned i = 0; i < n; ++i) {
    total += worths[i];
  }

  float shares[PATH_PITCH_CAPACITY];
  for (unsigned i = 0; i < n; ++i) {
    shares[i] = (float)(worths[i] / total);
  }
  return rng_pick(rng, shares, n);
}

/// Draw the pitch of a place after one to which the line came in some way.
static unsigned
draw_next(const PathSolver* const  solver,
          const PathProblem* const problem,
          Rng* const               rng,
          const unsigned           place,
          const unsigned           pitch,
          const unsigned           came)
{
  const unsigned first = reach_first(pitch);
  const unsigned end   = reach_end(problem, pitch);

  double worths[PATH_PITCH_CAPACITY];
  for (unsigned to = first; to < end; ++to) {
    const unsigned interval = interval_index(pitch, to);
    const unsigned arrives  = came_at(problem, place, to, interval);
    worths[to - first]      = interval_weight(problem, place, pitch, to) *
                         habit_weight(problem, came, interval, arrives) *
                         solver->messages[place][to][arrives];
  }
  return first + pick(rng, worths, end - first);
}

PathCame
path_came(const int semitones)
{
  assert(-PATH_LEAP_MAX <= semitones && semitones <= PATH_LEAP_MAX);
  return came_by_interval[semitones + PATH_LEAP_MAX];
}

Status
path_solve(PathSolver* const solver, const PathProblem* const problem)
{
  const unsigned n_pitches = problem->n_pitches;
  assert(0 < problem->n_notes && problem->n_notes <= PATH_NOTE_CAPACITY);
  assert(0 < n_pitches && n_pitches <= PATH_PITCH_CAPACITY);
  assert(problem->lowest + n_pitches <= 128);

  const Habits habits = habits_by_interval(problem);
  end_messages(solver, problem);
  for (unsigned place = problem->n_notes - 1; place-- > 0;) {
    for (unsigned pitch = 0; pitch < n_pitches; ++pitch) {
      sum_messages(solver, problem, &habits, place, pitch);
    }
    scale_messages(solver, place, n_pitches);
  }

  for (unsigned pitch = 0; pitch < n_pitches; ++pitch) {
    if (solver->messages[0][pitch][PATH_CAME_FIRST] > 0.0) {
      return STATUS_OK;
    }
  }
  return STATUS_MISSING;
}

void
path_draw(const PathSolver* const  solver,
          const PathProblem* const problem,
          Rng* const               rng,
          uint8_t                  line[const PATH_NOTE_CAPACITY])
{
  double worths[PATH_PITCH_CAPACITY];
  for (unsigned i = 0; i < problem->n_pitches; ++i) {
    worths[i] = solver->messages[0][i][PATH_CAME_FIRST];
  }

  unsigned pitch = pick(rng, worths, problem->n_pitches);
  unsigned came  = PATH_CAME_FIRST;
  line[0]        = (uint8_t)(problem->lowest + pitch);
  for (unsigned place = 1; place < problem->n_notes; ++place) {
    const unsigned to = draw_next(solver, problem, rng, place, pitch, came);
    came              = came_at(problem, place, to, interval_index(pitch, to));
    pitch             = to;
    line[place]       = (uint8_t)(problem->lowest + pitch);
  }
}

double
path_log_weight(const PathProblem* const problem, const uint8_t* const line)
{
  double   log_weight = 0.0;
  unsigned came       = PATH_CAME_FIRST;
  for (unsigned place = 0; place < problem->n_notes; ++place) {
    const unsigned to = line[place] - problem->lowest; // Below it: very large
    if (to >= problem->n_pitches) {
      return -INFINITY;
    }

    double weight = (double)problem->pitches[place][to].weight;
    if (place > 0) {
      const unsigned from = line[place - 1] - problem->lowest;
      if (to < reach_first(from) || to >= reach_end(problem, from)) {
        return -INFINITY;
      }
      const unsigned interval = interval_index(from, to);
      const unsigned arrives  = came_at(problem, place, to, interval);
      weight *= interval_weight(problem, place, from, to) *
                habit_weight(problem, came, interval, arrives);
      came = arrives;
    }
    log_weight += log(weight);
  }
  return log_weight;
}
