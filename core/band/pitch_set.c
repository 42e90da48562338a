#include "core/band/pitch_set.h"

#include "core/music/scale.h"
#include "core/music/spelling.h"

enum {
  LEADING_TONE    = 11, // Semitones above the tonic
  FIFTH           = 5,  // An interval's number
  FIFTH_SEMITONES = 7,
  ALL             = (1 << PITCH_CLASSES) - 1,
};

/// Move a set up by some semitones.
static uint16_t
moved_up(const unsigned set, const unsigned semitones)
{
  const unsigned by = semitones % PITCH_CLASSES;
  return (uint16_t)((set << by | set >> (PITCH_CLASSES - by)) & ALL);
}

bool
pitch_set_has(const uint16_t set, const unsigned pitch)
{
  return set >> pitch % PITCH_CLASSES & 1U;
}

uint16_t
pitch_set_of_key(const Key key)
{
  const unsigned tonic   = spelling_pitch_class(key.tonic);
  const unsigned classes = key_pitch_classes(key);
  const unsigned leading = moved_up(1U << LEADING_TONE, tonic);
  return (uint16_t)(key.is_minor ? classes & ~leading : classes);
}

uint16_t
pitch_set_core(const Chord* const chord)
{
  return moved_up(chord->core_mask, spelling_pitch_class(chord->root));
}

uint16_t
pitch_set_scale(const Chord* const chord)
{
  return scale_pitch_classes(scale_for_chord(chord));
}

unsigned
pitch_set_fifth(const Chord* const chord)
{
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    if (chord->tones[i].number == FIFTH) {
      return (unsigned)chord->tones[i].semitones;
    }
  }
  return FIFTH_SEMITONES;
}
