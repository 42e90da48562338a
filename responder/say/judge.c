#include "responder/say/judge.h"

#include <math.h>
#include <stddef.h>
#include <stdlib.h>

// FNV-1a, 32 bits (Fowler, Noll & Vo)
static const uint32_t HASH_START = 2166136261U;
static const uint32_t HASH_PRIME = 16777619U;

enum {
  THIRD_MOST = 4,
  OCTAVE     = 12,
};

static uint32_t
hash_add(const uint32_t hash, const uint32_t value)
{
  uint32_t result = hash;
  for (unsigned shift = 0; shift < 32; shift += 8) {
    result = (result ^ (value >> shift & 0xFFU)) * HASH_PRIME;
  }
  return result;
}

uint32_t
judge_digest(const Phrase* const phrase)
{
  uint32_t hash = HASH_START;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (!note->is_ornament) {
      hash = hash_add(hash, (uint32_t)(note->grid_tick - phrase->start_tick));
      hash = hash_add(hash, note->note.pitch);
    }
  }
  return hash;
}

static const HeardNote*
last_of(const Phrase* const phrase)
{
  for (unsigned i = phrase->n_notes; i-- > 0;) {
    if (!phrase->notes[i].is_ornament) {
      return &phrase->notes[i];
    }
  }
  return NULL;
}

static unsigned
first_pitch(const Answer* const answer)
{
  unsigned i = 0;
  while (i + 1 < answer->n_notes && answer->is_ornament[i]) {
    ++i;
  }
  return answer->notes[i].pitch;
}

static bool
was_said(const SayHistory* const history, const uint32_t digest)
{
  for (unsigned i = 0; i < history->n_digests; ++i) {
    if (history->digests[i] == digest) {
      return true;
    }
  }
  return false;
}

/// Whether a move may say exactly what its source said.
static bool
may_copy(const Move move)
{
  return move == MOVE_REPEAT || move == MOVE_RETURN || move == MOVE_ORNAMENT;
}

static bool
has_ornament(const Answer* const answer)
{
  for (unsigned i = 0; i < answer->n_notes; ++i) {
    if (answer->is_ornament[i]) {
      return true;
    }
  }
  return false;
}

bool
judge_musts(const Answer* const answer,
            const Frame* const  frame,
            const Sketch* const sketch)
{
  const Measures* const  measures = &answer->heard.measures;
  const HeardNote* const last     = last_of(&answer->heard);
  const bool             at_root  = sketch->facts.ends_on_root;
  const bool             closes =
    last != NULL && (frame->must_end_on_root
                       ? last->note.pitch % N_PITCH_CLASSES == frame->tonic &&
                           last->grid_tick == frame->end - frame->bar
                       : last->role <= (at_root ? ROLE_ROOT : ROLE_CHORD_TONE));
  const bool again = sketch->facts.move != MOVE_RETURN &&
                     was_said(frame->request->history, answer->digest);
  const bool stays = sketch->facts.move == MOVE_SEQUENCE &&
                     answer->n_notes > 0 &&
                     first_pitch(answer) == sketch->facts.from_pitch;
  const bool copies = !may_copy(sketch->facts.move) &&
                      judge_digest(frame->request->call) == answer->digest;
  return closes && measures->left_share <= 0.0F &&
         measures->space >= say_weights.space_must && !again && !copies &&
         !stays &&
         (sketch->facts.move != MOVE_ORNAMENT || has_ornament(answer));
}

static double
beyond(const Band band, const double value)
{
  return value < (double)band.least  ? (double)band.least - value
         : value > (double)band.most ? value - (double)band.most
                                     : 0.0;
}

/// Return how much of a line's faults lies in the line, not in the notes that
/// the rung gives: with one note there is nothing but repeats.
static double
own_share(const Frame* const frame)
{
  static const double by_tones[] = {0.0, 0.0, 0.3, 0.8, 1.0};
  const unsigned      tones      = frame->notes->chord_tones;
  return by_tones[tones < 4 ? tones : 4];
}

static double
likeness_faults(const Answer* const    answer,
                const Frame* const     frame,
                const MoveFacts* const facts)
{
  const MoveBand* const band   = &say_weights.bands[answer->move];
  const Likeness        is     = answer->likeness;
  const double          pitch  = beyond(band->pitch, (double)is.pitch);
  const double          whole  = fmax((double)(band->whole - is.whole), 0.0);
  const double          rhythm = beyond(band->rhythm, (double)is.rhythm);
  const double          blame =
    facts->is_simplified ? (double)say_weights.blame_simplified : 1.0;
  return facts->is_opening ? 0.0
                           : 10.0 * blame * (double)say_weights.fault_likeness *
                                 (rhythm + whole + own_share(frame) * pitch) +
                               (is.whole < say_weights.related
                                  ? (double)say_weights.fault_unrelated
                                  : 0.0);
}

/// Count what bores: going to and fro, one note again and again; and scale
/// tones that lead nowhere.
static double
line_faults(const Phrase* const phrase)
{
  int    p[4]   = {-1, -2, -3, -4}; // The last four pitches
  double faults = 0.0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (note->is_ornament) {
      continue;
    }
    p[3] = p[2];
    p[2] = p[1];
    p[1] = p[0];
    p[0] = note->note.pitch;
    faults += p[0] == p[1] && p[1] == p[2] ? (double)say_weights.fault_repeats
              : p[0] == p[2] && p[1] == p[3]
                ? (double)say_weights.fault_pendulum
                : 0.0;
    faults +=
      note->role == ROLE_SCALE_TONE && note->resolution == RESOLUTION_LEFT
        ? (double)say_weights.fault_hanging_scale
        : 0.0;
  }
  const bool leaps = p[1] >= 0 && abs(p[0] - p[1]) > THIRD_MOST;
  return faults + (leaps ? (double)say_weights.fault_end_leap : 0.0);
}

/// Ending always on the first beat of the last bar would be square.
static double
ending_faults(const Answer* const answer, const Frame* const frame)
{
  const HeardNote* const last = last_of(&answer->heard);
  return last != NULL && last->grid_tick == frame->end - frame->bar
           ? (double)say_weights.fault_square_end
           : 0.0;
}

Band
judge_complexity(const Rung rung)
{
  Band band = say_weights.complexity_base;
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    const float rise =
      say_weights.complexity_step[d] * (float)(rung.level[d] - 1);
    band.least += rise;
    band.most += rise;
  }
  return band;
}

double
judge_faults(const Answer* const answer,
             const Frame* const  frame,
             const Sketch* const sketch)
{
  const SayWeights* const w         = &say_weights;
  const Measures* const   measures  = &answer->heard.measures;
  const Band              level     = judge_complexity(frame->rung);
  const double            off_space = beyond(w->space, (double)measures->space);
  const double off_level = beyond(level, (double)measures->complexity);
  const double wide      = fmax((double)measures->range - OCTAVE, 0.0) / OCTAVE;
  const double line =
    own_share(frame) / fmax((double)answer->n_notes / 8.0, 1.0);
  return likeness_faults(answer, frame, &sketch->facts) +
         line * line_faults(&answer->heard) + ending_faults(answer, frame) +
         10.0 * off_space * (double)w->fault_space +
         0.1 * off_level * (double)w->fault_complexity +
         wide * (double)w->fault_wide;
}
