#include "core/band/walk_worth.h"

#include "core/band/bass_tone.h"
#include "core/band/pitch_set.h"

#include <assert.h>
#include <stdlib.h>

enum {
  PATH_CENTRE = PATH_LEAP_MAX, ///< The index of a repeat
};

/// What the notes of a line are worth, by what they are there for (common
/// practice, no source; tuned by reading lines note by note).
static const struct {
  // On strong beats, by tone
  float root;
  float fifth;
  float third;   ///< Or what stands for it
  float seventh; ///< Or the sixth
  // The first beat of a bar that goes on with a chord has the root more often
  float root_on_one;
  float seventh_on_one; ///< Share that is left of the seventh there
  // On weak beats
  float chord_tone;
  float scale_tone; ///< Of the chord's scale and the key
  float scale_only; ///< Of the scale, not of the key
  float key_only;
  float chromatic;
  // Towards a root
  float from_semitone_below;
  float from_semitone_above;
  float from_tone_below; ///< Where scale or key has it
  float from_tone_above;
  float from_fifth;
  float from_afar;  ///< Share for a tone of the key that the scale lacks
  float from_clash; ///< Share for the major third of a minor chord
  // In two
  float two_root; ///< On the bar's first beat
  float two_fifth;
  // Register: half as much at `register_width` semitones off its middle
  double register_middle;
  double register_width;
} WORTH = {
  .root                = 0.4F,
  .fifth               = 1.0F,
  .third               = 0.9F,
  .seventh             = 0.35F,
  .root_on_one         = 0.9F,
  .seventh_on_one      = 0.15F,
  .chord_tone          = 1.0F,
  .scale_tone          = 0.7F,
  .scale_only          = 0.35F,
  .key_only            = 0.12F,
  .chromatic           = 0.04F,
  .from_semitone_below = 1.0F,
  .from_semitone_above = 0.8F,
  .from_tone_below     = 0.6F,
  .from_tone_above     = 0.8F,
  .from_fifth          = 0.5F,
  .from_afar           = 0.4F,
  .from_clash          = 0.03F,
  .two_root            = 4.0F,
  .two_fifth           = 8.0F,
  .register_middle     = 40.0,
  .register_width      = 11.0,
};

/// What the size of an interval is worth, in thousandths: semitones 0..12. A
/// sixth is the widest but for the octave.
static const uint16_t sizes[PATH_LEAP_MAX + 1] =
  {30, 1000, 1000, 800, 700, 500, 40, 350, 30, 30, 0, 0, 20};

/// The same into a weak beat, where it may land on a passing note: no leaps but
/// for want of another way.
static const uint16_t weak_sizes[PATH_LEAP_MAX + 1] =
  {30, 1000, 1000, 700, 500, 30, 1, 30, 1, 1, 0, 0, 5};

/// The same into a root that no approach leads to: it must be reached from
/// anywhere.
static const uint16_t root_sizes[PATH_LEAP_MAX + 1] =
  {100, 1000, 1000, 800, 800, 1000, 300, 700, 100, 100, 5, 5, 100};

/// What the next interval is worth after the last one: by direction and size,
/// from falling leaps to rising ones.
typedef struct {
  float leap_down; ///< A fourth and more
  float skip_down; ///< A third
  float step_down;
  float repeat;
  float step_up;
  float skip_up;
  float leap_up;
} Habit;

static const Habit habits[PATH_CAMES] = {
  [PATH_CAME_FIRST]     = {1.0F, 1.0F, 1.0F, 1.0F, 1.0F, 1.0F, 1.0F},
  [PATH_CAME_REPEAT]    = {1.0F, 1.0F, 1.0F, 0.0F, 1.0F, 1.0F, 1.0F},
  [PATH_CAME_STEP_UP]   = {0.6F, 0.4F, 0.2F, 0.5F, 1.6F, 1.2F, 0.6F},
  [PATH_CAME_STEP_DOWN] = {0.6F, 1.2F, 1.6F, 0.5F, 0.2F, 0.4F, 0.6F},
  [PATH_CAME_SKIP_UP]   = {0.4F, 0.1F, 0.8F, 0.3F, 1.3F, 1.2F, 0.4F},
  [PATH_CAME_SKIP_DOWN] = {0.4F, 1.2F, 1.3F, 0.3F, 0.8F, 0.1F, 0.4F},
  [PATH_CAME_LEAP_UP]   = {0.1F, 1.0F, 1.8F, 0.3F, 0.5F, 0.2F, 0.03F},
  [PATH_CAME_LEAP_DOWN] = {0.03F, 0.2F, 0.5F, 0.3F, 1.8F, 1.0F, 0.1F},
};

static PathPitch
worth_strong(const WalkPlan* const  plan,
             const WalkPlace* const place,
             const unsigned         pitch)
{
  const unsigned class = pitch % PITCH_CLASSES;
  const bool is_two    = plan->line == BASS_LINE_TWO;
  if (!pitch_set_has(place->core, class)) {
    return (PathPitch){0};
  }
  if (class == place->root) {
    const float on_one = is_two ? WORTH.two_root : WORTH.root_on_one;
    return (PathPitch){.weight = place->is_first_beat ? on_one : WORTH.root};
  }
  if (class == place->fifth) {
    return (PathPitch){.weight = is_two ? WORTH.two_fifth : WORTH.fifth};
  }
  const unsigned above = (class + PITCH_CLASSES - place->root) % PITCH_CLASSES;
  if (above < 9) {
    return (PathPitch){.weight = WORTH.third};
  }
  const float share = place->is_first_beat ? WORTH.seventh_on_one : 1.0F;
  return (PathPitch){.weight = share * WORTH.seventh};
}

/// Whether a pitch is the major third of a minor chord.
static bool
clashes(const WalkPlace* const place, const unsigned pitch)
{
  return pitch % PITCH_CLASSES == (place->root + 4) % PITCH_CLASSES &&
         pitch_set_has(place->core, place->root + 3) &&
         !pitch_set_has(place->core, pitch);
}

static PathPitch
worth_weak(const WalkPlan* const  plan,
           const WalkPlace* const place,
           const unsigned         pitch)
{
  if (pitch_set_has(place->core, pitch)) {
    return (PathPitch){.weight = WORTH.chord_tone};
  }
  const bool  in_scale = pitch_set_has(place->scale, pitch);
  const bool  in_key   = pitch_set_has(plan->key, pitch);
  const float weight   = in_scale && in_key      ? WORTH.scale_tone
                         : in_scale              ? WORTH.scale_only
                         : clashes(place, pitch) ? 0.0F
                         : in_key                ? WORTH.key_only
                                                 : WORTH.chromatic;
  return (PathPitch){.weight = weight, .leave = PATH_LEAVE_BY_STEP};
}

/// Return what a pitch a tone away from a root is worth on the way to it.
static float
tone_worth(const WalkPlan* const  plan,
           const WalkPlace* const place,
           const unsigned         pitch,
           const float            weight)
{
  if (pitch_set_has(place->scale, pitch)) {
    return weight;
  }
  return pitch_set_has(plan->key, pitch) ? weight * WORTH.from_afar : 0.0F;
}

/// Return what a pitch is worth on the way to a root.
static PathPitch
worth_approach(const WalkPlan* const  plan,
               const WalkPlace* const place,
               const unsigned         target,
               const unsigned         pitch)
{
  float weight = 0.0F;
  switch ((pitch + PITCH_CLASSES - target) % PITCH_CLASSES) {
    case 1:
      weight = WORTH.from_semitone_above;
      break;
    case 2:
      weight = tone_worth(plan, place, pitch, WORTH.from_tone_above);
      break;
    case 7:
      weight = WORTH.from_fifth;
      break;
    case 10:
      weight = tone_worth(plan, place, pitch, WORTH.from_tone_below);
      break;
    case 11:
      weight = WORTH.from_semitone_below;
      break;
    default:
      break;
  }
  weight *= clashes(place, pitch) ? WORTH.from_clash : 1.0F;
  return (PathPitch){.weight = weight};
}

static PathPitch
worth(const WalkPlan* const plan, const unsigned i, const unsigned pitch)
{
  const WalkPlace* const place = &plan->places[i];
  switch (place->role) {
    case WALK_STRONG:
      return worth_strong(plan, place, pitch);
    case WALK_WEAK:
      return worth_weak(plan, place, pitch);
    case WALK_APPROACH:
      return worth_approach(plan, place, plan->places[i + 1].bass, pitch);
    default:
      return (PathPitch){.weight = pitch % PITCH_CLASSES == place->bass};
  }
}

static float
register_worth(const unsigned pitch)
{
  const double off = (pitch - WORTH.register_middle) / WORTH.register_width;
  return (float)(1.0 / (1.0 + off * off));
}

/// Whether an approach may lead to its root by an interval.
static bool
is_approach(const int semitones)
{
  return (semitones >= -2 && semitones <= 2 && semitones != 0) ||
         semitones == 5 || semitones == -7;
}

/// Whether a root may be left by an interval to a weak beat: to a tone of the
/// chord, to one of its scale by a third, to any other by step.
static bool
may_leave_root(const WalkPlace* const root, const int semitones)
{
  const int      size = abs(semitones);
  const unsigned pitch =
    (unsigned)((int)root->bass + semitones) + PITCH_CLASSES;
  return size <= 2 || pitch_set_has(root->core, pitch) ||
         (size <= 4 && pitch_set_has(root->scale, pitch));
}

static float
thousandths(const uint16_t* const table, const int semitones)
{
  return (float)table[abs(semitones)] / 1000.0F;
}

/// Return the weight of an interval between two places.
static float
interval_worth(const WalkPlace* const from,
               const WalkPlace* const to,
               const int              semitones)
{
  if (from->role == WALK_APPROACH) {
    return is_approach(semitones) ? 1.0F : 0.0F;
  }
  if (to->role == WALK_ARRIVE) {
    return thousandths(root_sizes, semitones);
  }
  if (to->role != WALK_WEAK) {
    return thousandths(sizes, semitones);
  }
  if (from->role != WALK_ARRIVE) {
    return thousandths(weak_sizes, semitones);
  }
  return may_leave_root(from, semitones) ? thousandths(sizes, semitones) : 0.0F;
}

static float
habit_worth(const Habit* const habit, const int semitones)
{
  switch (path_came(semitones)) {
    case PATH_CAME_LEAP_DOWN:
      return habit->leap_down;
    case PATH_CAME_SKIP_DOWN:
      return habit->skip_down;
    case PATH_CAME_STEP_DOWN:
      return habit->step_down;
    case PATH_CAME_STEP_UP:
      return habit->step_up;
    case PATH_CAME_SKIP_UP:
      return habit->skip_up;
    case PATH_CAME_LEAP_UP:
      return habit->leap_up;
    default:
      return habit->repeat;
  }
}

void
walk_worth_habits(PathProblem* const problem)
{
  for (unsigned came = 0; came < PATH_CAMES; ++came) {
    for (int i = 0; i < PATH_INTERVALS; ++i) {
      problem->habits[came][i] = habit_worth(&habits[came], i - PATH_CENTRE);
    }
  }
}

void
walk_worth_place(PathProblem* const    problem,
                 const unsigned        note,
                 const WalkPlan* const plan,
                 const unsigned        place)
{
  for (unsigned i = 0; i < problem->n_pitches; ++i) {
    const unsigned pitch = BASS_LOWEST + i;
    PathPitch      value = worth(plan, place, pitch);
    value.weight *= register_worth(pitch);
    problem->pitches[note][i] = value;
  }

  // What comes first is a root, or was decided with the bar before
  const WalkPlace* const to = &plan->places[place];
  for (int i = 0; i < PATH_INTERVALS; ++i) {
    const int semitones         = i - PATH_CENTRE;
    problem->intervals[note][i] = place > 0
                                    ? interval_worth(to - 1, to, semitones)
                                    : thousandths(root_sizes, semitones);
  }
}
