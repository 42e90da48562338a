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

bool
judge_musts(const Answer* const answer,
            const Frame* const  frame,
            const Sketch* const sketch)
{
  const Measures* const  measures = &answer->heard.measures;
  const HeardNote* const last     = last_of(&answer->heard);
  const bool at_root = frame->must_end_on_root || sketch->deed.ends_on_root;
  const bool again   = sketch->deed.move != MOVE_RETURN &&
                     was_said(frame->request->history, answer->digest);
  const bool copies = !may_copy(sketch->deed.move) &&
                      judge_digest(frame->request->call) == answer->digest;
  return last != NULL &&
         last->role <= (at_root ? ROLE_ROOT : ROLE_CHORD_TONE) &&
         measures->left_share <= 0.0F &&
         measures->space >= say_weights.space_must && !again && !copies;
}

static double
beyond(const Band band, const double value)
{
  return value < (double)band.least  ? (double)band.least - value
         : value > (double)band.most ? value - (double)band.most
                                     : 0.0;
}

static double
likeness_faults(const Answer* const answer)
{
  const MoveBand* const band = &say_weights.bands[answer->move];
  const double far = beyond(band->rhythm, (double)answer->likeness.rhythm) +
                     beyond(band->pitch, (double)answer->likeness.pitch);
  return far * 10.0 * (double)say_weights.fault_likeness;
}

/// Count what bores: going to and fro, one note again and again.
static double
line_faults(const Phrase* const phrase)
{
  int    p[4]   = {-1, -2, -3, -4}; // The last four pitches
  double faults = 0.0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    if (phrase->notes[i].is_ornament) {
      continue;
    }
    p[3] = p[2];
    p[2] = p[1];
    p[1] = p[0];
    p[0] = phrase->notes[i].note.pitch;
    if (p[0] == p[1] && p[1] == p[2]) {
      faults += (double)say_weights.fault_repeats;
    } else if (p[0] == p[2] && p[1] == p[3]) {
      faults += (double)say_weights.fault_pendulum;
    }
    if (phrase->notes[i].role == ROLE_SCALE_TONE &&
        phrase->notes[i].resolution == RESOLUTION_LEFT) {
      faults += (double)say_weights.fault_hanging_scale;
    }
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
  const Measures* const measures = &answer->heard.measures;
  const Band   space      = {say_weights.space_least, say_weights.space_most};
  const Band   complexity = judge_complexity(frame->rung);
  const double wide = fmax((double)measures->range - OCTAVE, 0.0) / OCTAVE;
  const double related =
    sketch->deed.is_opening ? 0.0 : likeness_faults(answer);
  return related + line_faults(&answer->heard) + ending_faults(answer, frame) +
         10.0 * beyond(space, (double)measures->space) *
           (double)say_weights.fault_space +
         0.1 * beyond(complexity, (double)measures->complexity) *
           (double)say_weights.fault_complexity +
         wide * (double)say_weights.fault_wide;
}
