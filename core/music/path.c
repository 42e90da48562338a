#include "core/music/path.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

enum { STEP_MOST = 2 };

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

// Intervals as PathLeave and `enter` weigh them, like rows of `ways`
static const float freely[PATH_INTERVALS] = {
  1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1};
static const float by_step[PATH_INTERVALS] = {[PATH_LEAP_MAX - 2] = 1,
                                              [PATH_LEAP_MAX - 1] = 1,
                                              [PATH_LEAP_MAX + 1] = 1,
                                              [PATH_LEAP_MAX + 2] = 1};

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

/// Return the place among the open pitches of the first from a pitch on.
static unsigned
first_open(const PathOpen* const open, const unsigned pitch)
{
  unsigned i = 0;
  while (i < open->n && open->pitches[i] < pitch) {
    ++i;
  }
  return i;
}

/// Return the index of an interval of an octave or less.
static unsigned
interval_index(const unsigned from, const unsigned to)
{
  return to + PATH_LEAP_MAX - from;
}

static bool
begins_at(const PathProblem* const problem, const unsigned place)
{
  return place == 0 || problem->begins[place];
}

/// Return how a line that came by an interval stands at a place.
static unsigned
came_at(const PathProblem* const problem,
        const unsigned           place,
        const unsigned           interval)
{
  return begins_at(problem, place) ? PATH_CAME_FIRST
                                   : came_by_interval[interval];
}

/// Return what habit makes of an interval to a place.
static double
habit_weight(const PathProblem* const problem,
             const unsigned           place,
             const unsigned           came,
             const unsigned           interval)
{
  return begins_at(problem, place) ? 1.0
                                   : (double)problem->habits[came][interval];
}

/// How a line may go on from a pitch.
typedef struct {
  unsigned     lowest; ///< The pitches of the next place that are in reach
  unsigned     highest;
  bool         to_rest;
  const float* row;       ///< What each interval is worth by how it leaves
  const float* intervals; ///< ... and by where it leads
} Leaving;

static Leaving
leave(const PathProblem* const problem,
      const unsigned           place,
      const unsigned           pitch)
{
  const unsigned how   = problem->pitches[place][pitch].leave;
  const bool     steps = how == PATH_LEAVE_BY_STEP || how == PATH_LEAVE_TO_REST;
  const unsigned reach = steps ? STEP_MOST : PATH_LEAP_MAX;
  return (Leaving){.lowest    = pitch > reach ? pitch - reach : 0,
                   .highest   = pitch + reach,
                   .to_rest   = how == PATH_LEAVE_TO_REST,
                   .row       = how == PATH_LEAVE_FREE ? freely
                                : steps                ? by_step
                                        : problem->ways[how - PATH_LEAVE_BY_WAYS],
                   .intervals = problem->intervals[place + 1]};
}

/// Return the weight of an interval that comes to a pitch, 0 if it may not.
static inline double
interval_weight(const PathProblem* const problem,
                const Leaving* const     leaving,
                const PathPitch          to,
                const unsigned           interval)
{
  const double weight =
    (double)leaving->intervals[interval] * (double)leaving->row[interval];
  return leaving->to_rest && !to.is_rest ? 0.0
         : to.enter == 0
           ? weight
           : weight * (double)problem->ways[to.enter - 1][interval];
}

/// Find the pitches of a place that are not forbidden: many are, and it saves
/// the time.
static void
open_place(PathOpen* const          open,
           const PathProblem* const problem,
           const unsigned           place)
{
  open->n = 0;
  for (unsigned pitch = 0; pitch < problem->n_pitches; ++pitch) {
    if (problem->pitches[place][pitch].weight > 0.0F) {
      open->pitches[open->n++] = (uint8_t)pitch;
    }
  }
}

/// Fill the messages of the last place.
static void
end_messages(PathSolver* const solver, const PathProblem* const problem)
{
  const unsigned        place = problem->n_notes - 1;
  const PathOpen* const open  = &solver->open[place];
  for (unsigned i = 0; i < open->n; ++i) {
    const unsigned pitch = open->pitches[i];
    for (unsigned came = 0; came < PATH_CAMES; ++came) {
      solver->messages[place][pitch][came] =
        (double)problem->pitches[place][pitch].weight;
    }
  }
}

/// For each way of having come to a pitch, what may follow it.
typedef struct {
  double by_came[PATH_CAMES];
} Sums;

static Sums
sum_by_came(const PathSolver* const  solver,
            const PathProblem* const problem,
            const Habits* const      habits,
            const unsigned           place,
            const unsigned           pitch)
{
  Sums                  sums    = {{0.0}};
  const PathOpen* const next    = &solver->open[place + 1];
  const Leaving         leaving = leave(problem, place, pitch);
  for (unsigned i = first_open(next, leaving.lowest);
       i < next->n && next->pitches[i] <= leaving.highest;
       ++i) {
    const unsigned to       = next->pitches[i];
    const unsigned interval = interval_index(pitch, to);
    const double   worth =
      interval_weight(
        problem, &leaving, problem->pitches[place + 1][to], interval) *
      solver->messages[place + 1][to][came_by_interval[interval]];
    for (unsigned came = 0; came < PATH_CAMES; ++came) {
      sums.by_came[came] += worth * habits->weights[interval][came];
    }
  }
  return sums;
}

/// Sum what may follow a pitch at which, or after which, a phrase begins:
/// however the line came to it, it is the same.
static Sums
sum_of_all(const PathSolver* const  solver,
           const PathProblem* const problem,
           const unsigned           place,
           const unsigned           pitch)
{
  const PathOpen* const next    = &solver->open[place + 1];
  const Leaving         leaving = leave(problem, place, pitch);
  double                sum     = 0.0;
  for (unsigned i = first_open(next, leaving.lowest);
       i < next->n && next->pitches[i] <= leaving.highest;
       ++i) {
    const unsigned to       = next->pitches[i];
    const unsigned interval = interval_index(pitch, to);
    sum += interval_weight(
             problem, &leaving, problem->pitches[place + 1][to], interval) *
           solver->messages[place + 1][to][came_by_interval[interval]] *
           habit_weight(problem, place + 1, PATH_CAME_FIRST, interval);
  }
  return (Sums){{sum, sum, sum, sum, sum, sum, sum, sum}};
}

/// Fill the messages of a place from those of the place after it.
static void
fill_messages(PathSolver* const        solver,
              const PathProblem* const problem,
              const Habits* const      habits,
              const unsigned           place)
{
  const PathOpen* const open = &solver->open[place];
  const bool alike = begins_at(problem, place) || begins_at(problem, place + 1);
  for (unsigned i = 0; i < open->n; ++i) {
    const unsigned pitch    = open->pitches[i];
    const double   weight   = (double)problem->pitches[place][pitch].weight;
    double* const  messages = solver->messages[place][pitch];
    const Sums     sums     = alike
                                ? sum_of_all(solver, problem, place, pitch)
                                : sum_by_came(solver, problem, habits, place, pitch);
    for (unsigned came = 0; came < PATH_CAMES; ++came) {
      messages[came] = weight * sums.by_came[came];
    }
  }
}

static double
largest_message(const PathSolver* const solver, const unsigned place)
{
  const PathOpen* const open                = &solver->open[place];
  double                largest[PATH_CAMES] = {0.0}; // To run side by side
  for (unsigned i = 0; i < open->n; ++i) {
    for (unsigned came = 0; came < PATH_CAMES; ++came) {
      const double message = solver->messages[place][open->pitches[i]][came];
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
scale_messages(PathSolver* const solver, const unsigned place)
{
  const PathOpen* const open  = &solver->open[place];
  const double          scale = 1.0 / largest_message(solver, place);
  for (unsigned i = 0; i < open->n; ++i) {
    double* const messages = solver->messages[place][open->pitches[i]];
    for (unsigned came = 0; came < PATH_CAMES; ++came) {
      const double scaled = messages[came] * scale;
      const double safe   = scaled > LEAST_MESSAGE ? scaled : LEAST_MESSAGE;
      messages[came]      = messages[came] > 0.0 ? safe : 0.0;
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
  const PathOpen* const open    = &solver->open[place];
  const Leaving         leaving = leave(problem, place - 1, pitch);
  const unsigned        first   = first_open(open, leaving.lowest);

  double   worths[PATH_PITCH_CAPACITY];
  unsigned n = 0;
  for (unsigned i = first; i < open->n && open->pitches[i] <= leaving.highest;
       ++i) {
    const unsigned to       = open->pitches[i];
    const unsigned interval = interval_index(pitch, to);
    worths[n++] =
      interval_weight(
        problem, &leaving, problem->pitches[place][to], interval) *
      habit_weight(problem, place, came, interval) *
      solver->messages[place][to][came_at(problem, place, interval)];
  }
  return open->pitches[first + pick(rng, worths, n)];
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
  for (unsigned place = 0; place < problem->n_notes; ++place) {
    open_place(&solver->open[place], problem, place);
  }
  end_messages(solver, problem);
  for (unsigned place = problem->n_notes - 1; place-- > 0;) {
    fill_messages(solver, problem, &habits, place);
    scale_messages(solver, place);
  }

  const PathOpen* const open = &solver->open[0];
  for (unsigned i = 0; i < open->n; ++i) {
    if (solver->messages[0][open->pitches[i]][PATH_CAME_FIRST] > 0.0) {
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
  const PathOpen* const open = &solver->open[0];
  double                worths[PATH_PITCH_CAPACITY];
  for (unsigned i = 0; i < open->n; ++i) {
    worths[i] = solver->messages[0][open->pitches[i]][PATH_CAME_FIRST];
  }

  unsigned pitch = open->pitches[pick(rng, worths, open->n)];
  unsigned came  = PATH_CAME_FIRST;
  line[0]        = (uint8_t)(problem->lowest + pitch);
  for (unsigned place = 1; place < problem->n_notes; ++place) {
    const unsigned to = draw_next(solver, problem, rng, place, pitch, came);
    came              = came_at(problem, place, interval_index(pitch, to));
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
      if (to + PATH_LEAP_MAX < from || to > from + PATH_LEAP_MAX) {
        return -INFINITY;
      }
      const Leaving  leaving  = leave(problem, place - 1, from);
      const unsigned interval = interval_index(from, to);
      weight *= interval_weight(
                  problem, &leaving, problem->pitches[place][to], interval) *
                habit_weight(problem, place, came, interval);
      came = came_at(problem, place, interval);
    }
    log_weight += log(weight);
  }
  return log_weight;
}
