#include "responder/say/pose.h"

#include "responder/say/weights.h"

#include <stdlib.h>

enum {
  OCTAVE     = 12,
  STEP_MOST  = 2, // Semitones
  THIRD_MOST = 4,
  FIFTH_MOST = 7,
};

static unsigned
kind_of_interval(const unsigned size)
{
  return size == 0            ? 0
         : size <= STEP_MOST  ? 1
         : size <= THIRD_MOST ? 2
         : size <= FIFTH_MOST ? 3
                              : 4;
}

/// Return what an interval is worth by itself: the share of its kind, shared
/// among all of that kind.
static float
interval_weight(const Frame* const frame,
                const unsigned     size,
                const bool         after_rest)
{
  static const float n_of_kind[N_INTERVAL_KINDS] = {1, 4, 4, 6, 10};
  const unsigned     kind                        = kind_of_interval(size);
  const float* const shares = frame->notes->scale_share > 0.0F
                                ? say_weights.intervals
                                : say_weights.chord_intervals;
  const float        share  = shares[kind] / n_of_kind[kind];
  return after_rest && size > STEP_MOST ? share * say_weights.after_rest
                                        : share;
}

/// Return what the hand leaves of an interval at its speed.
static float
handy(const Frame* const frame, const unsigned size, const double ms)
{
  if (ms < say_weights.fast_ms && size > frame->request->hand_span) {
    return 0.0F;
  }
  return ms < say_weights.very_fast_ms && size > FIFTH_MOST
           ? say_weights.unhandy
           : 1.0F;
}

/// Return what going another way than wished leaves of an interval.
static float
astray(const int interval, const int wish)
{
  const bool same_way =
    (interval > 0) == (wish > 0) && (interval < 0) == (wish < 0);
  return same_way ? 1.0F : say_weights.other_way;
}

/// Let a wished interval fall off to both sides.
static void
wish_interval(float       weights[const PATH_INTERVALS],
              const int   wish,
              const float fall)
{
  for (int way = -1; way <= 1; way += 2) {
    float left = fall;
    for (int i = wish + way; abs(i) <= PATH_LEAP_MAX; i += way) {
      weights[i + PATH_LEAP_MAX] *= left * astray(i, wish);
      left *= fall;
    }
  }
}

static void
pose_interval(PathProblem* const  problem,
              const Frame* const  frame,
              const Sketch* const sketch,
              const unsigned      index,
              const Pose          pose)
{
  const SketchNote* const note    = &sketch->notes[index];
  const SketchNote* const before  = &sketch->notes[index - 1];
  float* const            weights = problem->intervals[index];
  const Tick              onsets  = note->tick - before->tick;
  const bool   after_rest         = onsets - before->length >= TICKS_PER_EIGHTH;
  const double ms                 = frame_ms(frame, onsets);
  for (unsigned size = 0; size <= PATH_LEAP_MAX; ++size) {
    const float weight =
      interval_weight(frame, size, after_rest) * handy(frame, size, ms);
    weights[PATH_LEAP_MAX + size] = weight;
    weights[PATH_LEAP_MAX - size] = weight;
  }
  if (pose == POSE_ALL && note->interval_fall < NO_WISH) {
    const int apart = note->pitch - before->pitch;
    wish_interval(weights,
                  apart > OCTAVE    ? OCTAVE
                  : apart < -OCTAVE ? -OCTAVE
                                    : apart,
                  note->interval_fall);
  }
}

/// Return the habit after having come up; down is its mirror image.
static float
habit_after(const PathCame came, const int interval)
{
  const SayWeights* const w    = &say_weights;
  const unsigned          size = (unsigned)abs(interval);
  const bool              on   = interval > 0;
  if (came == PATH_CAME_STEP_UP) {
    return size == 0           ? 1.0F
           : size <= STEP_MOST ? (on ? w->step_on : w->step_back)
           : on                ? (size > THIRD_MOST ? w->step_leap_on : 1.0F)
                               : w->step_skip_back;
  }
  if (came == PATH_CAME_SKIP_UP) {
    return size == 0           ? 1.0F
           : size <= STEP_MOST ? (on ? 1.0F : w->skip_step_back)
           : !on               ? 1.0F
           : size > THIRD_MOST ? w->skip_leap_on
                               : w->skip_on;
  }
  return size == 0            ? w->leap_repeat
         : size <= STEP_MOST  ? (on ? w->leap_step_on : w->leap_step_back)
         : on                 ? w->leap_on
         : size <= THIRD_MOST ? w->leap_skip_back
                              : w->leap_leap_back;
}

static float
habit(const PathCame came, const int interval)
{
  switch (came) {
    case PATH_CAME_FIRST:
      return 1.0F;
    case PATH_CAME_REPEAT:
      return interval == 0 ? say_weights.repeat_repeat : 1.0F;
    case PATH_CAME_STEP_DOWN:
      return habit_after(PATH_CAME_STEP_UP, -interval);
    case PATH_CAME_SKIP_DOWN:
      return habit_after(PATH_CAME_SKIP_UP, -interval);
    case PATH_CAME_LEAP_DOWN:
      return habit_after(PATH_CAME_LEAP_UP, -interval);
    default:
      return habit_after(came, interval);
  }
}

void
pose_intervals(PathProblem* const  problem,
               const Frame* const  frame,
               const Sketch* const sketch,
               const Pose          pose)
{
  for (unsigned i = 1; i < sketch->n_notes; ++i) {
    pose_interval(problem, frame, sketch, i, pose);
  }
}

void
pose_habits(PathProblem* const problem)
{
  for (unsigned came = 0; came < PATH_CAMES; ++came) {
    for (int i = 0; i < PATH_INTERVALS; ++i) {
      problem->habits[came][i] = habit((PathCame)came, i - PATH_LEAP_MAX);
    }
  }
}
