#include "responder/say/line.h"

#include "responder/hear/hear.h"
#include "responder/say/weights.h"

#include <limits.h>
#include <stdlib.h>

enum {
  OCTAVE        = 12,
  STEP_MOST     = 2, // Semitones
  THIRD_MOST    = 4,
  FIFTH_MOST    = 7,
  ALL_CLASSES   = 11, // Semitones of compass that hold every pitch class
  SEVENTH_FROM  = 9,  // Semitones above the root
  STRONG_BEAT   = 0,  // A kind of place
  STEPWISE_RUNG = 5,  // Of notes: scale tones lead by step, always
};

/// How much of the sketch's wishes a problem takes up.
typedef enum {
  STRICT,
  WITHOUT_WISHES,
  BARE, ///< Chord tones only
} Strictness;

/// What is known of a place before any pitch is.
typedef struct {
  const SketchNote* note;
  RoleRow           roles;
  unsigned          n_bearing; ///< Pitch classes, besides the root
  unsigned          n_scale;
  unsigned          n_outside;
  unsigned          kind; ///< 0 strong beat, 1 beat, 2 half beat, 3 finer
  Tick              gap;  ///< To the next onset; INT64_MAX at the last
  bool              is_last;
} Place;

static unsigned
kind_of(const Frame* const frame, const Tick tick)
{
  const Tick in_beat = frame_in_beat(frame, tick);
  if (in_beat == 0) {
    return frame_weight(frame, tick) >= -1 ? 0 : 1;
  }
  return in_beat % TICKS_PER_EIGHTH == 0 ? 2 : 3;
}

static void
count_classes(Place* const place)
{
  for (unsigned pc = 0; pc < N_PITCH_CLASSES; ++pc) {
    const unsigned role = place->roles.roles[pc];
    place->n_bearing += role != ROLE_ROOT && place->roles.bears[pc] ? 1 : 0;
    place->n_scale += role == ROLE_SCALE_TONE ? 1 : 0;
    place->n_outside += role == ROLE_OUTSIDE ? 1 : 0;
  }
}

static Place
place_of(Frame* const frame, const Sketch* const sketch, const unsigned index)
{
  const SketchNote* const note    = &sketch->notes[index];
  const bool              is_last = index + 1 == sketch->n_notes;
  const Tick next = is_last ? INT64_MAX : sketch->notes[index + 1].tick;
  const Tick chord_tick =
    hear_chord_tick(frame->chart, note->tick, note->length, next);
  Place place = {
    .note    = note,
    .roles   = *frame_roles(frame, chord_tick),
    .kind    = kind_of(frame, note->tick),
    .gap     = is_last ? INT64_MAX : next - note->tick,
    .is_last = is_last,
  };
  count_classes(&place);
  return place;
}

/// Return what a root or chord tone is worth.
static float
bearing_weight(const Frame* const frame,
               const Place* const place,
               const unsigned     role)
{
  const NotesRung* const rung = frame->notes;
  const float share = (1.0F - rung->scale_share - rung->outside_share) *
                      say_weights.place_tilt[place->kind];
  const float root = place->n_bearing > 0 ? say_weights.root_share : 1.0F;
  return role == ROLE_ROOT ? share * root
                           : share * (1.0F - root) / (float)place->n_bearing;
}

static float
passing_weight(const Frame* const frame,
               const Place* const place,
               const unsigned     role)
{
  const NotesRung* const rung    = frame->notes;
  const bool             is_long = place->note->length >= frame->beat;
  const bool             is_led  = place->gap <= frame->beat;
  const float            tilt    = say_weights.passing_tilt[place->kind] *
                     (is_long ? say_weights.long_tilt : 1.0F);
  if (role == ROLE_SCALE_TONE) {
    return rung->scale_share * say_weights.scale_push * tilt *
           (is_led ? 1.0F : say_weights.loose_scale) / (float)place->n_scale;
  }
  return is_led && !is_long ? rung->outside_share * say_weights.outside_push *
                                tilt / (float)place->n_outside
                            : 0.0F;
}

static bool
must_be_root(const Frame* const frame, const Sketch* const sketch)
{
  return frame->must_end_on_root || sketch->deed.ends_on_root;
}

static float
last_weight(const Frame* const  frame,
            const Sketch* const sketch,
            const Place* const  place,
            const unsigned      pitch_class)
{
  const bool is_root = place->roles.roles[pitch_class] == ROLE_ROOT;
  if (!place->roles.bears[pitch_class] ||
      (must_be_root(frame, sketch) && !is_root)) {
    return 0.0F;
  }
  const unsigned above = (pitch_class + OCTAVE - place->roles.root) % OCTAVE;
  return is_root                 ? say_weights.last_root
         : above >= SEVENTH_FROM ? say_weights.last_seventh
                                 : 1.0F;
}

/// Return how a pitch must be left. Scale tones lead by step; off the beat
/// those that the player brought may do as the player did, once the rung has
/// the whole scale.
static PathLeave
leave_of(const Frame* const frame,
         const Place* const place,
         const unsigned     role,
         const bool         is_loose)
{
  if (role == ROLE_OUTSIDE) {
    return PATH_LEAVE_TO_REST;
  }
  const bool is_quoted = place->note->from_call && place->kind != STRONG_BEAT &&
                         place->note->pitch_fall < say_weights.pitch_loose;
  const bool is_free = frame->rung.level[DIMENSION_NOTES] > STEPWISE_RUNG &&
                       (is_quoted || is_loose);
  return role == ROLE_SCALE_TONE && !is_free ? PATH_LEAVE_BY_STEP
                                             : PATH_LEAVE_FREE;
}

/// Let a wish fall off to both sides; anything but a note that is asked for
/// loses at once.
static void
wish_pitch(PathPitch* const pitches,
           const unsigned   n_pitches,
           const int        wish,
           const float      fall)
{
  const bool  is_bound = fall < say_weights.pitch_loose;
  const float beside   = is_bound ? say_weights.pitch_beside : 1.0F;
  for (int way = -1; way <= 1; way += 2) {
    float left = beside * fall;
    for (int i = wish + way; i >= 0 && i < (int)n_pitches; i += way) {
      pitches[i].weight *= left;
      left *= fall;
    }
  }
}

static float
weight_of(const Frame* const  frame,
          const Sketch* const sketch,
          const Place* const  place,
          const unsigned      pitch_class)
{
  const unsigned role  = place->roles.roles[pitch_class];
  const bool     bears = place->roles.bears[pitch_class];
  if (sketch->deed.is_opening && place->note == sketch->notes &&
      role != ROLE_ROOT) {
    return 0.0F; // What opens from nothing opens with the root
  }
  if (place->is_last) {
    return last_weight(frame, sketch, place, pitch_class);
  }
  if (role <= ROLE_CHORD_TONE) {
    return bears ? bearing_weight(frame, place, role) : 0.0F;
  }
  return passing_weight(frame, place, role);
}

/// Wish for a note's pitch; loosely, where the rung does not have it: the line
/// had better move than stay on what is nearest.
static void
pose_wish(PathPitch* const         row,
          const PathProblem* const problem,
          const SketchNote* const  note)
{
  const int  wish = note->pitch - (int)problem->lowest;
  const bool has =
    wish >= 0 && wish < (int)problem->n_pitches && row[wish].weight > 0.0F;
  const float loose = say_weights.pitch_loose;
  const float fall = has || note->pitch_fall > loose ? note->pitch_fall : loose;
  wish_pitch(row, problem->n_pitches, wish, fall);
}

static void
pose_pitches(PathProblem* const  problem,
             const Frame* const  frame,
             const Sketch* const sketch,
             const Place* const  place,
             const unsigned      index,
             const Strictness    strictness,
             const bool          is_loose)
{
  PathPitch* const row = problem->pitches[index];
  for (unsigned i = 0; i < problem->n_pitches; ++i) {
    const unsigned pc   = (problem->lowest + i) % N_PITCH_CLASSES;
    const unsigned role = place->roles.roles[pc];
    const bool     rest = role <= ROLE_CHORD_TONE && place->roles.bears[pc];
    const bool     out  = strictness == BARE && !rest;
    row[i]              = (PathPitch){
                   .weight  = out ? 0.0F : weight_of(frame, sketch, place, pc),
                   .leave   = (uint8_t)leave_of(frame, place, role, is_loose),
                   .is_rest = rest ? 1 : 0,
    };
  }
  if (strictness == STRICT && place->note->pitch_fall < NO_WISH) {
    pose_wish(row, problem, place->note);
  }
}

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
pose_intervals(PathProblem* const  problem,
               const Frame* const  frame,
               const Sketch* const sketch,
               const unsigned      index,
               const Strictness    strictness)
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
  if (strictness == STRICT && note->interval_fall < NO_WISH) {
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

static void
pose(PathProblem* const  problem,
     Frame* const        frame,
     const Sketch* const sketch,
     const Strictness    strictness,
     Rng* const          rng)
{
  problem->n_notes = sketch->n_notes;
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    const Place place = place_of(frame, sketch, i);
    const bool  is_loose =
      strictness != STRICT || rng_unit(rng) < (double)say_weights.scale_free;
    pose_pitches(problem, frame, sketch, &place, i, strictness, is_loose);
    if (i > 0) {
      pose_intervals(problem, frame, sketch, i, strictness);
    }
  }
}

/// Move a whole sketch by octaves until its middle lies in the range.
static void
bring_into_range(Sketch* const sketch, const Frame* const frame)
{
  int sum = 0;
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    sum += sketch->notes[i].pitch;
  }
  const int mean    = sum / (int)sketch->n_notes;
  const int lowest  = (int)frame->request->lowest;
  const int highest = (int)frame->request->highest;
  int       move    = 0;
  while (mean + move < lowest && mean + move + OCTAVE <= highest) {
    move += OCTAVE;
  }
  while (mean + move > highest && mean + move - OCTAVE >= lowest) {
    move -= OCTAVE;
  }
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    sketch->notes[i].pitch = (int16_t)(sketch->notes[i].pitch + move);
  }
}

/// Draw a line that is far wider than its compass together, its shape kept.
static void
narrow(Sketch* const sketch, const int compass)
{
  int lowest  = sketch->notes[0].pitch;
  int highest = sketch->notes[0].pitch;
  for (unsigned i = 1; i < sketch->n_notes; ++i) {
    const int pitch = sketch->notes[i].pitch;
    lowest          = pitch < lowest ? pitch : lowest;
    highest         = pitch > highest ? pitch : highest;
  }
  const int wide   = highest - lowest;
  const int middle = (lowest + highest) / 2;
  for (unsigned i = 0; wide > compass + FIFTH_MOST && i < sketch->n_notes;
       ++i) {
    SketchNote* const note = &sketch->notes[i];
    note->pitch = (int16_t)(middle + (note->pitch - middle) * compass / wide);
  }
}

static int
outside_by(const int pitch, const int lowest, const int compass)
{
  return pitch < lowest             ? lowest - pitch
         : pitch > lowest + compass ? pitch - lowest - compass
                                    : 0;
}

/// Return the lowest pitch of the compass that leaves the fewest wishes
/// outside.
static int
lay_compass(const Sketch* const sketch,
            const Frame* const  frame,
            const int           compass)
{
  const int lowest  = (int)frame->request->lowest;
  const int highest = (int)frame->request->highest - compass;
  int       best    = lowest;
  int       least   = INT_MAX;
  for (int at = lowest; at <= highest; ++at) {
    int cost = 0;
    int lean = 0;
    for (unsigned i = 0; i < sketch->n_notes; ++i) {
      const int pitch = sketch->notes[i].pitch;
      cost += outside_by(pitch, at, compass);
      lean += 2 * pitch - 2 * at - compass;
    }
    cost = cost * 64 + abs(lean) / (int)sketch->n_notes;
    if (cost < least) {
      least = cost;
      best  = at;
    }
  }
  return best;
}

/// Move the notes `first` up to `end` by an octave if their middle is outside,
/// and what still is to the edge.
static void
bring_inside(Sketch* const  sketch,
             const unsigned first,
             const unsigned end,
             const int      lowest,
             const int      highest)
{
  int sum = 0;
  for (unsigned i = first; i < end; ++i) {
    sum += sketch->notes[i].pitch;
  }
  const int mean = sum / (int)(end - first);
  const int move = mean < lowest && mean + OCTAVE <= highest   ? OCTAVE
                   : mean > highest && mean - OCTAVE >= lowest ? -OCTAVE
                                                               : 0;
  for (unsigned i = first; i < end; ++i) {
    const int pitch        = sketch->notes[i].pitch + move;
    sketch->notes[i].pitch = (int16_t)(pitch < lowest    ? lowest
                                       : pitch > highest ? highest
                                                         : pitch);
  }
}

/// Bring wishes inside the compass, breath by breath.
static void
bring_all_inside(Sketch* const sketch, const int lowest, const int highest)
{
  unsigned first = 0;
  for (unsigned i = 1; i <= sketch->n_notes; ++i) {
    const bool ends = i == sketch->n_notes || sketch->notes[i].tick -
                                                  sketch->notes[i - 1].tick -
                                                  sketch->notes[i - 1].length >=
                                                TICKS_PER_EIGHTH;
    if (ends) {
      bring_inside(sketch, first, i, lowest, highest);
      first = i;
    }
  }
}

static void
set_compass(PathProblem* const problem,
            Sketch* const      sketch,
            const Frame* const frame)
{
  const int most    = (int)(frame->request->highest - frame->request->lowest);
  const int rung    = frame->notes->range;
  const int wide    = rung < ALL_CLASSES ? ALL_CLASSES : rung;
  int       compass = wide < most ? wide : most;
  compass = compass < PATH_PITCH_CAPACITY ? compass : PATH_PITCH_CAPACITY - 1;
  narrow(sketch, compass);
  bring_into_range(sketch, frame);
  const int lowest   = lay_compass(sketch, frame, compass);
  problem->lowest    = (unsigned)lowest;
  problem->n_pitches = (unsigned)compass + 1;
  bring_all_inside(sketch, lowest, lowest + compass);
}

void
line_prepare(PathProblem* const problem)
{
  for (unsigned came = 0; came < PATH_CAMES; ++came) {
    for (int i = 0; i < PATH_INTERVALS; ++i) {
      problem->habits[came][i] = habit((PathCame)came, i - PATH_LEAP_MAX);
    }
  }
}

bool
line_solve(PathProblem* const problem,
           PathSolver* const  solver,
           Frame* const       frame,
           Sketch* const      sketch,
           Rng* const         rng)
{
  set_compass(problem, sketch, frame);
  for (int strictness = STRICT; strictness <= BARE; ++strictness) {
    pose(problem, frame, sketch, (Strictness)strictness, rng);
    if (path_solve(solver, problem) == STATUS_OK) {
      return true;
    }
  }
  return false;
}
