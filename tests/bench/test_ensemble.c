#include "ensemble.h"

#include <criterion/criterion.h>

#include <stdlib.h>
#include <string.h>

// A bar made for the test, counted by hand: the partner's turn lasts four
// beats.
enum { PARTNER, CHORDS, DRUMS, N_TRACKS };

static SmfNote
note(const unsigned track,
     const Tick     tick,
     const unsigned length,
     const unsigned pitch)
{
  return (SmfNote){.tick     = tick,
                   .length   = length,
                   .pitch    = pitch & 0x7FU,
                   .velocity = (60 + 10 * track) & 0x7FU,
                   .track    = track & 0x3FFFU};
}

static char strings[] = "partner\0chords\0drums\0turn 1 partner\0turn 2";

static SmfTrack tracks[N_TRACKS] = {{.name = 0}, {.name = 8}, {.name = 15}};

static SmfText texts[] = {
  {.tick = 0, .at = 21, .kind = SMF_MARKER},
  {.tick = 3840, .at = 36, .kind = SMF_MARKER},
};

Test(ensemble, one_bar)
{
  SmfNote notes[] = {
    note(PARTNER, 0, 320, 72),
    note(CHORDS, 0, 400, 70),    // Two under: close
    note(PARTNER, 320, 320, 70), // In unison
    note(PARTNER, 640, 300, 74), // Four over
    note(DRUMS, 960, 100, 42),
    note(CHORDS, 950, 400, 64), // In the rest, a little early
    note(CHORDS, 2880, 400, 64),
  };
  const SmfTake take = {
    .notes    = notes,
    .n_notes  = sizeof(notes) / sizeof(*notes),
    .texts    = texts,
    .n_texts  = sizeof(texts) / sizeof(*texts),
    .tracks   = tracks,
    .n_tracks = N_TRACKS,
    .strings  = strings,
  };
  Ensemble ensemble = {.notes = 0};
  cr_assert(ensemble_add(&ensemble, &take));
  cr_expect_eq(ensemble.notes, 3);
  cr_expect_eq(ensemble.close, 2);
  cr_expect_eq(ensemble.unisons, 1);
  cr_expect_eq(ensemble.busy_beats, 1);
  cr_expect_eq(ensemble.triple_beats, 1);
  cr_expect_eq(ensemble.triple_stabs, 1);
  cr_expect_eq(ensemble.rest_beats, 3);
  cr_expect_eq(ensemble.rest_stabs, 2);
  cr_expect_eq(ensemble.n_drums, 1);
  cr_expect_eq(ensemble.drums, 80);
  cr_expect_eq(ensemble.n_chords, 3);
  cr_expect_eq(ensemble.chords, 210);
  cr_expect_eq(ensemble.last_chord, 2880);
}
