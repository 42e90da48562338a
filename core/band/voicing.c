#include "core/band/voicing.h"

#include "core/band/harmony.h"
#include "core/music/spelling.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

enum {
  OCTAVES      = 3,  ///< From VOICING_LOWEST, in which a tone may lie
  SPAN_MAX     = 16, ///< A tenth
  FLAT_NINTH   = 13,
  VOICES_LEAST = 2, ///< Where there is little room
  TONES_MAX    = CHORD_TONE_CAPACITY + 1,
};

/// The lowest pitch that bears an interval above it, by semitones (low interval
/// limits; common practice, no source). A semitone is never at the bottom.
static const uint8_t lowest_for_gap[] = {127, 55, 51, 48};

/// What makes one voicing worse than another, in semitones of movement.
static const struct {
  double other;  ///< Share of the movement that counts on the way to another
                 ///< top: a hand that moves at will goes back to the middle
  double wish;   ///< For each voice that goes against the wish
  double fault;  ///< For each rule of spacing broken
  double centre; ///< For each semitone of the mean off `mean`
  double mean;
  double low; ///< For each semitone of the lowest pitch below `floor`, where
              ///< the bass plays
  double floor;
  double omitted; ///< For leaving out the first tone; the second half of it ...
} WEIGHTS = {
  .other   = 0.3,
  .wish    = 10000.0,
  .fault   = 1000.0,
  .centre  = 0.8,
  .mean    = 61.0,
  .low     = 0.7,
  .floor   = 53.0,
  .omitted = 60.0,
};

/// Which tones are played first, the lowest rank first.
typedef enum {
  RANK_THIRD,
  RANK_SEVENTH,
  RANK_ALTERED_FIFTH,
  RANK_FLAT_THIRTEENTH,
  RANK_SHARP_NINTH,
  RANK_FLAT_NINTH,
  RANK_SHARP_ELEVENTH,
  RANK_THIRTEENTH,
  RANK_NINTH,
  RANK_ELEVENTH,
  RANK_ADDED_NINTH,
  RANK_FIFTH,
  RANK_ROOT,
  RANK_CLASH, ///< A fifth that lies a semitone from a tension
} Rank;

/// Tones under ranking, the first rank first.
typedef struct {
  unsigned n;
  unsigned ranks[TONES_MAX];
  unsigned semitones[TONES_MAX];
} Ranking;

static bool
has_tone(const Chord* const chord, const unsigned semitones)
{
  return chord->all_mask >> semitones % PITCH_CLASSES & 1U;
}

static Rank
fifth_rank(const Chord* const chord, const int alter)
{
  if (alter != 0) {
    return RANK_ALTERED_FIFTH;
  }
  return has_tone(chord, 6) || has_tone(chord, 8) ? RANK_CLASH : RANK_FIFTH;
}

static Rank
tone_rank(const Chord* const chord, const Interval tone)
{
  const int alter = tone.semitones - interval_major(tone.number);
  switch (tone.number) {
    case 1:
      return RANK_ROOT;
    case 5:
      return fifth_rank(chord, alter);
    case 6:
    case 7:
      return RANK_SEVENTH;
    case 9:
      return alter > 0   ? RANK_SHARP_NINTH
             : alter < 0 ? RANK_FLAT_NINTH
                         : RANK_NINTH;
    case 11:
      return alter > 0 ? RANK_SHARP_ELEVENTH : RANK_ELEVENTH;
    case 13:
      return alter < 0 ? RANK_FLAT_THIRTEENTH : RANK_THIRTEENTH;
    default: // A third, or the second or fourth that stands for it
      return RANK_THIRD;
  }
}

static void
rank_tone(Ranking* const ranking, const Rank rank, const unsigned semitones)
{
  unsigned to = ranking->n++;
  for (; to > 0 && ranking->ranks[to - 1] > (unsigned)rank; --to) {
    ranking->ranks[to]     = ranking->ranks[to - 1];
    ranking->semitones[to] = ranking->semitones[to - 1];
  }
  ranking->ranks[to]     = (unsigned)rank;
  ranking->semitones[to] = semitones;
}

/// Whether the ninth of a chord may be played unasked: it has a seventh or a
/// sixth, no ninth of its own, a sound fifth, and the key has that note.
static bool
takes_ninth(const Chord* const chord, const Key key)
{
  bool has_seventh = false;
  bool has_ninth   = has_tone(chord, 2);
  bool is_dim      = false;
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    const unsigned number = chord->tones[i].number;
    has_seventh           = has_seventh || number == 6 || number == 7;
    has_ninth             = has_ninth || number == 9;
    is_dim = is_dim || (number == 5 && chord->tones[i].semitones == 6);
  }

  const unsigned ninth = spelling_pitch_class(chord->root) + 2U;
  return has_seventh && !has_ninth && !is_dim &&
         harmony_has(harmony_of_key(key), ninth);
}

VoicingTones
voicing_tones(const Chord* const chord, const Key key)
{
  assert(!chord_is_silence(chord));
  Ranking ranking = {.n = 0};
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    const Interval tone = chord->tones[i];
    rank_tone(&ranking, tone_rank(chord, tone), (unsigned)tone.semitones);
  }
  if (takes_ninth(chord, key)) {
    rank_tone(&ranking, RANK_ADDED_NINTH, 2);
  }

  const unsigned root  = spelling_pitch_class(chord->root);
  VoicingTones   tones = {.n_tones = 0};
  for (unsigned i = 0; i < ranking.n && tones.n_tones < BAND_VOICES; ++i) {
    tones.classes[tones.n_tones++] =
      (uint8_t)((root + ranking.semitones[i]) % PITCH_CLASSES);
  }
  return tones;
}

/// Return the number of rules of spacing that a voicing breaks.
static unsigned
count_faults(const Voicing* const voicing)
{
  const uint8_t* const pitches  = voicing->pitches;
  const unsigned       n        = voicing->n_voices;
  const unsigned       n_limits = sizeof(lowest_for_gap);
  unsigned             n_faults = pitches[n - 1] - pitches[0] > SPAN_MAX;
  for (unsigned i = 0; i + 1 < n; ++i) {
    const unsigned gap = (unsigned)(pitches[i + 1] - pitches[i]);
    n_faults += gap < n_limits && pitches[i] < lowest_for_gap[gap];
    n_faults += gap == 1 && (i == 0 || i + 2 == n);
    for (unsigned j = i + 1; j < n; ++j) {
      n_faults += pitches[j] - pitches[i] == FLAT_NINTH;
    }
  }
  return n_faults;
}

static unsigned
count_shared(const Voicing* const a, const Voicing* const b)
{
  unsigned n_shared = 0;
  for (unsigned i = 0; i < a->n_voices; ++i) {
    for (unsigned j = 0; j < b->n_voices; ++j) {
      n_shared += a->pitches[i] == b->pitches[j];
    }
  }
  return n_shared;
}

/// Return how many of the voices go against the wish.
static unsigned
count_unwished(const Voicing* const voicing,
               const Voicing* const last,
               const VoicingWish    wish)
{
  if (last->n_voices == 0 || wish == VOICING_NEAR) {
    return 0;
  }
  if (wish == VOICING_FRESH) {
    return count_shared(voicing, last);
  }
  return voicing->pitches[voicing->n_voices - 1] ==
         last->pitches[last->n_voices - 1];
}

static double
cost(const Voicing* const voicing,
     const Voicing* const last,
     const VoicingWish    wish)
{
  const unsigned n_unwished = count_unwished(voicing, last, wish);
  double         sum        = 0.0;
  for (unsigned i = 0; i < voicing->n_voices; ++i) {
    sum += voicing->pitches[i];
  }
  const double off   = fabs(sum / voicing->n_voices - WEIGHTS.mean);
  const double under = fmax(WEIGHTS.floor - voicing->pitches[0], 0.0);
  const double share = wish == VOICING_OTHER ? WEIGHTS.other : 1.0;
  return share * voicing_movement(last, voicing) + WEIGHTS.centre * off +
         WEIGHTS.low * under + WEIGHTS.fault * count_faults(voicing) +
         WEIGHTS.wish * n_unwished;
}

static void
add_pitch(Voicing* const voicing, const unsigned pitch)
{
  unsigned to = voicing->n_voices++;
  for (; to > 0 && voicing->pitches[to - 1] > pitch; --to) {
    voicing->pitches[to] = voicing->pitches[to - 1];
  }
  voicing->pitches[to] = (uint8_t)pitch;
}

/// Lay each tone in the octave that its digit of `octaves` says; false if one
/// comes to lie too high.
static bool
lay(const VoicingTones* const tones, unsigned octaves, Voicing* const voicing)
{
  *voicing = (Voicing){.n_voices = 0};
  for (unsigned i = 0; i < tones->n_tones; ++i) {
    const unsigned pitch =
      VOICING_LOWEST + tones->classes[i] + PITCH_CLASSES * (octaves % OCTAVES);
    octaves /= OCTAVES;
    if (pitch > VOICING_HIGHEST) {
      return false;
    }
    add_pitch(voicing, pitch);
  }
  return true;
}

Voicing
voicing_next(const VoicingTones* const tones,
             const Voicing* const      last,
             const VoicingWish         wish)
{
  assert(tones->n_tones > 0 && VOICING_LOWEST % PITCH_CLASSES == 0);
  unsigned n_ways = 1;
  for (unsigned i = 0; i < tones->n_tones; ++i) {
    n_ways *= OCTAVES;
  }

  Voicing best;
  bool    is_laid   = lay(tones, 0, &best); // All below C4: never too high
  double  best_cost = cost(&best, last, wish);
  assert(is_laid);
  for (unsigned way = 1; way < n_ways; ++way) {
    Voicing voicing;
    is_laid               = lay(tones, way, &voicing);
    const double its_cost = is_laid ? cost(&voicing, last, wish) : INFINITY;
    if (its_cost < best_cost) {
      best      = voicing;
      best_cost = its_cost;
    }
  }
  return best;
}

/// Lay each tone in the octave that its digit of `octaves` says, or leave it
/// out; false if that is no chord or too high.
static bool
lay_some(const VoicingTones* const tones,
         unsigned                  octaves,
         const unsigned            ceiling,
         Voicing* const            voicing)
{
  *voicing = (Voicing){.n_voices = 0};
  for (unsigned i = 0; i < tones->n_tones; ++i) {
    const unsigned octave = octaves % (OCTAVES + 1);
    const unsigned pitch =
      VOICING_LOWEST + tones->classes[i] + PITCH_CLASSES * octave;
    octaves /= OCTAVES + 1;
    if (octave < OCTAVES && pitch > ceiling) {
      return false;
    }
    if (octave < OCTAVES) {
      add_pitch(voicing, pitch);
    }
  }
  return voicing->n_voices >= VOICES_LEAST && count_faults(voicing) == 0;
}

/// Return what is missing without the tones that a way leaves out; the first
/// of a chord say most of it.
static double
cost_of_omissions(const VoicingTones* const tones, unsigned octaves)
{
  double sum = 0.0;
  for (unsigned i = 0; i < tones->n_tones; ++i) {
    const bool is_out = octaves % (OCTAVES + 1) == OCTAVES;
    sum += is_out ? WEIGHTS.omitted / (i + 1) : 0.0;
    octaves /= OCTAVES + 1;
  }
  return sum;
}

Voicing
voicing_under(const VoicingTones* const tones,
              const Voicing* const      last,
              const VoicingWish         wish,
              const unsigned            ceiling)
{
  if (ceiling >= VOICING_HIGHEST) {
    return voicing_next(tones, last, wish);
  }
  unsigned n_ways = 1;
  for (unsigned i = 0; i < tones->n_tones; ++i) {
    n_ways *= OCTAVES + 1;
  }
  Voicing best      = {.n_voices = 0};
  double  best_cost = INFINITY;
  for (unsigned way = 0; way < n_ways; ++way) {
    Voicing voicing;
    if (lay_some(tones, way, ceiling, &voicing)) {
      const double its_cost =
        cost(&voicing, last, wish) + cost_of_omissions(tones, way);
      best      = its_cost < best_cost ? voicing : best;
      best_cost = fmin(its_cost, best_cost);
    }
  }
  return best;
}

unsigned
voicing_movement(const Voicing* const from, const Voicing* const to)
{
  const unsigned n_from = from->n_voices;
  const unsigned n_to   = to->n_voices;
  const unsigned n      = n_from > n_to ? n_from : n_to;
  if (n_from == 0 || n_to == 0) {
    return 0;
  }

  unsigned movement = 0;
  for (unsigned i = 1; i <= n; ++i) { // Counted from the top
    const int a = from->pitches[i < n_from ? n_from - i : 0];
    const int b = to->pitches[i < n_to ? n_to - i : 0];
    movement += (unsigned)(a > b ? a - b : b - a);
  }
  return movement;
}
