#include "core/band/walk.h"

#include "core/band/harmony.h"
#include "core/music/meter.h"
#include "core/music/spelling.h"

#include <assert.h>

enum {
  N_PITCHES    = BASS_HIGHEST - BASS_LOWEST + 1,
  ROOT_HIGHEST = 43, ///< G2: of a root that is looked for alone
  BARS_AHEAD   = 2,
  PLACES_MAX   = 1 + BARS_AHEAD * METER_BEATS_PER_BAR_MAX + 1,
  PATH_CENTRE  = PATH_LEAP_MAX, ///< The index of a repeat
};

/// What the notes of a line are worth, by what they are there for; tuned by
/// ear and by reading lines note by note.
static const struct {
  // On strong beats, by tone
  float root;
  float fifth;
  float third;   ///< Or what stands for it
  float seventh; ///< Or the sixth
  // The first beat of a bar that goes on with a chord has the root more often
  float root_on_one;
  // On weak beats
  float chord_tone;
  float scale_tone;
  float key_tone; ///< Of the key, not of the chord's scale
  float chromatic;
  // Towards a root
  float from_semitone_below;
  float from_semitone_above;
  float from_tone_below; ///< Where scale or key has it
  float from_tone_above;
  float from_fifth;
  // In two
  float two_fifth;
  // Register: half as much at `register_width` semitones off its middle
  double register_middle;
  double register_width;
  double pickup; ///< Chance of an approach on the last beat, in two
} WORTH = {
  .root                = 0.4F,
  .fifth               = 1.0F,
  .third               = 0.9F,
  .seventh             = 0.35F,
  .root_on_one         = 0.9F,
  .chord_tone          = 1.0F,
  .scale_tone          = 0.7F,
  .key_tone            = 0.15F,
  .chromatic           = 0.12F,
  .from_semitone_below = 1.0F,
  .from_semitone_above = 0.8F,
  .from_tone_below     = 0.6F,
  .from_tone_above     = 0.8F,
  .from_fifth          = 0.5F,
  .two_fifth           = 3.0F,
  .register_middle     = 40.0,
  .register_width      = 9.0,
  .pickup              = 0.3,
};

/// What the size of an interval is worth: semitones 0..12. A sixth is the
/// widest but for the octave.
static const float sizes[PATH_LEAP_MAX + 1] = {0.03F,
                                               1.0F,
                                               1.0F,
                                               0.8F,
                                               0.7F,
                                               0.5F,
                                               0.04F,
                                               0.35F,
                                               0.06F,
                                               0.06F,
                                               0,
                                               0,
                                               0.05F};

/// The same into a root that no approach leads to: it must be reached from
/// anywhere.
static const float root_sizes[PATH_LEAP_MAX + 1] = {0.1F,
                                                    1.0F,
                                                    1.0F,
                                                    0.8F,
                                                    0.8F,
                                                    1.0F,
                                                    0.3F,
                                                    0.7F,
                                                    0.1F,
                                                    0.1F,
                                                    0.005F,
                                                    0.005F,
                                                    0.1F};

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
  [PATH_CAME_STEP_UP]   = {0.6F, 0.5F, 0.4F, 0.5F, 1.6F, 1.2F, 0.6F},
  [PATH_CAME_STEP_DOWN] = {0.6F, 1.2F, 1.6F, 0.5F, 0.4F, 0.5F, 0.6F},
  [PATH_CAME_SKIP_UP]   = {0.4F, 0.5F, 0.8F, 0.3F, 1.2F, 1.2F, 0.4F},
  [PATH_CAME_SKIP_DOWN] = {0.4F, 1.2F, 1.2F, 0.3F, 0.8F, 0.5F, 0.4F},
  [PATH_CAME_LEAP_UP]   = {0.3F, 1.0F, 1.8F, 0.3F, 0.5F, 0.2F, 0.03F},
  [PATH_CAME_LEAP_DOWN] = {0.03F, 0.2F, 0.5F, 0.3F, 1.8F, 1.0F, 0.3F},
};

/// A place of the line and what its chord has.
typedef struct {
  Tick     tick;
  WalkRole role;
  bool     is_first_beat;
  unsigned root; ///< Pitch classes
  unsigned bass;
  unsigned fifth;
  uint16_t core; ///< Sets
  uint16_t scale;
} Place;

/// The line under way.
typedef struct {
  const Cue* cue;
  BassLine   line;
  uint16_t   key; ///< Its notes
  unsigned   n;
  Place      places[PLACES_MAX];
} Plan;

/// Whether a beat is one of the halves of a bar, or the first of any.
static bool
begins_half(const Meter meter, const Tick tick)
{
  const int weight = meter_weight(meter, tick);
  return weight == 0 || (weight == -1 && meter_beats_per_bar(meter) != 3);
}

/// Whether a chord that must be said comes at a tick: a new one, or the first
/// of the form.
static bool
arrives(const Chart* const chart, const Tick tick)
{
  return tick % chart_ticks(chart) == 0 ||
         harmony_moves(chart_chord_at(chart, tick - 1),
                       chart_chord_at(chart, tick));
}

static void
add_place(Plan* const plan, const Tick tick, const WalkRole role)
{
  const Chart* const chart = plan->cue->chart;
  const Chord* const chord = chart_chord_at(chart, tick);
  const unsigned     root  = spelling_pitch_class(chord->root);
  plan->places[plan->n++]  = (Place){
     .tick          = tick,
     .role          = role,
     .is_first_beat = tick % meter_bar_ticks(chart->meter) == 0,
     .root          = root,
     .bass          = spelling_pitch_class(chord->bass),
     .fifth         = (root + harmony_fifth(chord)) % PITCH_CLASSES,
     .core          = harmony_core(chord),
     .scale         = harmony_scale(chord),
  };
}

/// Return what a beat within a chord is there for.
static WalkRole
inner_role(const Plan* const plan, const Tick tick)
{
  const Chart* const chart = plan->cue->chart;
  const Tick         next  = tick + meter_beat_ticks(chart->meter);
  if (arrives(chart, next) && !chord_is_silence(chart_chord_at(chart, next))) {
    return WALK_APPROACH;
  }
  const bool is_long = meter_beats_per_bar(chart->meter) > 3;
  return tick % meter_bar_ticks(chart->meter) == 0 ||
             (is_long && begins_half(chart->meter, tick))
           ? WALK_STRONG
           : WALK_WEAK;
}

/// Add the place that a beat makes, if it makes one.
static void
add_beat(Plan* const plan, const Tick tick, const bool has_pickup)
{
  const Chart* const chart = plan->cue->chart;
  if (chord_is_silence(chart_chord_at(chart, tick))) {
    return;
  }
  if (arrives(chart, tick)) {
    add_place(plan, tick, WALK_ARRIVE);
    return;
  }

  const WalkRole role = inner_role(plan, tick);
  if (plan->line == BASS_LINE_WALKING) {
    add_place(plan, tick, role);
  } else if (begins_half(chart->meter, tick)) {
    add_place(plan, tick, WALK_STRONG);
  } else if (role == WALK_APPROACH && has_pickup) {
    add_place(plan, tick, role);
  }
}

/// Lay out this bar, the next, and the first beat beyond.
static void
lay_out(Plan* const plan, Rng* const rng)
{
  const Meter meter  = plan->cue->chart->meter;
  const Tick  beat   = meter_beat_ticks(meter);
  const Tick  end    = plan->cue->start + BARS_AHEAD * meter_bar_ticks(meter);
  bool        pickup = false;
  for (Tick tick = plan->cue->start; tick <= end; tick += beat) {
    if (tick % meter_bar_ticks(meter) == 0) {
      pickup = rng_unit(rng) < WORTH.pickup;
    }
    add_beat(plan, tick, pickup);
  }
  if (plan->n > 0 && plan->places[plan->n - 1].role == WALK_APPROACH) {
    plan->places[plan->n - 1].role = WALK_STRONG; // Its root is out of sight
  }
}

static PathPitch
worth_strong(const Plan* const  plan,
             const Place* const place,
             const unsigned     pitch)
{
  const unsigned class = pitch % PITCH_CLASSES;
  const bool is_two    = plan->line == BASS_LINE_TWO;
  if (!harmony_has(place->core, class)) {
    return (PathPitch){0};
  }
  if (class == place->root) {
    return (PathPitch){.weight =
                         place->is_first_beat ? WORTH.root_on_one : WORTH.root};
  }
  if (class == place->fifth) {
    return (PathPitch){.weight = is_two ? WORTH.two_fifth : WORTH.fifth};
  }
  const unsigned above = (class + PITCH_CLASSES - place->root) % PITCH_CLASSES;
  return (PathPitch){.weight = above < 9 ? WORTH.third : WORTH.seventh};
}

static PathPitch
worth_weak(const Plan* const  plan,
           const Place* const place,
           const unsigned     pitch)
{
  if (harmony_has(place->core, pitch)) {
    return (PathPitch){.weight = WORTH.chord_tone};
  }
  const float weight = harmony_has(place->scale, pitch) ? WORTH.scale_tone
                       : harmony_has(plan->key, pitch)  ? WORTH.key_tone
                                                        : WORTH.chromatic;
  return (PathPitch){.weight = weight, .leave = PATH_LEAVE_BY_STEP};
}

/// Return what a pitch is worth on the way to a root.
static PathPitch
worth_approach(const Plan* const  plan,
               const Place* const place,
               const unsigned     target,
               const unsigned     pitch)
{
  const bool is_at_home =
    harmony_has(place->scale, pitch) || harmony_has(plan->key, pitch);
  switch ((pitch + PITCH_CLASSES - target) % PITCH_CLASSES) {
    case 1:
      return (PathPitch){.weight = WORTH.from_semitone_above};
    case 2:
      return (PathPitch){.weight = is_at_home ? WORTH.from_tone_above : 0};
    case 7:
      return (PathPitch){.weight = WORTH.from_fifth};
    case 10:
      return (PathPitch){.weight = is_at_home ? WORTH.from_tone_below : 0};
    case 11:
      return (PathPitch){.weight = WORTH.from_semitone_below};
    default:
      return (PathPitch){0};
  }
}

static PathPitch
worth(const Plan* const plan, const unsigned i, const unsigned pitch)
{
  const Place* const place = &plan->places[i];
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

/// Return the weight of an interval between two places.
static float
interval_worth(const WalkRole from, const WalkRole to, const int semitones)
{
  const int size = semitones < 0 ? -semitones : semitones;
  if (from == WALK_APPROACH) {
    return is_approach(semitones) ? 1.0F : 0.0F;
  }
  return to == WALK_ARRIVE ? root_sizes[size] : sizes[size];
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

static void
write_habits(PathProblem* const problem)
{
  for (unsigned came = 0; came < PATH_CAMES; ++came) {
    for (int i = 0; i < PATH_INTERVALS; ++i) {
      problem->habits[came][i] = habit_worth(&habits[came], i - PATH_CENTRE);
    }
  }
}

/// Say that a place has one pitch, decided before.
static void
pin(PathProblem* const problem, const unsigned note, const unsigned pitch)
{
  for (unsigned i = 0; i < N_PITCHES; ++i) {
    problem->pitches[note][i] = (PathPitch){.weight = BASS_LOWEST + i == pitch};
  }
}

static void
write_place(PathProblem* const problem,
            const unsigned     note,
            const Plan* const  plan,
            const unsigned     i)
{
  for (unsigned j = 0; j < N_PITCHES; ++j) {
    const unsigned pitch = BASS_LOWEST + j;
    PathPitch      value = worth(plan, i, pitch);
    value.weight *= register_worth(pitch);
    problem->pitches[note][j] = value;
  }
  for (int j = 0; j < PATH_INTERVALS; ++j) {
    // What comes first is a root, or was decided with the bar before
    const WalkRole from = i > 0 ? plan->places[i - 1].role : WALK_ARRIVE;
    const WalkRole to   = i > 0 ? plan->places[i].role : WALK_ARRIVE;
    problem->intervals[note][j] = interval_worth(from, to, j - PATH_CENTRE);
  }
}

/// Write the problem: the last pitch, if there is one, and the places.
///
/// Returns the number of notes before the first place.
static unsigned
write_problem(Walk* const walk, const Plan* const plan)
{
  PathProblem* const problem  = &walk->problem;
  const unsigned     n_before = walk->last > 0 ? 1 : 0;
  problem->n_notes            = n_before + plan->n;
  problem->n_pitches          = N_PITCHES;
  problem->lowest             = BASS_LOWEST;
  write_habits(problem);
  for (unsigned i = 0; i < plan->n; ++i) {
    write_place(problem, n_before + i, plan, i);
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
draw_line(Walk* const       walk,
          const Plan* const plan,
          Rng* const        rng,
          uint8_t           pitches[PATH_NOTE_CAPACITY])
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
                   : (uint8_t)walk_nearest_root(walk, plan->places[i].bass);
  }
}

unsigned
walk_bar(Walk* const      walk,
         const Cue* const cue,
         const BassLine   line,
         Rng* const       rng,
         WalkNote         notes[const WALK_BAR_MAX])
{
  assert(line != BASS_LINE_PATTERN);
  Plan plan = {cue, line, harmony_of_key(cue->chart->key), 0, {{0}}};
  lay_out(&plan, rng);
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

unsigned
walk_nearest_root(const Walk* const walk, const unsigned pitch_class)
{
  const int last = walk->last > 0 ? walk->last : (int)WORTH.register_middle;

  unsigned best     = 0;
  int      distance = 0;
  for (unsigned pitch = BASS_LOWEST; pitch <= ROOT_HIGHEST; ++pitch) {
    const int its = last > (int)pitch ? last - (int)pitch : (int)pitch - last;
    if (pitch % PITCH_CLASSES == pitch_class && (best == 0 || its < distance)) {
      best     = pitch;
      distance = its;
    }
  }
  return best;
}
