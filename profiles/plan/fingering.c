#include "profiles/plan/fingering.h"

#include <assert.h>

// The efforts of a hand; common practice, no source.
static const struct {
  double thumb_on_black;
  double fifth_on_black;
  double pass[N_FINGERS]; ///< The thumb under a finger, by finger, from 1
  double pass_semitone;   ///< ... for each semitone beyond the first
  double pass_from_white; ///< ... where that finger is on a white key
  double pass_at_first;   ///< Easier by this from the first key
  double skip;            ///< For each finger left out
  double skip_to_last;    ///< ... before the last key
  double stretch;         ///< For each semitone beyond two a finger
  double squeeze;         ///< For each finger more than there are semitones
  double start;           ///< For each finger away from the usual first
  double reach_of_thumb;  ///< Semitones more between the thumb and another
} EFFORT = {
  .thumb_on_black  = 100.0,
  .fifth_on_black  = 2.5,
  .pass            = {1e9, 1.5, 1.0, 1.1, 1e9},
  .pass_semitone   = 0.7,
  .pass_from_white = 0.33,
  .pass_at_first   = 0.3,
  .skip            = 0.6,
  .skip_to_last    = 0.3,
  .stretch         = 0.4,
  .squeeze         = 0.5,
  .start           = 0.5,
  .reach_of_thumb  = 2.0,
};

static const double impossible = 1e9;

/// Keys as the hand meets them, away from the body.
typedef struct {
  unsigned n;
  unsigned steps[FINGERING_CAPACITY]; ///< Semitones from the key before
  bool     black[FINGERING_CAPACITY];
} Run;

static double
effort_of_start(const Run* const run, const unsigned finger)
{
  const double usual = run->black[0] ? 2.0 : 1.0;
  const double away  = finger > usual ? finger - usual : usual - finger;
  return EFFORT.start * away;
}

/// What a finger on a key costs, wherever it comes from.
static double
effort_of_key(const Run* const run, const unsigned key, const unsigned finger)
{
  double effort = 0.0;
  if (finger == 1 && run->black[key]) {
    effort += EFFORT.thumb_on_black;
  }
  if (finger == N_FINGERS && run->black[key]) {
    effort += EFFORT.fifth_on_black;
  }
  return effort;
}

static double
effort_of_step(const Run* const run,
               const unsigned   key,
               const unsigned   from,
               const unsigned   to)
{
  const double semitones = run->steps[key];
  if (to == 1 && from > 1) {
    return EFFORT.pass[from - 1] - (key == 1 ? EFFORT.pass_at_first : 0.0) +
           (run->black[key - 1] ? 0.0 : EFFORT.pass_from_white) +
           EFFORT.pass_semitone * (semitones - 1.0);
  }
  if (to <= from) {
    return impossible;
  }
  const double fingers = to - from;
  const double reach =
    2.0 * fingers + (from == 1 ? EFFORT.reach_of_thumb : 0.0);
  const double skip = key + 1 == run->n ? EFFORT.skip_to_last : EFFORT.skip;
  return skip * (fingers - 1.0) +
         (semitones > reach ? EFFORT.stretch * (semitones - reach) : 0.0) +
         (semitones < fingers ? EFFORT.squeeze * (fingers - semitones) : 0.0);
}

static void
find_best(const Run* const run, uint8_t* const fingers)
{
  double  effort[FINGERING_CAPACITY][N_FINGERS];
  uint8_t before[FINGERING_CAPACITY][N_FINGERS] = {{0}};
  for (unsigned f = 0; f < N_FINGERS; ++f) {
    effort[0][f] = effort_of_start(run, f + 1) + effort_of_key(run, 0, f + 1);
  }
  for (unsigned key = 1; key < run->n; ++key) {
    for (unsigned f = 0; f < N_FINGERS; ++f) {
      effort[key][f] = 2.0 * impossible * FINGERING_CAPACITY;
      for (unsigned g = 0; g < N_FINGERS; ++g) {
        const double sum = effort[key - 1][g] +
                           effort_of_step(run, key, g + 1, f + 1) +
                           effort_of_key(run, key, f + 1);
        if (sum < effort[key][f]) {
          effort[key][f] = sum;
          before[key][f] = (uint8_t)g;
        }
      }
    }
  }
  unsigned best = 0;
  for (unsigned f = 1; f < N_FINGERS; ++f) {
    best = effort[run->n - 1][f] < effort[run->n - 1][best] ? f : best;
  }
  for (unsigned key = run->n; key-- > 0;) {
    fingers[key] = (uint8_t)(best + 1);
    best         = before[key][best];
  }
}

bool
fingering_is_black(const unsigned pitch)
{
  return 0x54AU >> (pitch % 12U) & 1U; // C# Eb F# Ab Bb
}

void
fingering_find(const Hand           hand,
               const uint8_t* const pitches,
               const unsigned       n,
               uint8_t* const       fingers)
{
  assert(n >= 1 && n <= FINGERING_CAPACITY);
  Run run = {.n = n};
  for (unsigned i = 0; i < n; ++i) {
    // The left hand is the right one in a mirror: it runs from the top down
    const unsigned at = hand == HAND_RIGHT ? i : n - 1 - i;
    run.black[i]      = fingering_is_black(pitches[at]);
    if (i > 0) {
      const unsigned from = hand == HAND_RIGHT ? i - 1 : at;
      run.steps[i]        = (unsigned)pitches[from + 1] - pitches[from];
    }
  }
  find_best(&run, fingers);
  for (unsigned i = 0; hand == HAND_LEFT && i < n / 2; ++i) {
    const uint8_t finger = fingers[i];
    fingers[i]           = fingers[n - 1 - i];
    fingers[n - 1 - i]   = finger;
  }
}
