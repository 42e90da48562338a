#include "responder/say/perform.h"

#include "responder/hear/hear.h"
#include "responder/say/grace.h"
#include "responder/say/pulse.h"
#include "responder/say/rhythm.h"
#include "responder/say/weights.h"

#include <math.h>
#include <stdlib.h>

enum {
  VELOCITY_MOST  = 127,
  N_GRACE_IOIS   = 3, // The note after lasts so many ornaments, or more
  SOUND_LEAST_MS = 50,
};

/// Where everything falls.
typedef struct {
  Tick  ticks[SKETCH_CAPACITY]; ///< As they sound
  Grace graces[SKETCH_CAPACITY];
  Tick  grace_ticks; ///< Of one ornament note
} Score;

/// How loud it is.
typedef struct {
  double   softest;
  double   range;
  unsigned lowest; ///< Pitches of the line
  unsigned highest;
} Dynamics;

/// Return the tick where a note must stop: at the next one's ornament, or the
/// turn's end.
static Tick
stop_of(const Score* const  score,
        const Frame* const  frame,
        const Sketch* const sketch,
        const unsigned      index)
{
  const unsigned next = index + 1;
  return next == sketch->n_notes
           ? frame->end
           : score->ticks[next] -
               (Tick)score->graces[next].n_notes * score->grace_ticks;
}

/// Return how many ornament notes there is time for before a note.
static unsigned
grace_room(const Score* const  score,
           const Frame* const  frame,
           const Sketch* const sketch,
           const unsigned      index)
{
  const Tick     tick = score->ticks[index];
  const unsigned fine = frame->rhythm->sixteenths ? 1 : 0;
  const Tick     keep = frame_ticks(frame, say_weights.ornament_room_ms[fine]);
  const Tick from = index == 0 ? frame->start : score->ticks[index - 1] + keep;
  const Tick next = index + 1 < sketch->n_notes
                      ? score->ticks[index + 1]
                      : tick + sketch->notes[index].length;
  const Tick ioi  = next - tick;
  const Tick room = (tick - from) / score->grace_ticks;
  const Tick fair = ioi / (2 * score->grace_ticks); // Half of the note itself
  const Tick most = room < fair ? room : fair;
  return most <= 0 || ioi <= N_GRACE_IOIS * score->grace_ticks ? 0
         : most > GRACE_CAPACITY                               ? GRACE_CAPACITY
                                                               : (unsigned)most;
}

static Tick
chord_tick_of(const Frame* const  frame,
              const Sketch* const sketch,
              const unsigned      index)
{
  const SketchNote* const note = &sketch->notes[index];
  const Tick              next =
    index + 1 < sketch->n_notes ? sketch->notes[index + 1].tick : INT64_MAX;
  return hear_chord_tick(frame->chart, note->tick, note->length, next);
}

/// Return how many ornaments a written note is to have.
static double
grace_share(const Frame* const frame, const Sketch* const sketch)
{
  const int    richer = frame->ornament->approaches + frame->ornament->turns;
  const double share  = (double)frame->ornament->crushed_share *
                       (1.0 + richer * (double)say_weights.richer_ornament);
  const double least = (double)say_weights.ornament_move;
  return sketch->facts.move == MOVE_ORNAMENT && share < least ? least : share;
}

static bool
add_grace(Score* const         score,
          Frame* const         frame,
          const Sketch* const  sketch,
          const uint8_t* const line,
          const unsigned       index,
          const unsigned       most,
          Rng* const           rng)
{
  const unsigned       fits = grace_room(score, frame, sketch, index);
  const unsigned       room = fits < most ? fits : most;
  const Tick           tick = chord_tick_of(frame, sketch, index);
  const RoleRow* const row  = frame_roles(frame, tick);
  const bool           bears =
    row->roles[line[index] % N_PITCH_CLASSES] <= ROLE_CHORD_TONE;
  const bool again = index > 0 && score->graces[index - 1].n_notes > 0;
  if (!bears || again) {
    return false;
  }
  const Grace grace   = grace_choose(frame, tick, line[index], room, rng);
  const int   reach   = index > 0 ? abs(grace.pitches[0] - line[index - 1])
                                  : 0; // From the note before
  const bool  repeats = index > 0 && reach == 0;
  if (grace.n_notes == 0 || repeats || reach > (int)frame->request->hand_span) {
    return false;
  }
  score->graces[index] = grace;
  return true;
}

/// Strew ornaments: none in most answers, one or, where turns are allowed, two;
/// the move that is about them has one at least.
static void
add_graces(Score* const         score,
           Frame* const         frame,
           const Sketch* const  sketch,
           const uint8_t* const line,
           Rng* const           rng)
{
  const bool   must       = sketch->facts.move == MOVE_ORNAMENT;
  const double share      = grace_share(frame, sketch);
  const double notes      = share * sketch->n_notes;
  const double most       = (double)say_weights.graced;
  const double chance     = must ? 1.0 : notes < most ? notes : most;
  unsigned     most_notes = GRACE_CAPACITY;
  unsigned     left       = frame->ornament->turns ? 2 : 1;
  score->grace_ticks      = grace_ticks(frame);
  if (rng_unit(rng) >= chance) {
    return;
  }
  const unsigned from = rng_below(rng, sketch->n_notes);
  for (unsigned k = 0; k < sketch->n_notes && left > 0; ++k) {
    const unsigned i      = (from + k) % sketch->n_notes;
    const bool     strong = frame_in_beat(frame, sketch->notes[i].tick) == 0;
    const bool     inner  = i + 1 < sketch->n_notes;
    if (strong && (inner || rng_unit(rng) < say_weights.graced_end) &&
        add_grace(score, frame, sketch, line, i, most_notes, rng)) {
      const bool may = left > 1 && score->graces[i].n_notes == 1;
      left       = may && rng_below(rng, say_weights.graced_twice) == 0 ? 1 : 0;
      most_notes = 1; // Two in all
    }
  }
  bool any = false;
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    any = any || score->graces[i].n_notes > 0;
  }
  for (unsigned i = sketch->n_notes; must && !any && i-- > 0;) {
    any = add_grace(score, frame, sketch, line, i, GRACE_CAPACITY, rng);
  }
}

/// Return how loud the player was, softest to loudest, and how high the line
/// goes; a narrow range of loudness is widened.
static Dynamics
dynamics_of(const Phrase* const  call,
            const uint8_t* const line,
            const unsigned       n_notes)
{
  double soft = (double)say_weights.soft;
  double loud = (double)say_weights.loud;
  for (unsigned i = 0; i < call->n_notes; ++i) {
    const double velocity = call->notes[i].note.velocity;
    soft                  = i == 0 || velocity < soft ? velocity : soft;
    loud                  = i == 0 || velocity > loud ? velocity : loud;
  }
  const double narrow = (double)say_weights.dynamic_least - (loud - soft);
  const double wider  = narrow > 0.0 ? narrow / 2.0 : 0.0;
  soft                = fmax(soft - wider, 1.0);
  loud                = fmin(loud + wider, (double)VELOCITY_MOST);

  Dynamics dynamics = {soft, loud - soft, line[0], line[0]};
  for (unsigned i = 1; i < n_notes; ++i) {
    dynamics.lowest  = line[i] < dynamics.lowest ? line[i] : dynamics.lowest;
    dynamics.highest = line[i] > dynamics.highest ? line[i] : dynamics.highest;
  }
  return dynamics;
}

/// Return a pitch's height among those of its line, -1..1.
static double
height_in(const Dynamics* const dynamics, const unsigned pitch)
{
  const double range = (double)dynamics->highest - dynamics->lowest;
  return range > 0.0 ? 2.0 * (pitch - dynamics->lowest) / range - 1.0 : 0.0;
}

static uint8_t
velocity_of(const Dynamics* const dynamics,
            const Frame* const    frame,
            const Sketch* const   sketch,
            const uint8_t* const  line,
            const unsigned        index,
            Rng* const            rng)
{
  const unsigned n      = sketch->n_notes;
  const double   along  = n > 1 ? (double)index / (double)(n - 1) : 0.5;
  const double   arch   = 1.0 - 4.0 * (along - 0.5) * (along - 0.5);
  const Tick     tick   = sketch->notes[index].tick;
  const double   chance = 2.0 * rng_unit(rng) - 1.0;
  const bool     ends   = index + 1 == n;
  const double   share =
    0.5 + (double)say_weights.stress_beat[frame_place(frame, tick)] +
    (double)say_weights.stress_height * height_in(dynamics, line[index]) +
    (double)say_weights.stress_arch * (arch - 0.5) +
    (double)say_weights.stress_by_chance * chance +
    (ends ? (double)say_weights.stress_end : 0.0);
  const double within = fmin(fmax(share, 0.0), 1.0);
  return (uint8_t)lround(dynamics->softest + within * dynamics->range);
}

/// Return what share of its slot an inner note sounds: more unlike each other
/// the more human it is, and short where it is long and off the beat.
static double
touch_of(const Frame* const  frame,
         const Sketch* const sketch,
         const unsigned      index,
         Rng* const          rng)
{
  const TimeWeights* const w       = &time_weights;
  const SketchNote* const  note    = &sketch->notes[index];
  const double             human   = pulse_human(frame);
  const bool               is_long = frame_in_beat(frame, note->tick) != 0 &&
                       note[1].tick - note->tick >= frame->beat;
  const double usual =
    (double)(is_long ? w->long_off_beat : say_weights.legato);
  const double share = (double)say_weights.legato +
                       human * (usual - (double)say_weights.legato) +
                       human * (double)w->touch_spread * pulse_deviate(rng);
  return fmin(fmax(share, (double)w->shortest), (double)w->longest);
}

/// Return how long a note sounds: nearly its slot, less before a rest.
static Tick
sound_of(const Frame* const  frame,
         const Sketch* const sketch,
         const unsigned      index,
         const Tick          slot,
         Rng* const          rng)
{
  const SketchNote* const note  = &sketch->notes[index];
  const bool              rests = index + 1 == sketch->n_notes ||
                     sketch->notes[index + 1].tick > note->tick + note->length;
  const double length = rests
                          ? (double)note->length * (double)say_weights.group_end
                          : (double)slot * touch_of(frame, sketch, index, rng);
  const Tick   least  = frame_ticks(frame, SOUND_LEAST_MS);
  const Tick   sound  = (Tick)length > least ? (Tick)length : least;
  return sound < slot ? sound : slot > 1 ? slot : 1;
}

static void
emit(Answer* const answer,
     const Note    note,
     const Tick    written,
     const bool    grace)
{
  if (answer->n_notes < ANSWER_CAPACITY) {
    const unsigned n       = answer->n_notes++;
    answer->notes[n]       = note;
    answer->grid_ticks[n]  = written;
    answer->is_ornament[n] = grace;
  }
}

static void
emit_graces(Answer* const      answer,
            const Score* const score,
            const unsigned     index,
            const Tick         written,
            const uint8_t      velocity)
{
  const Grace* const grace = &score->graces[index];
  for (unsigned i = 0; i < grace->n_notes; ++i) {
    const Tick before = (Tick)(grace->n_notes - i) * score->grace_ticks;
    const Note note   = {.tick     = score->ticks[index] - before,
                         .length   = score->grace_ticks,
                         .pitch    = grace->pitches[i],
                         .velocity = velocity};
    emit(answer, note, written, true);
  }
}

void
perform(Answer* const        answer,
        Frame* const         frame,
        const Sketch* const  sketch,
        const uint8_t* const line,
        Rng* const           rng)
{
  Score score = {.grace_ticks = 0};
  pulse_place(score.ticks, frame, sketch, rng);
  add_graces(&score, frame, sketch, line, rng);
  const Dynamics dynamics =
    dynamics_of(frame->request->call, line, sketch->n_notes);
  answer->n_notes = 0;
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    const Tick    written = sketch->notes[i].tick;
    const uint8_t velocity =
      velocity_of(&dynamics, frame, sketch, line, i, rng);
    const Tick slot = stop_of(&score, frame, sketch, i) - score.ticks[i];
    const Note note = {.tick     = score.ticks[i],
                       .length   = sound_of(frame, sketch, i, slot, rng),
                       .pitch    = line[i],
                       .velocity = velocity};
    emit_graces(answer, &score, i, written, velocity);
    emit(answer, note, written, false);
  }
}
