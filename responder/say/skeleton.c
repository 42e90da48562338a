#include "responder/say/skeleton.h"

#include "responder/say/steps.h"
#include "responder/say/weights.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
  FOURTH     = 5, // Semitones; what is wider is a leap
  BONE_TRIES = 16,
};

typedef struct {
  double from;
  double peak;
  double to;
  double turn; ///< Where the peak stands, 0..1
} Profile;

/// What one skeleton is drawn from.
typedef struct {
  const Frame*  frame;
  const Draft*  draft;
  const Prompt* call;
  const Intent* intent;
  Profile       profile;
} Bones;

static double
within(const double x, const double least, const double most)
{
  return fmin(fmax(x, least), most);
}

static Profile
draw_profile(const Bones* const bones, const Contour contour, Rng* const rng)
{
  const SkeletonWeights* const w       = &say_weights.skeleton;
  static const int             aside[] = {-4, -2, 0, 0, 2, 4};
  const double                 low     = bones->intent->lowest + w->margin;
  const double                 high    = bones->intent->highest - w->margin;
  const double                 middle  = (low + high) / 2.0;
  const double                 from =
    within(bones->call->last_pitch + aside[rng_below(rng, 6)], low, high);
  const double turn = w->turn_least + w->turn_wide * rng_unit(rng);
  switch (contour) {
    case CONTOUR_FALL:
      return (Profile){fmax(from, middle + 3.0), middle + 1.0, low + 1.0, turn};
    case CONTOUR_RISE:
      return (Profile){fmin(from, middle - 2.0), middle, high - 1.0, turn};
    case CONTOUR_VALLEY:
      return (Profile){from, low, middle + 2.0, turn};
    case CONTOUR_ARCH:
    default:
      return (Profile){from, high, middle - 1.0, turn};
  }
}

static double
height_at(const Bones* const bones, const Tick tick)
{
  const Draft* const   draft = bones->draft;
  const Profile* const p     = &bones->profile;
  const Tick           first = draft->notes[0].tick;
  const Tick           last  = draft->notes[draft->n_notes - 1].tick;
  const double along = (double)(tick - first) / (double)(last - first + 1);
  return along < p->turn
           ? p->from + (p->peak - p->from) * along / p->turn
           : p->peak + (p->to - p->peak) * (along - p->turn) / (1.0 - p->turn);
}

/// Return what a pitch is worth as the note that the answer ends on.
static double
goal_worth(const Bones* const bones, const DraftNote* const note, const int key)
{
  const SkeletonWeights* const w      = &say_weights.skeleton;
  const unsigned               degree = draft_degree(note, key);
  const RoleRow* const         chord  = &note->chord;
  const unsigned               pc     = (unsigned)key % N_PITCH_CLASSES;
  const bool                   tonic  = pc == bones->frame->tonic;
  if (bones->frame->must_end_on_root) {
    return tonic ? 1.0 : 0.0;
  }
  if (!chord->bears[pc] || (note->ends_on_root && degree != 0) ||
      (bones->frame->must_end_open && degree == 0)) {
    return 0.0;
  }
  const bool              plain = !frame_goes_outside(bones->frame);
  const EndWeights* const end   = bones->intent->closes
                                    ? (plain ? &w->plain_closing : &w->closing)
                                    : (plain ? &w->plain_opening : &w->opening);
  const double            gain =
    bones->intent->closes && tonic && bones->frame->is_blues ? 1.5 : 1.0;
  return gain * (double)(degree == 0              ? end->root
                         : degree == chord->third ? end->third
                         : degree == chord->fifth ? end->fifth
                         : degree == chord->seventh
                           ? chord->is_major && !bones->intent->closes
                               ? end->root
                               : end->seventh
                           : end->root);
}

/// Return what a pitch is worth in the skeleton.
static double
bone_worth(const Bones* const bones, const DraftNote* const note, const int key)
{
  const SkeletonWeights* const w      = &say_weights.skeleton;
  const RoleRow* const         chord  = &note->chord;
  const unsigned               degree = draft_degree(note, key);
  const unsigned               pc     = (unsigned)key % N_PITCH_CLASSES;
  if (!chord->bears[pc]) {
    const bool colour =
      chord->roles[pc] == ROLE_SCALE_TONE && degree_is_colour(degree);
    return colour ? (double)w->colour * bones->frame->freedom : 0.0;
  }
  const bool   guide = degree == chord->third || degree == chord->seventh;
  const double gain  = !note->is_ahead ? 1.0
                       : guide         ? (double)w->guide_at_change
                                       : (double)w->other_at_change;
  return gain * (double)(degree == 0                ? w->root
                         : degree == chord->third   ? w->third
                         : degree == chord->seventh ? w->seventh
                                                    : w->fifth);
}

/// Whether a note belongs to the skeleton: a strong beat, what anticipates one,
/// the end of a phrase.
static bool
is_bone(const Bones* const bones, const unsigned i, Rng* const rng)
{
  const Frame* const     frame = bones->frame;
  const Draft* const     draft = bones->draft;
  const DraftNote* const note  = &draft->notes[i];
  if (note->ends) {
    return true;
  }
  const bool slow =
    frame_ms(frame, frame->beat) > say_weights.skeleton.slow_ms &&
    !frame_is_plain(frame);
  const Tick   step = slow ? frame->beat : frame->half;
  const Tick   past = note->tick - tick_floor(note->tick, step);
  const Tick   lead = frame->beat - frame->off;
  const bool   held = past >= step - lead && note->gap > lead + lead / 2;
  const double drop =
    (double)say_weights.skeleton.dropped * frame->freedom * frame->freedom;
  return (past == 0 || held) && rng_unit(rng) >= drop;
}

/// Return what an interval to the bone at note `i` is worth; where no note lies
/// between, it is heard, and up to rungs of scale tones a leap would be.
static double
bone_step(const Bones* const bones,
          const unsigned     i,
          const bool         is_next,
          const int          d)
{
  const double step = (double)say_weights.skeleton.steps[abs(d)];
  return is_next && frame_boldness(bones->frame) < 1.0
           ? step * steps_worth(bones->frame, bones->draft, i, d)
           : step;
}

static void
pose_bone(PathProblem* const problem,
          const Bones* const bones,
          const unsigned     place,
          const unsigned     i_note,
          const bool         is_next)
{
  const DraftNote* const note    = &bones->draft->notes[i_note];
  const bool             is_goal = i_note + 1 == bones->draft->n_notes;
  problem->begins[place]         = true; // No habit leads from bone to bone
  const double height            = height_at(bones, note->tick);
  const double width             = (double)say_weights.skeleton.contour_width;
  for (unsigned i = 0; i < problem->n_pitches; ++i) {
    const int    key = (int)(problem->lowest + i);
    const double worth =
      is_goal ? goal_worth(bones, note, key) : bone_worth(bones, note, key);
    const double away = (key - height) / width;
    const double wish =
      worth <= 0.0 ? 0.0
      : note->pitch_fall < NO_WISH
        ? pow((double)note->pitch_fall, fmin(abs(key - note->pitch), 12.0))
        : exp(-away * away);
    problem->pitches[place][i] = (PathPitch){.weight = (float)(worth * wish)};
  }
  for (int d = -PATH_LEAP_MAX; d <= PATH_LEAP_MAX; ++d) {
    problem->intervals[place][d + PATH_LEAP_MAX] =
      (float)bone_step(bones, i_note, is_next, d);
  }
}

/// Whether a pitch may be sung on the way from one note to another.
static bool
lies_between(const Bones* const bones,
             const unsigned     from,
             const unsigned     to,
             const int          key)
{
  const unsigned pc  = (unsigned)key % N_PITCH_CLASSES;
  bool           may = bones->call->classes >> pc & 1U;
  for (unsigned i = from; i <= to; ++i) {
    may = may || bones->draft->notes[i].chord.bears[pc];
  }
  return may;
}

/// Whether what leads from a bone to the next is a leap of the answer's own,
/// for want of tones between them.
static bool
has_hole(const Bones* const bones,
         const unsigned     from,
         const unsigned     to,
         const int          a,
         const int          b)
{
  const int high = a > b ? a : b;
  int       last = a > b ? b : a;
  int       hole = 0;
  for (unsigned i = from + 1; i <= to; ++i) {
    const DraftNote* const note = &bones->draft->notes[i];
    if (note->begins ||
        (note->interval_fall < NO_WISH && abs(note->interval) > FOURTH)) {
      return false;
    }
  }
  for (int key = last + 1; key <= high; ++key) {
    if (key == high || lies_between(bones, from, to, key)) {
      hole = key - last > hole ? key - last : hole;
      last = key;
    }
  }
  return hole > FOURTH;
}

/// Draw the bones; where the rung has few tones, so that they are joined.
static void
draw_joined(Melody* const         melody,
            const Bones* const    bones,
            const unsigned* const places,
            Rng* const            rng)
{
  const PathProblem* const problem = &melody->problem;
  const bool               plain   = frame_is_plain(bones->frame);
  bool                     joined  = false;
  for (unsigned t = 0; t < BONE_TRIES && !joined; ++t) {
    path_draw(&melody->solver, problem, rng, melody->drawn);
    joined = true;
    for (unsigned i = 1; i < problem->n_notes && plain; ++i) {
      joined = joined && !has_hole(bones,
                                   places[i - 1],
                                   places[i],
                                   melody->drawn[i - 1],
                                   melody->drawn[i]);
    }
  }
}

bool
skeleton_draw(Melody* const       melody,
              const Frame* const  frame,
              const Draft* const  draft,
              const Prompt* const call,
              const Intent* const intent,
              const Contour       contour,
              Rng* const          rng)
{
  PathProblem* const problem = &melody->problem;
  Bones              bones   = {
                   .frame = frame, .draft = draft, .call = call, .intent = intent};
  unsigned places[DRAFT_CAPACITY];
  bones.profile    = draw_profile(&bones, contour, rng);
  problem->n_notes = 0;
  memset(melody->anchors, 0, sizeof(melody->anchors));
  for (unsigned i = 0; i < draft->n_notes; ++i) {
    const bool is_goal = i + 1 == draft->n_notes;
    if (is_goal || (!draft->is_whole && is_bone(&bones, i, rng))) {
      const unsigned n = problem->n_notes;
      pose_bone(problem, &bones, n, i, n > 0 && places[n - 1] + 1 == i);
      places[problem->n_notes++] = i;
    }
  }
  if (path_solve(&melody->solver, problem) != STATUS_OK) {
    return false;
  }
  draw_joined(melody, &bones, places, rng);
  for (unsigned i = 0; i < problem->n_notes; ++i) {
    melody->anchors[places[i]] = melody->drawn[i];
  }
  return true;
}
