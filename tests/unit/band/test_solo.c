#include "core/band/solo.h"
#include "core/rng.h"
#include "fixture.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

enum { BEAT = 960, BAR = 4 * BEAT, SEEDS = 40, CHORUS = 12 };

static Chart   chart;
static Feel    feel;
static Band    band;
static Solo    solo;
static BandBar bar;

// How loud the band follows (the bound of 12: what was asked for)

typedef struct {
  double velocity;
  int    louder;
} LoudRow;

ParameterizedTestParameters(solo, louder)
{
  static LoudRow rows[] = {
    {0.0, 0}, // Nothing was played
    {1.0, -12},
    {56.0, -12},
    {57.0, -11},
    {76.0, 0},
    {95.0, 11},
    {96.0, 12},
    {127.0, 12},
  };
  return cr_make_param_array(LoudRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const LoudRow* row, solo, louder)
{
  cr_assert_eq(solo_louder(row->velocity), row->louder, "%g", row->velocity);
}

// Rests of a beat and more, and notes that go by fast

static void
solo_write(const Tick step, const Tick length, const unsigned n)
{
  solo = solo_silent();
  for (unsigned i = 0; i < n; ++i) {
    const Tick begin = (Tick)i * step;
    solo_add(&solo, (SoloNote){begin, begin + length, 72});
  }
}

Test(solo, rests_from_a_beat_on)
{
  solo_write(2 * BEAT, BEAT, 2);
  cr_assert(solo_rests(&solo, BEAT, BEAT));
  cr_assert(solo_rests(&solo, 2 * BEAT - 1, BEAT));
  cr_assert_not(solo_rests(&solo, BEAT - 1, BEAT), "it sounds");
  cr_assert_not(solo_rests(&solo, 2 * BEAT, BEAT), "it sounds again");
  solo_write(2 * BEAT, BEAT + 1, 2);
  cr_assert_not(solo_rests(&solo, BEAT + 400, BEAT), "a tick too short");
}

Test(solo, is_busy_from_three_notes_a_beat_on)
{
  solo_write(320, 300, 12);
  for (Tick tick = 0; tick < BAR; tick += 40) {
    cr_assert(solo_is_busy(&solo, tick, BEAT), "at %ld", (long)tick);
  }
  solo_write(480, 400, 8);
  for (Tick tick = 0; tick < BAR; tick += 40) {
    cr_assert_not(solo_is_busy(&solo, tick, BEAT), "at %ld", (long)tick);
  }
}

// Three short notes together: busy from a beat before the last of them on, to
// a beat after the first
Test(solo, is_busy_before_and_after_a_flourish)
{
  solo = solo_silent();
  for (Tick tick = BEAT; tick <= BEAT + 240; tick += 120) {
    solo_add(&solo, (SoloNote){tick, tick + 100, 67});
  }
  cr_assert_not(solo_is_busy(&solo, 240, BEAT));
  cr_assert(solo_is_busy(&solo, 241, BEAT));
  cr_assert(solo_is_busy(&solo, 2 * BEAT - 1, BEAT));
  cr_assert_not(solo_is_busy(&solo, 2 * BEAT, BEAT));
}

Test(solo, keeps_three_semitones_free)
{
  solo = solo_silent();
  cr_assert_eq(solo_ceiling(&solo, 0, BAR, 76), 76);
  solo_add(&solo, (SoloNote){BEAT, 2 * BEAT, 67});
  cr_assert_eq(solo_ceiling(&solo, 0, BEAT, 76), 76);
  cr_assert_eq(solo_ceiling(&solo, 0, BEAT + 1, 76), 64);
  cr_assert_eq(solo_ceiling(&solo, 2 * BEAT, BAR, 76), 76);
  cr_assert_eq(solo_comes_down(&solo, 0, BAR, 64), BAR);
  cr_assert_eq(solo_comes_down(&solo, 0, BAR, 65), BEAT);
}

// The band beside a line, by this test's own ear: the notes as they sound

static void
band_make(const char* const name, const uint64_t seed)
{
  chart_load(&chart, "blues");
  feel_load(&feel, name);
  band_begin(&band, &chart, &feel, 120.0, rng_seed(seed, 1));
}

/// A line of a chorus, drawn by chance: between C4 and C6, some fast, with
/// rests.
static SoloNote line[400];
static unsigned n_line;

static void
draw_line(Rng* const rng)
{
  n_line  = 0;
  Tick at = 0;
  while (at < CHORUS * BAR && n_line < sizeof(line) / sizeof(*line)) {
    static const Tick steps[] = {240, 320, 480, 480, 960};
    const Tick        step    = steps[rng_below(rng, 5)];
    const unsigned    pitch   = 60 + rng_below(rng, 25);
    line[n_line++] = (SoloNote){at, at + step * 9 / 10, (uint8_t)pitch};
    at += rng_below(rng, 6) == 0 ? step + 2 * BEAT : step;
  }
}

static void
hear_line(const Tick start)
{
  solo = solo_silent();
  for (unsigned i = 0; i < n_line; ++i) {
    if (line[i].end > start - BAR && line[i].begin < start + 2 * BAR) {
      solo_add(&solo, line[i]);
    }
  }
  band_hear(&band, &solo);
}

static bool
overlaps(const SoloNote* const a, const Note* const b)
{
  return a->begin < b->tick + b->length && b->tick < a->end;
}

/// Onsets in the beat around a tick, the most of any placing of it.
static unsigned
most_onsets_about(const Tick tick)
{
  unsigned most = 0;
  for (unsigned i = 0; i < n_line; ++i) {
    unsigned n = 0;
    for (unsigned j = i; j < n_line && line[j].begin < line[i].begin + BEAT;
         ++j) {
      ++n;
    }
    const bool holds =
      line[i].begin <= tick - 60 && line[i].begin + BEAT > tick + 60;
    most = holds && n > most ? n : most;
  }
  return most;
}

Test(solo, chords_keep_below_the_line_and_out_of_fast_passages)
{
  unsigned n_chords = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng rng = rng_seed(seed, 2);
    band_make(seed % 2 ? "swing" : "straight", seed);
    draw_line(&rng);
    for (Tick start = 0; start < CHORUS * BAR; start += BAR) {
      hear_line(start);
      band_play_bar(&band, start, BAND_FULL, &bar);
      for (unsigned i = 0; i < bar.n_notes; ++i) {
        const Note* const note = &bar.notes[i].note;
        if (bar.notes[i].part != PART_CHORDS) {
          continue;
        }
        ++n_chords;
        cr_assert_lt(most_onsets_about(note->tick), 3U);
        for (unsigned j = 0; j < n_line; ++j) {
          cr_assert(!overlaps(&line[j], note) ||
                      note->pitch + 3 <= line[j].pitch,
                    "%u under %u at %ld of %ld",
                    note->pitch,
                    line[j].pitch,
                    (long)note->tick,
                    (long)line[j].begin);
        }
      }
    }
  }
  cr_assert_gt(n_chords, 2000U, "%u", n_chords);
}

/// Return the share of stabs that begin where the line rests for a beat.
static double
share_in_rests(const bool hears)
{
  unsigned n_stabs = 0;
  unsigned n_in    = 0;
  for (unsigned seed = 0; seed < SEEDS; ++seed) {
    Rng rng = rng_seed(seed, 2);
    band_make("swing", seed);
    draw_line(&rng);
    for (Tick start = 0; start < CHORUS * BAR; start += BAR) {
      if (hears) {
        hear_line(start);
      }
      band_play_bar(&band, start, BAND_FULL, &bar);
      for (unsigned i = 0; i < bar.n_notes; ++i) {
        const Note note = bar.notes[i].note;
        if (bar.notes[i].part == PART_CHORDS && note.length < BEAT) {
          Tick before = -BAR;
          Tick after  = 2 * CHORUS * BAR;
          for (unsigned j = 0; j < n_line; ++j) {
            if (line[j].begin <= note.tick && line[j].end > before) {
              before = line[j].end;
            }
            if (line[j].begin > note.tick && line[j].begin < after) {
              after = line[j].begin;
            }
          }
          ++n_stabs;
          n_in += before <= note.tick && after - before >= BEAT;
        }
      }
    }
  }
  cr_assert_gt(n_stabs, 400U);
  return (double)n_in / n_stabs;
}

Test(solo, stabs_fall_into_its_rests)
{
  const double deaf = share_in_rests(false);
  const double with = share_in_rests(true);
  cr_assert_gt(with, 0.6, "%g", with);
  cr_assert_gt(with, deaf + 0.25, "%g beside %g", with, deaf);
}

// A chord held under a high note is gone when the line comes down to it
Test(solo, chords_are_gone_when_the_line_comes_down)
{
  unsigned n_held = 0;
  for (unsigned seed = 0; seed < 200; ++seed) {
    band_make("swing", seed);
    solo = solo_silent();
    solo_add(&solo, (SoloNote){0, 2 * BEAT, 84});
    solo_add(&solo, (SoloNote){2 * BEAT, BAR, 60});
    band_hear(&band, &solo);
    band_play_bar(&band, 0, BAND_THIN, &bar);
    for (unsigned i = 0; i < bar.n_notes; ++i) {
      const Note note = bar.notes[i].note;
      if (bar.notes[i].part == PART_CHORDS && note.pitch > 57) {
        cr_assert(note.tick >= BAR || note.tick + note.length <= 2 * BEAT,
                  "%ld..%ld",
                  (long)note.tick,
                  (long)(note.tick + note.length));
        n_held += note.length > BEAT;
      }
    }
  }
  cr_assert_gt(n_held, 50U, "%u", n_held);
}

// ... also where it comes down between the half beat as it is written and as it
// swings, to which a short chord is written
Test(solo, chords_are_gone_when_the_line_comes_down_off_the_beat)
{
  unsigned n_short = 0;
  for (unsigned seed = 0; seed < 480; ++seed) {
    const Tick down = BEAT / 2 + seed % 40 * 4;
    band_make("swing", seed);
    solo = solo_silent();
    solo_add(&solo, (SoloNote){0, down, 84});
    solo_add(&solo, (SoloNote){down, BAR, 60});
    band_hear(&band, &solo);
    band_play_bar(&band, 0, BAND_FULL, &bar);
    for (unsigned i = 0; i < bar.n_notes; ++i) {
      const Note note = bar.notes[i].note;
      if (bar.notes[i].part == PART_CHORDS && note.pitch > 57) {
        cr_assert(note.tick >= BAR || note.tick + note.length <= down,
                  "%ld..%ld, over %ld",
                  (long)note.tick,
                  (long)(note.tick + note.length),
                  (long)down);
        ++n_short;
      }
    }
  }
  cr_assert_gt(n_short, 50U, "%u", n_short);
}

Test(solo, the_band_is_as_loud_as_it_is_asked_to_be)
{
  double sums[3] = {0.0, 0.0, 0.0};
  for (unsigned way = 0; way < 3; ++way) {
    band_make("swing", 5);
    solo        = solo_silent();
    solo.louder = 12 * (int)way - 12;
    band_hear(&band, &solo);
    unsigned n = 0;
    for (Tick start = 0; start < CHORUS * BAR; start += BAR) {
      band_play_bar(&band, start, BAND_FULL, &bar);
      for (unsigned i = 0; i < bar.n_notes; ++i, ++n) {
        sums[way] += bar.notes[i].note.velocity;
      }
    }
    sums[way] /= n;
  }
  cr_assert_float_eq(sums[1] - sums[0], 12.0, 0.01);
  cr_assert_float_eq(sums[2] - sums[1], 12.0, 0.01);
}

static unsigned
count_drum(const unsigned drum, const Tick from, const Tick to)
{
  unsigned n = 0;
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const Note note = bar.notes[i].note;
    n += bar.notes[i].part == PART_DRUMS && note.pitch == drum &&
         note.tick >= from && note.tick < to;
  }
  return n;
}

Test(solo, the_snare_takes_up_the_accent_now_and_then)
{
  unsigned n_with = 0;
  unsigned n_deaf = 0;
  for (unsigned seed = 0; seed < 400; ++seed) {
    for (unsigned way = 0; way < 2; ++way) {
      band_make("straight", seed);
      solo        = solo_silent();
      solo.accent = way ? 2 * BEAT : SOLO_NO_ACCENT;
      band_hear(&band, &solo);
      band_play_bar(&band, BAR, BAND_FULL, &bar);
      const bool has =
        count_drum(DRUM_SNARE, BAR + 2 * BEAT - 30, BAR + 2 * BEAT + 30) > 0;
      *(way ? &n_with : &n_deaf) += has;
    }
  }
  cr_assert_gt(n_with, n_deaf + 80, "%u beside %u", n_with, n_deaf);
  cr_assert_lt(n_with, n_deaf + 240, "not in every bar: %u", n_with);
}

Test(solo, a_fill_leads_to_the_players_turn)
{
  unsigned n_fills[2] = {0, 0};
  for (unsigned seed = 0; seed < 400; ++seed) {
    for (unsigned way = 0; way < 2; ++way) {
      band_make("swing", seed);
      solo          = solo_silent();
      solo.leads_on = way;
      band_hear(&band, &solo);
      band_play_bar(&band, BAR, BAND_FULL, &bar);
      n_fills[way] += count_drum(DRUM_RIDE, BAR + 3 * BEAT - 30, 2 * BAR) == 0;
    }
  }
  cr_assert_gt(n_fills[1], 200U, "%u", n_fills[1]);
  cr_assert_lt(n_fills[0], 20U, "%u", n_fills[0]);
}
