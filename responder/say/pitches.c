#include "responder/say/pose.h"

#include "responder/hear/hear.h"
#include "responder/say/weights.h"

enum {
  OCTAVE        = 12,
  SEVENTH_FROM  = 9, // Semitones above the root
  STEPWISE_RUNG = 5, // Of notes: scale tones lead by step, always
};

/// What is known of a place before any pitch is.
typedef struct {
  const SketchNote* note;
  RoleRow           roles;
  unsigned          n_bearing; ///< Pitch classes, besides the root
  unsigned          n_scale;
  unsigned          n_outside;
  FramePlace        kind;
  Tick              gap; ///< To the next onset; INT64_MAX at the last
  bool              is_last;
} Place;

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
    .kind    = frame_place(frame, note->tick),
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
  const bool is_quoted = place->note->from_call &&
                         place->kind != PLACE_STRONG_BEAT &&
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
pose_place(PathProblem* const  problem,
           const Frame* const  frame,
           const Sketch* const sketch,
           const Place* const  place,
           const unsigned      index,
           const Pose          pose,
           const bool          is_loose)
{
  PathPitch* const row = problem->pitches[index];
  for (unsigned i = 0; i < problem->n_pitches; ++i) {
    const unsigned pc   = (problem->lowest + i) % N_PITCH_CLASSES;
    const unsigned role = place->roles.roles[pc];
    const bool     rest = role <= ROLE_CHORD_TONE && place->roles.bears[pc];
    const bool     out  = pose == POSE_CHORD_TONES && !rest;
    row[i]              = (PathPitch){
                   .weight  = out ? 0.0F : weight_of(frame, sketch, place, pc),
                   .leave   = (uint8_t)leave_of(frame, place, role, is_loose),
                   .is_rest = rest ? 1 : 0,
    };
  }
  if (pose == POSE_ALL && place->note->pitch_fall < NO_WISH) {
    pose_wish(row, problem, place->note);
  }
}

void
pose_pitches(PathProblem* const  problem,
             Frame* const        frame,
             const Sketch* const sketch,
             const Pose          pose,
             Rng* const          rng)
{
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    const Place place = place_of(frame, sketch, i);
    const bool  is_loose =
      pose != POSE_ALL || rng_unit(rng) < (double)say_weights.scale_free;
    pose_place(problem, frame, sketch, &place, i, pose, is_loose);
  }
}
