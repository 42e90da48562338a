#include "responder/hear/target.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>

/// What speaks for a note (common practice, no source).
static const struct {
  float last;        ///< The last note of all
  float before_rest; ///< The last note before a breath
  float rest;        ///< For a beat of silence after it, up to two
  float length;      ///< For a beat's length, up to two beats
  float weight;      ///< For each level of metrical weight
  float root;
  float chord_tone;
  float stepped_to; ///< Approached by step
  float stress;     ///< For each spread of velocity above the mean, up to two
} WEIGHT = {1.5F, 3, 1, 0.5F, 0.25F, 1, 0.8F, 0.3F, 0.2F};

typedef struct {
  float mean;
  float spread;
} Velocities;

static Velocities
velocities_of(const Phrase* const phrase)
{
  float sum = 0;
  float off = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    sum += (float)phrase->notes[i].note.velocity;
  }
  const float mean = sum / (float)phrase->n_notes;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const float d = (float)phrase->notes[i].note.velocity - mean;
    off += d < 0 ? -d : d;
  }
  return (Velocities){mean, off / (float)phrase->n_notes};
}

static float
at_most(const float value, const float most)
{
  return value < most ? value : most;
}

/// Beats of silence until a tick.
static float
rest_beats(const HeardNote* const heard, const Tick until, const Meter meter)
{
  const Tick rest = until - heard->note.tick - heard->note.length;
  return rest > 0 ? (float)rest / (float)meter_beat_ticks(meter) : 0;
}

/// Whether the last note is so near the line that it leads into the next turn.
/// (Of such notes in solos cut into turns of four bars one in six ends a
/// phrase, of those before them three in five.)
static bool
is_pick_up(const HeardNote* const last, const Tick end, const Meter meter)
{
  return last->grid_tick >= end - meter_beat_ticks(meter) / 2;
}

/// How much a note's place in the phrase speaks for it. The last one ends the
/// phrase, whether silence follows or it sounds on: what lasts beyond a beat is
/// rest.
static float
score_place(const HeardNote* const heard,
            const HeardNote* const after,
            const Tick             end,
            const Meter            meter)
{
  if (after) {
    const float rest = rest_beats(heard, after->note.tick, meter);
    return after->begins_phrase
             ? WEIGHT.before_rest + WEIGHT.rest * at_most(rest, 2)
             : 0;
  }
  if (is_pick_up(heard, end, meter)) {
    return WEIGHT.last;
  }
  const float held =
    (float)heard->note.length / (float)meter_beat_ticks(meter) - 1;
  const float rest = rest_beats(heard, end, meter) + (held > 0 ? held : 0);
  return WEIGHT.last + WEIGHT.before_rest + WEIGHT.rest * at_most(rest, 2);
}

/// How much the note by itself speaks for it.
static float
score_note(const HeardNote* const heard,
           const HeardNote* const before,
           const Velocities       velocities,
           const Meter            meter)
{
  const float beats =
    (float)heard->grid_length / (float)meter_beat_ticks(meter);
  const int level = meter_weight(meter, heard->grid_tick) - METER_LOWEST_WEIGHT;

  float sum = WEIGHT.length * at_most(beats, 2) + WEIGHT.weight * (float)level;
  sum += heard->role == ROLE_ROOT ? WEIGHT.root : 0;
  sum += heard->role == ROLE_CHORD_TONE ? WEIGHT.chord_tone : 0;
  if (before) {
    const int step = abs(heard->note.pitch - before->note.pitch);
    sum += step == 1 || step == 2 ? WEIGHT.stepped_to : 0;
  }
  if (velocities.spread > 0) {
    const float stress =
      ((float)heard->note.velocity - velocities.mean) / velocities.spread;
    sum += WEIGHT.stress * (stress < -2 ? -2 : at_most(stress, 2));
  }
  return sum;
}

/// Return the next note of the melody from `i` on, NULL if there is none.
static const HeardNote*
melody_from(const Phrase* const phrase, unsigned i)
{
  while (i < phrase->n_notes && phrase->notes[i].is_ornament) {
    ++i;
  }
  return i < phrase->n_notes ? &phrase->notes[i] : NULL;
}

unsigned
target_find(const Phrase* const phrase, const Meter meter)
{
  if (phrase->n_notes == 0) {
    return PHRASE_NO_TARGET;
  }
  const Velocities velocities = velocities_of(phrase);
  const HeardNote* before     = NULL;
  unsigned         best       = PHRASE_NO_TARGET;
  float            best_score = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    if (heard->is_ornament) {
      continue;
    }
    const HeardNote* const after = melody_from(phrase, i + 1);
    const float sum = score_place(heard, after, phrase->end_tick, meter) +
                      score_note(heard, before, velocities, meter);
    if (best == PHRASE_NO_TARGET || sum >= best_score) {
      best       = i;
      best_score = sum;
    }
    before = heard;
  }
  return best;
}
