#include "responder/say/melody.h"

#include "core/music/interval.h"
#include "responder/say/appoggiatura.h"
#include "responder/say/counts.h"
#include "responder/say/figures.h"
#include "responder/say/skeleton.h"
#include "responder/say/steps.h"
#include "responder/say/weights.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/// Ways to leave or enter a pitch: rows of the problem's `ways`.
typedef enum {
  WAY_SEMITONE_UP,
  WAY_SEMITONE,
  WAY_NEAR,       ///< A third at most
  WAY_BLUE_THIRD, ///< Up to the third, down to the second or the root
  WAY_LED,        ///< By step, seldom by a third
  WAY_SIXTH,      ///< Not by a leap
} Way;

enum {
  BLUE_THIRD    = 3,
  FOURTH        = 5,
  BLUE_FIFTH    = 6,
  SIXTH         = 9,
  NATURAL_SEVEN = 11,
};

/// What one path is posed from.
typedef struct {
  const Frame*   frame;
  const Draft*   draft;
  const Prompt*  call;
  const Intent*  intent;
  const uint8_t* anchors;
  const bool*    appoggiaturas;
  double         boldness; ///< 0 up to scale tones, 1 with notes outside
} Pose;

static void
write_ways(PathProblem* const problem)
{
  const PathWeights* const w = &say_weights.path;
  for (int d = -PATH_LEAP_MAX; d <= PATH_LEAP_MAX; ++d) {
    const unsigned i                  = (unsigned)(d + PATH_LEAP_MAX);
    const int      size               = abs(d);
    problem->ways[WAY_SEMITONE_UP][i] = d == 1 ? 1.0F : 0.0F;
    problem->ways[WAY_SEMITONE][i]    = size == 1 ? 1.0F : 0.0F;
    problem->ways[WAY_NEAR][i]        = size == 0 || size > 4 ? 0.0F
                                        : size == 1           ? 1.0F
                                                              : w->near_third;
    problem->ways[WAY_BLUE_THIRD][i]  = d == 1 ? w->blue_third_up
                                        : d == -1 || d == -3 || d == 2
                                          ? 1.0F
                                          : w->blue_third_away;
    problem->ways[WAY_LED][i]         = size == 0   ? w->led_repeated
                                        : size <= 2 ? 1.0F
                                        : size <= 4 ? w->led_by_third
                                                    : w->led_by_leap;
    problem->ways[WAY_SIXTH][i]       = size > 4 ? w->sixth_by_leap : 1.0F;
  }
}

static void
write_habits(PathProblem* const problem,
             const Frame* const frame,
             const bool         may_stay)
{
  const PathWeights* const w = &say_weights.path;
  const double             power =
    fmin((double)w->habit.least + w->habit_rise * frame->freedom,
         (double)w->habit.most);
  for (unsigned came = 0; came < PATH_CAMES; ++came) {
    for (int d = -PATH_LEAP_MAX; d <= PATH_LEAP_MAX; ++d) {
      problem->habits[came][d + PATH_LEAP_MAX] =
        (float)pow((double)counts_interval((PathCame)came, d), power);
    }
  }
  if (!may_stay) {
    problem->habits[PATH_CAME_REPEAT][PATH_LEAP_MAX] *= w->third_time;
  }
}

/// Return the worth of a pitch that is neither root nor chord tone, over a
/// dominant chord of a blues; below 0: nothing special is known of it.
static double
blues_worth(const DraftNote* const note,
            const unsigned         degree,
            const bool             beat,
            const double           boldness)
{
  const PathWeights* const w       = &say_weights.path;
  const bool               is_long = note->gap > TICKS_PER_EIGHTH * 3 / 2;
  switch (degree) {
    case BLUE_THIRD:
      return is_long ? w->blue_long
             : beat  ? (double)w->blue_on_beat
                     : (double)w->blue;
    case BLUE_FIFTH:
      return (double)w->blue_fifth;
    case SIXTH:
    case 2:
      return is_long ? w->colour_long : band_at(w->colour_short, boldness);
    case FOURTH:
      return beat || is_long ? w->fourth_long : w->fourth_short;
    case NATURAL_SEVEN:
      return beat || is_long ? 0.0 : w->natural_seven;
    default:
      return -1.0;
  }
}

static bool
is_flat_five(const DraftNote* const note, const int key)
{
  return note->chord.is_dominant && draft_degree(note, key) == BLUE_FIFTH;
}

/// Return the worth of a note outside; `blues` as blues_worth() has it.
static double
outside_worth(const Pose* const      pose,
              const DraftNote* const note,
              const int              key,
              const double           blues)
{
  const PathWeights* const w      = &say_weights.path;
  const Frame* const       frame  = pose->frame;
  const unsigned           pc     = (unsigned)key % N_PITCH_CLASSES;
  const bool               beat   = draft_is_on_beat(note);
  const bool               called = pose->call->classes >> pc & 1U;
  const bool               bold   = frame->notes->outside_share > 0.0F;
  const bool own = note->chord.own[pc] && bold && !draft_is_avoided(note, pc);
  const bool may = (bold || called) && (frame->notes->scale_share > 0.0F ||
                                        !note->chord.foreign[pc]);
  const bool led = note->gap < frame->beat * 3 / 4 && !note->ends &&
                   (!beat || (own && note->place != PLACE_STRONG_BEAT));
  const double push =
    pose->intent->shows_outside && !own ? (double)w->shown : 1.0;
  return !may || !led  ? 0.0
         : blues >= 0  ? push * blues
         : own && beat ? band_at(w->scale_beat, pose->boldness)
         : own         ? band_at(w->scale_off, pose->boldness)
                       : push * (double)w->outside;
}

/// Return the worth of a scale tone, or of a note outside.
static double
passing_worth(const Pose* const      pose,
              const DraftNote* const note,
              const int              key)
{
  const PathWeights* const w       = &say_weights.path;
  const Frame* const       frame   = pose->frame;
  const unsigned           pc      = (unsigned)key % N_PITCH_CLASSES;
  const unsigned           degree  = draft_degree(note, key);
  const bool               beat    = draft_is_on_beat(note);
  const bool               is_long = note->gap >= frame->beat * 3 / 4;
  const double             share =
    fmin((double)frame->notes->scale_share / (double)w->scale_whole, 1.0);
  const double blues = frame->is_blues && note->chord.is_dominant
                         ? blues_worth(note, degree, beat, pose->boldness)
                         : -1.0;
  if (note->chord.roles[pc] == ROLE_OUTSIDE) {
    return outside_worth(pose, note, key, blues);
  }
  if (blues >= 0.0) {
    return share * blues;
  }
  const bool   avoid  = draft_is_avoided(note, pc);
  const bool   strong = note->place == PLACE_STRONG_BEAT;
  const double place  = avoid    ? (strong            ? 0.0
                                    : beat || is_long ? (double)w->avoid_on_beat
                                                      : (double)w->avoid_off)
                        : strong ? band_at(w->scale_strong, pose->boldness)
                        : beat   ? band_at(w->scale_beat, pose->boldness)
                                 : band_at(w->scale_off, pose->boldness);
  return share * place * (is_long ? w->long_scale : 1.0);
}

/// Return the worth of a pitch that the player used, which may come back.
static double
called_worth(const Pose* const pose, const DraftNote* const note, const int key)
{
  const PathWeights* const w      = &say_weights.path;
  const unsigned           pc     = (unsigned)key % N_PITCH_CLASSES;
  const bool               called = pose->call->classes >> pc & 1U;
  const bool               beat   = draft_is_on_beat(note);
  const unsigned           degree = draft_degree(note, key);
  const bool               strong = note->place == PLACE_STRONG_BEAT;
  // Held over the beat it would be heard there
  const bool outside = note->chord.roles[pc] == ROLE_OUTSIDE &&
                       (beat || note->gap >= pose->frame->beat * 3 / 4);
  const bool avoid =
    outside || (draft_is_avoided(note, pc) && strong) ||
    (note->chord.is_dominant &&
     (degree == NATURAL_SEVEN || (degree == BLUE_THIRD && strong)));
  if (!called || note->ends || avoid || note->gap > pose->frame->beat) {
    return 0.0;
  }
  return (double)(beat ? w->called_on_beat : w->called);
}

static double
pitch_worth(const Pose* const pose, const unsigned place, const int key)
{
  const DraftNote* const note = &pose->draft->notes[place];
  const unsigned         pc   = (unsigned)key % N_PITCH_CLASSES;
  const bool             last = place + 1 == pose->draft->n_notes;
  if (last || note->chord.bears[pc]) {
    const bool square =
      note->chord.bears[pc] && note->place == PLACE_STRONG_BEAT;
    return square ? (double)say_weights.path.strong_home : 1.0;
  }
  if (is_flat_five(note, key) && (draft_is_on_beat(note) || note->begins ||
                                  note->ends || note->gap > TICKS_PER_EIGHTH)) {
    return 0.0; // It only passes
  }
  if (draft_anticipates(note) && !draft_is_home(note, key)) {
    return 0.0; // It tells what chord is coming
  }
  const double called =
    frame_goes_outside(pose->frame) ? 0.0 : called_worth(pose, note, key);
  if (frame_is_plain(pose->frame)) {
    return called;
  }
  const double worth  = fmax(passing_worth(pose, note, key), called);
  const bool   colour = degree_is_colour(draft_degree(note, key));
  return note->ends ? (colour ? say_weights.path.colour_end * worth : 0.0)
                    : worth;
}

static double
wish_worth(const Pose* const pose, const unsigned place, const int key)
{
  const PathWeights* const w    = &say_weights.path;
  const DraftNote* const   note = &pose->draft->notes[place];
  const uint8_t            bone = pose->anchors[place];
  const bool               last = place + 1 == pose->draft->n_notes;
  double                   wish = 1.0;
  if (note->pitch_fall < NO_WISH) {
    wish = pow((double)note->pitch_fall, fmin(abs(key - note->pitch), 12.0)) *
           (key != note->pitch ? (double)say_weights.pitch_beside : 1.0);
  }
  if (bone != 0 && key != bone) {
    const bool leans = pose->appoggiaturas[place] ||
                       (place > 0 && pose->appoggiaturas[place - 1]);
    wish *= last    ? 0.0
            : leans ? (double)w->off_figure
                    : band_at(w->off_bone, pose->boldness);
  }
  if (place == 0 && pose->call->source->n_notes > 0 && !pose->draft->is_whole) {
    const int away = abs(key - pose->call->last_pitch);
    wish *= away == 0 ? w->first_same : exp(-away / (double)w->first_width);
  }
  return wish;
}

/// Say how a pitch is left and entered.
static void
lead(const Pose* const pose,
     const unsigned    place,
     const int         key,
     PathPitch* const  pitch)
{
  const DraftNote* const note   = &pose->draft->notes[place];
  const unsigned         pc     = (unsigned)key % N_PITCH_CLASSES;
  const unsigned         degree = draft_degree(note, key);
  const unsigned         role   = note->chord.roles[pc];
  const bool blues = pose->frame->is_blues && note->chord.is_dominant;
  const bool last  = place + 1 == pose->draft->n_notes;
  pitch->is_rest   = role <= ROLE_CHORD_TONE;
  if (role <= ROLE_CHORD_TONE || last) {
    return;
  }
  if (is_flat_five(note, key)) {
    const bool strict = pose->frame->notes->outside_share <= 0.0F;
    pitch->leave      = PATH_LEAVE_BY_WAYS + WAY_SEMITONE_UP;
    pitch->enter      = (uint8_t)((strict ? WAY_SEMITONE : WAY_NEAR) + 1);
    return;
  }
  if (role == ROLE_OUTSIDE) {
    pitch->leave = PATH_LEAVE_TO_REST;
    pitch->enter = WAY_NEAR + 1;
    return;
  }
  const Way way = blues && degree == BLUE_THIRD      ? WAY_BLUE_THIRD
                  : blues && degree == NATURAL_SEVEN ? WAY_SEMITONE
                  : degree == SIXTH                  ? WAY_SIXTH
                                                     : WAY_LED;
  pitch->leave  = (uint8_t)(PATH_LEAVE_BY_WAYS + way);
}

/// What a pitch is worth and how it is led is alike in all octaves; wishes are
/// of a single pitch.
static void
pose_place(PathProblem* const problem,
           const Pose* const  pose,
           const unsigned     place)
{
  PathPitch* const pitches = problem->pitches[place];
  double           worths[PATH_PITCH_CAPACITY];
  for (unsigned i = 0; i < problem->n_pitches; ++i) {
    const int key = (int)(problem->lowest + i);
    if (i < N_PITCH_CLASSES) {
      worths[i]  = pitch_worth(pose, place, key);
      pitches[i] = (PathPitch){.weight = 0.0F};
      lead(pose, place, key, &pitches[i]);
    } else {
      worths[i]  = worths[i - N_PITCH_CLASSES];
      pitches[i] = pitches[i - N_PITCH_CLASSES];
    }
    pitches[i].weight = worths[i] > 0.0
                          ? (float)(worths[i] * wish_worth(pose, place, key))
                          : 0.0F;
  }
  if (pose->appoggiaturas[place]) {
    pitches[pose->anchors[place] - problem->lowest] =
      (PathPitch){.weight = 1.0F, .leave = PATH_LEAVE_TO_REST};
  }
}

/// Without a wish an interval is worth the same up and down.
static void
pose_intervals(PathProblem* const problem,
               const Pose* const  pose,
               const unsigned     place)
{
  const DraftNote* const note      = &pose->draft->notes[place];
  float* const           intervals = problem->intervals[place];
  for (int d = 0; d <= PATH_LEAP_MAX; ++d) {
    const float up = (float)steps_worth(pose->frame, pose->draft, place, d);
    intervals[PATH_LEAP_MAX + d] = up;
    intervals[PATH_LEAP_MAX - d] =
      note->interval_fall < NO_WISH
        ? (float)steps_worth(pose->frame, pose->draft, place, -d)
        : up;
  }
}

void
melody_open(Melody* const       melody,
            const Frame* const  frame,
            const Prompt* const call,
            const Manner        manner)
{
  write_ways(&melody->problem);
  write_habits(&melody->problem,
               frame,
               call->stays || frame->notes->chord_tones < 2 ||
                 manner == MANNER_TALK);
}

bool
melody_solve(Melody* const       melody,
             const Frame* const  frame,
             const Draft* const  draft,
             const Prompt* const call,
             const Intent* const intent,
             const Contour       contour,
             Rng* const          rng)
{
  PathProblem* const problem = &melody->problem;
  problem->lowest            = (unsigned)intent->lowest;
  problem->n_pitches         = (unsigned)(intent->highest - intent->lowest) + 1;
  if (!skeleton_draw(melody, frame, draft, call, intent, contour, rng)) {
    return false;
  }
  memset(melody->appoggiaturas, 0, sizeof(melody->appoggiaturas));
  if (intent->appoggiaturas && !draft->is_whole) {
    appoggiatura_draw(melody, frame, draft, rng);
  }
  const Pose pose  = {.frame         = frame,
                      .draft         = draft,
                      .call          = call,
                      .intent        = intent,
                      .anchors       = melody->anchors,
                      .appoggiaturas = melody->appoggiaturas,
                      .boldness      = frame_boldness(frame)};
  problem->n_notes = draft->n_notes;
  for (unsigned i = 0; i < draft->n_notes; ++i) {
    problem->begins[i] = draft->notes[i].begins;
    pose_place(problem, &pose, i);
    if (i > 0) {
      pose_intervals(problem, &pose, i);
    }
  }
  if (!frame_is_plain(frame) && !draft->is_whole) {
    figures_pose(problem, frame, draft, melody->anchors, rng);
  }
  return path_solve(&melody->solver, problem) == STATUS_OK;
}
