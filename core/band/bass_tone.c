#include "core/band/bass_tone.h"

#include "core/band/pitch_set.h"
#include "core/music/spelling.h"

#include <assert.h>
#include <stdbool.h>

enum {
  ROOT_HIGHEST   = 45, ///< A2
  ROOT_MIDDLE    = 38, ///< D2, near which the first root lies
  OCTAVE_HIGHEST = 51, ///< Eb3
  FIFTH_HIGHEST  = 47, ///< B2: one above is rarely played
  OCTAVE_LEAP    = 16, ///< An octave tone is not so far off as that
  APPROACH_NEAR  = 9,  ///< Semitones from the last pitch
  AS_NEAR        = 3,  ///< Difference of distances that does not count
};

/// Chance of the fifth below where the one above lies as near.
static const double FIFTH_BELOW = 0.45;

/// The same where the one above is higher than FIFTH_HIGHEST.
static const double FIFTH_BELOW_HIGH = 0.9;

/// What is left of the chance of an approach that is far from the last pitch.
static const float FAR_SHARE = 0.05F;

/// A way to a root, in semitones from it.
typedef struct {
  int   step;
  float chance;
} Approach;

static const Approach approaches[] =
  {{-1, 1.0F}, {1, 0.8F}, {-2, 0.6F}, {2, 0.8F}, {7, 0.3F}, {-5, 0.4F}};

enum { N_APPROACHES = sizeof(approaches) / sizeof(*approaches) };

static int
distance(const unsigned a, const unsigned b)
{
  return a > b ? (int)(a - b) : (int)(b - a);
}

/// Return the fifth of a chord above its root or below, the nearer one; a slash
/// chord has its bass note again.
static unsigned
fifth(const BassAsk* const ask, const unsigned root, Rng* const rng)
{
  const Chord* const chord = ask->chord;
  if (spelling_pitch_class(chord->bass) != spelling_pitch_class(chord->root)) {
    return root;
  }
  const unsigned above = root + pitch_set_fifth(chord);
  const unsigned below = above - PITCH_CLASSES;
  if (below < BASS_LOWEST) {
    return above;
  }

  const int  farther  = distance(above, ask->last) - distance(below, ask->last);
  const bool is_even  = -AS_NEAR <= farther && farther <= AS_NEAR;
  const double chance = above > FIFTH_HIGHEST ? FIFTH_BELOW_HIGH : FIFTH_BELOW;
  const bool   goes_down = is_even ? rng_unit(rng) < chance : farther > 0;
  return goes_down ? below : above;
}

/// Return the octave of a root, above if that is neither too high nor too far.
static unsigned
octave(const BassAsk* const ask, const unsigned root)
{
  const unsigned above = root + PITCH_CLASSES;
  if (above <= OCTAVE_HIGHEST && distance(above, ask->last) < OCTAVE_LEAP) {
    return above;
  }
  const unsigned below   = root - PITCH_CLASSES;
  const bool     is_near = distance(below, ask->last) < OCTAVE_LEAP;
  return root >= BASS_LOWEST + PITCH_CLASSES && is_near ? below : root;
}

/// Return the chance of a way to a root.
static float
approach_chance(const BassAsk* const  ask,
                const unsigned        target,
                const Approach* const way)
{
  const bool is_fifth = way->step == 7 || way->step == -5;
  const bool is_half  = way->step == 1 || way->step == -1;
  const bool is_within =
    chord_equals(ask->chord, ask->next); // It leads back to where it is
  const unsigned home =
    pitch_set_scale(ask->chord) | pitch_set_of_key(ask->key);

  const int  pitch    = (int)target + way->step;
  const bool is_plain = is_fifth || (is_half && !is_within);
  if (pitch < BASS_LOWEST ||
      (!is_plain && !pitch_set_has((uint16_t)home, (unsigned)pitch))) {
    return 0.0F;
  }
  const bool is_far = distance((unsigned)pitch, ask->last) > APPROACH_NEAR;
  return is_far ? way->chance * FAR_SHARE : way->chance;
}

/// Return a pitch that leads to the root of the next chord: by a semitone, by a
/// tone that is at home, or from the fifth.
static unsigned
approach(const BassAsk* const ask, Rng* const rng)
{
  const unsigned target = bass_tone_root(ask->next, ask->last);
  float          chances[N_APPROACHES];
  for (unsigned i = 0; i < N_APPROACHES; ++i) {
    chances[i] = approach_chance(ask, target, &approaches[i]);
  }
  const unsigned way = rng_pick(rng, chances, N_APPROACHES);
  return (unsigned)((int)target + approaches[way].step);
}

unsigned
bass_tone_root(const Chord* const chord, const unsigned last)
{
  const unsigned class = spelling_pitch_class(chord->bass);
  const unsigned near  = last > 0 ? last : (unsigned)ROOT_MIDDLE;

  unsigned best = 0;
  for (unsigned pitch = BASS_LOWEST; pitch <= ROOT_HIGHEST; ++pitch) {
    const bool is_nearer =
      best == 0 || distance(pitch, near) < distance(best, near);
    if (pitch % PITCH_CLASSES == class && is_nearer) {
      best = pitch;
    }
  }
  return best;
}

unsigned
bass_tone_pitch(const BassAsk* const ask, Rng* const rng)
{
  assert(!chord_is_silence(ask->chord));
  const unsigned root = bass_tone_root(ask->chord, ask->last);
  switch (ask->tone) {
    case BASS_FIFTH:
      return fifth(ask, root, rng);
    case BASS_OCTAVE:
      return octave(ask, root);
    case BASS_APPROACH:
      assert(!chord_is_silence(ask->next));
      return approach(ask, rng);
    default:
      return root;
  }
}
