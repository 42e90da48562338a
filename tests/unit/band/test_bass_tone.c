#include "core/band/bass_tone.h"
#include "fixture.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdlib.h>

static const char* const chords[] = {"C",
                                     "Dbmaj7",
                                     "D7",
                                     "Ebm7",
                                     "E7b9",
                                     "Fm",
                                     "F#m7b5",
                                     "Gdim7",
                                     "Ab6",
                                     "A7sus4",
                                     "Bb13",
                                     "Baug",
                                     "C/E",
                                     "G7/F",
                                     "C7alt"};

enum { N_CHORDS = sizeof(chords) / sizeof(*chords) };

/// Ask for a tone after every last pitch.
static unsigned
ask(const BassTone     tone,
    const Chord* const chord,
    const Chord* const next,
    const unsigned     last,
    Rng* const         rng)
{
  const BassAsk it = {tone, chord, next, {{0, 0}, false}, last};
  return bass_tone_pitch(&it, rng);
}

Test(bass_tone, lies_on_the_bass_whatever_is_asked)
{
  Rng rng = rng_seed(1, 1);
  for (unsigned i = 0; i < N_CHORDS * N_CHORDS; ++i) {
    const Chord chord = chord_named(chords[i % N_CHORDS]);
    const Chord next  = chord_named(chords[i / N_CHORDS]);
    for (unsigned last = BASS_LOWEST; last <= BASS_HIGHEST; ++last) {
      for (BassTone tone = BASS_ROOT; tone <= BASS_APPROACH; ++tone) {
        const unsigned pitch = ask(tone, &chord, &next, last, &rng);
        cr_assert_geq(pitch, (unsigned)BASS_LOWEST);
        cr_assert_leq(pitch, (unsigned)BASS_HIGHEST);
      }
    }
  }
}

typedef struct {
  char     chord[8];
  unsigned root; ///< Pitch classes
  unsigned fifth;
} ToneRow;

ParameterizedTestParameters(bass_tone, classes)
{
  static ToneRow rows[] = {
    {"C", 0, 7},
    {"Ebm7", 3, 10},
    {"F#m7b5", 6, 0}, // Its fifth is flat
    {"Baug", 11, 7},  // Its fifth is sharp
    {"Gdim7", 7, 1},
    {"C/E", 4, 4}, // A slash chord stays on its bass note
    {"C7alt", 0, 7},
  };
  return cr_make_param_array(ToneRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const ToneRow* row, bass_tone, classes)
{
  const Chord chord = chord_named(row->chord);
  Rng         rng   = rng_seed(2, 1);
  for (unsigned last = 0; last <= BASS_HIGHEST; ++last) {
    const unsigned root   = ask(BASS_ROOT, &chord, &chord, last, &rng);
    const unsigned octave = ask(BASS_OCTAVE, &chord, &chord, last, &rng);
    const unsigned fifth  = ask(BASS_FIFTH, &chord, &chord, last, &rng);
    cr_assert_eq(root % 12, row->root);
    cr_assert_eq(octave % 12, row->root);
    cr_assert_eq(fifth % 12, row->fifth);
  }
}

Test(bass_tone, leads_to_the_root_by_step_or_from_the_fifth)
{
  Rng rng = rng_seed(3, 1);
  for (unsigned i = 0; i < N_CHORDS * N_CHORDS; ++i) {
    const Chord    chord  = chord_named(chords[i % N_CHORDS]);
    const Chord    next   = chord_named(chords[i / N_CHORDS]);
    const unsigned target = spelling_pitch_class(next.bass);
    for (unsigned last = BASS_LOWEST; last <= BASS_HIGHEST; ++last) {
      const unsigned pitch = ask(BASS_APPROACH, &chord, &next, last, &rng);
      const unsigned above = (pitch + 12 - target) % 12;
      cr_assert(above == 1 || above == 2 || above == 7 || above == 10 ||
                  above == 11,
                "%u above the root of %s",
                above,
                chords[i / N_CHORDS]);
    }
  }
}

Test(bass_tone, leads_from_near_by_if_it_can)
{
  Rng      rng   = rng_seed(5, 1);
  unsigned n_far = 0;
  unsigned n     = 0;
  for (unsigned i = 0; i < N_CHORDS * N_CHORDS; ++i) {
    const Chord chord = chord_named(chords[i % N_CHORDS]);
    const Chord next  = chord_named(chords[i / N_CHORDS]);
    for (unsigned last = 33; last <= 45; ++last) {
      const unsigned pitch = ask(BASS_APPROACH, &chord, &next, last, &rng);
      n_far += abs((int)pitch - (int)last) > 9;
      ++n;
    }
  }
  cr_assert_lt(20 * n_far, n, "%u of %u from afar", n_far, n);
}

Test(bass_tone, stays_at_home_on_the_way_back_to_the_same_root)
{
  const Chord    chord = chord_named("Am7");
  const unsigned home  = 0xAB5; // No sharps or flats: C major, A dorian but F#
  Rng            rng   = rng_seed(4, 1);
  for (unsigned i = 0; i < 500; ++i) {
    const unsigned pitch = ask(BASS_APPROACH, &chord, &chord, 33, &rng);
    cr_assert(home >> pitch % 12 & 1U, "%u leads to A", pitch);
  }
}

Test(bass_tone, takes_the_root_near_by)
{
  for (unsigned i = 0; i < N_CHORDS; ++i) {
    const Chord chord = chord_named(chords[i]);
    for (unsigned last = BASS_LOWEST; last <= 45; ++last) {
      const unsigned root = bass_tone_root(&chord, last);
      const int      off  = abs((int)root - (int)last);
      cr_assert_leq(off, 11);
      // No octave of it within E1 to A2 lies nearer
      cr_assert(root + 12 > 45 || abs((int)root + 12 - (int)last) >= off);
      cr_assert(root < 28 + 12 || abs((int)root - 12 - (int)last) >= off);
    }
  }
}
