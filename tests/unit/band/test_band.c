#include "core/band/band.h"
#include "fixture.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <math.h>
#include <stdlib.h>

static Chart   chart;
static Feel    feel;
static Band    band;
static BandBar bar;

static const char* const feels[] =
  {"straight", "swing", "shuffle", "bossa", "slow12", "waltz"};

enum {
  N_FEELS = sizeof(feels) / sizeof(*feels),
  N_PITCH = 128,
  EARLY   = 24, ///< Ticks that a human note may begin before its place
};

/// A chart in every meter, with two and more chords in a bar, silence, slash
/// chords, triads and altered chords.
typedef struct {
  char meter[8];
  char key[16];
  char bars[160];
} ChartRow;

static ChartRow charts[] = {
  {"4/4", "C major", "C|F|G7|C|Am7 D7|Dm7 / / G7|C/E F / G7|C Db D Eb"},
  {"4/4", "F# minor", "F#m7|G#m7b5 C#7alt|F#m6|N.C.|Bm9|N.C. C#7b9|F#m|E13 D7"},
  {"4/4", "Bb major", "Bb7|Eb9|Bb7|Fm7 Bb13|Eb7|Edim7|Bb7|G7#9|Cm7|F7sus4|Bb6"},
  {"3/4", "G major", "G|D7 G|Em7 / A7|D D7/C|G/B C|N.C. D7|G"},
  {"2/4", "F major", "F|Gm C7|F Dm|Gm7 C7|F7|Bb Bdim7|F/C C7|F"},
  {"5/4", "D minor", "Dm|Gm / / A7 /|Dm Bb / C /|F|E7 A7 D7 G7 C7|Dm"},
  {"6/8", "E minor", "Em|Am B7|Em|C B7|Am Em|B7|Em D|C B7"},
  {"12/8", "A major", "A7|D7|A7 F#7|Bm7 E7|A C#7 D D#dim7|A/E E7|A"},
};

enum { N_CHARTS = sizeof(charts) / sizeof(*charts) };

static bool
begin(const unsigned chart_at,
      const unsigned feel_at,
      const double   bpm,
      const uint64_t seed)
{
  chart_write(&chart,
              charts[chart_at].meter,
              charts[chart_at].key,
              charts[chart_at].bars);
  feel_load(&feel, feels[feel_at]);
  band_begin(&band, &chart, &feel, bpm, rng_seed(seed, 2));
  return feel_fits(&feel, chart.meter);
}

static Tick
bar_ticks(void)
{
  return meter_bar_ticks(chart.meter);
}

static Tick
end_of(const Note* const note)
{
  return note->tick + note->length;
}

/// Check what holds for every bar by itself.
static void
check_bar(const Tick start, const char* const what)
{
  const Tick end = start + bar_ticks();
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const Note*    note = &bar.notes[i].note;
    const unsigned part = bar.notes[i].part;
    cr_assert_geq(note->tick, start, "%s", what);
    cr_assert_lt(note->tick, end, "%s", what);
    cr_assert(i == 0 || note->tick >= bar.notes[i - 1].note.tick, "%s", what);
    cr_assert_geq(note->length, 1, "%s", what);
    cr_assert(1 <= note->velocity && note->velocity <= 127, "%s", what);
    cr_assert(PART_CHORDS <= part && part <= PART_DRUMS, "%s", what);
    cr_assert(part == PART_CHORDS || end_of(note) <= end, "%s: too long", what);
    cr_assert(part != PART_BASS || (28 <= note->pitch && note->pitch <= 55));
    cr_assert(part != PART_CHORDS || (48 <= note->pitch && note->pitch <= 76));
  }
}

/// Check that no pitch of a part is struck while it sounds, from bar to bar.
static void
check_overlaps(Tick sounding[N_PARTS][N_PITCH], const char* const what)
{
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const Note* const note = &bar.notes[i].note;
    Tick* const       last = &sounding[bar.notes[i].part][note->pitch];
    cr_assert_geq(note->tick, *last, "%s: pitch %u", what, note->pitch);
    *last = end_of(note);
  }
}

/// Check that chords and bass sound only where there is a chord; and the
/// chords' notes belong to the chord (or are the ninth that was added).
static void
check_harmony(const char* const what)
{
  const Tick beat = meter_beat_ticks(chart.meter);
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const Note* const note = &bar.notes[i].note;
    if (bar.notes[i].part == PART_DRUMS) {
      continue;
    }
    const Chord* const now  = chart_chord_at(&chart, note->tick);
    const Chord* const soon = chart_chord_at(&chart, note->tick + beat * 2 / 3);
    cr_assert_not(chord_is_silence(now) && chord_is_silence(soon), "%s", what);
    if (bar.notes[i].part == PART_CHORDS) {
      Spelling   spelling;
      const bool is_now =
        chord_spell(now, note->pitch, &spelling) ||
        (note->pitch + 12U - spelling_pitch_class(now->root)) % 12U == 2;
      const bool is_soon =
        chord_spell(soon, note->pitch, &spelling) ||
        (note->pitch + 12U - spelling_pitch_class(soon->root)) % 12U == 2;
      cr_assert(is_now || is_soon, "%s: a foreign note", what);
    } else {
      const Chord* const at = chart_chord_at(&chart, note->tick + EARLY);
      cr_assert_not(chord_is_silence(at), "%s: the bass in silence", what);
    }
  }
}

Test(band, plays_every_chart_in_every_feel)
{
  unsigned n_played = 0;
  for (unsigned i = 0; i < N_CHARTS * N_FEELS; ++i) {
    for (uint64_t seed = 0; seed < 4; ++seed) {
      static Tick  sounding[N_PARTS][N_PITCH];
      const double bpm = 50.0 + 70.0 * (double)seed;
      if (!begin(i % N_CHARTS, i / N_CHARTS, bpm, seed)) {
        break;
      }
      memset(sounding, 0, sizeof(sounding));
      char what[256];
      (void)snprintf(what,
                     sizeof(what),
                     "%s %s %g",
                     feels[i / N_CHARTS],
                     charts[i % N_CHARTS].bars,
                     bpm);
      for (unsigned j = 0; j < 4 * chart.n_bars; ++j) {
        const BandFullness fullness = j % 16 < 8    ? BAND_FULL
                                      : j % 16 < 14 ? BAND_THIN
                                                    : BAND_ROOTS;
        const Tick         start    = (Tick)j * bar_ticks();
        band_play_bar(&band, start, fullness, &bar);
        check_bar(start, what);
        check_overlaps(sounding, what);
        check_harmony(what);
      }
      band_end(&band, 4 * chart_ticks(&chart), &bar);
      check_bar(4 * chart_ticks(&chart), what);
      check_overlaps(sounding, what);
      ++n_played;
    }
  }
  // straight plays all eight charts, swing five, shuffle and bossa four, slow12
  // two, waltz one; with four seeds each
  cr_assert_eq(n_played, 4U * (8 + 5 + 4 + 4 + 2 + 1));
}

/// Every chord's bass note is heard where the chord comes, in every feel.
Test(band, says_each_root_where_its_chord_comes)
{
  for (unsigned i = 0; i < N_CHARTS * N_FEELS; ++i) {
    if (!begin(i % N_CHARTS, i / N_CHARTS, 120.0, 9)) {
      continue;
    }
    for (unsigned j = 0; j < 3 * chart.n_bars; ++j) {
      const Tick start = (Tick)j * bar_ticks();
      const Tick beat  = meter_beat_ticks(chart.meter);
      band_play_bar(&band, start, j % 2 ? BAND_FULL : BAND_THIN, &bar);
      for (Tick tick = start; tick < start + bar_ticks(); tick += beat) {
        const Chord* const chord = chart_chord_at(&chart, tick);
        bool               found = chord_is_silence(chord) ||
                     chord_equals(chord, chart_chord_at(&chart, tick - 1));
        for (unsigned k = 0; k < bar.n_notes; ++k) {
          const Note* const note = &bar.notes[k].note;
          found =
            found || (bar.notes[k].part == PART_BASS &&
                      llabs(note->tick - tick) <= EARLY &&
                      note->pitch % 12U == spelling_pitch_class(chord->bass));
        }
        cr_assert(
          found, "%s in %s", charts[i % N_CHARTS].bars, feels[i / N_CHARTS]);
      }
    }
  }
}

static unsigned
count_notes(const unsigned     chart_at,
            const unsigned     feel_at,
            const BandFullness fullness)
{
  unsigned n = 0;
  (void)begin(chart_at, feel_at, 120.0, 1);
  for (unsigned i = 0; i < 4 * chart.n_bars; ++i) {
    band_play_bar(&band, (Tick)i * bar_ticks(), fullness, &bar);
    n += bar.n_notes;
  }
  return n;
}

Test(band, is_fuller_when_full_and_thinnest_with_roots_alone)
{
  for (unsigned i = 0; i < N_CHARTS * N_FEELS; ++i) {
    const unsigned at = i % N_CHARTS;
    const unsigned by = i / N_CHARTS;
    if (begin(at, by, 120.0, 1)) {
      const unsigned n_roots = count_notes(at, by, BAND_ROOTS);
      const unsigned n_thin  = count_notes(at, by, BAND_THIN);
      const unsigned n_full  = count_notes(at, by, BAND_FULL);
      cr_assert_lt(2 * n_roots, n_thin, "%s", feels[by]);
      cr_assert_lt(10 * n_thin, 9 * n_full, "%s", feels[by]);
    }
  }
}

Test(band, has_one_bass_note_a_bar_under_roots_on_the_first_beat)
{
  for (unsigned i = 0; i < N_CHARTS; ++i) {
    (void)begin(i, 0, 120.0, 1);
    for (unsigned j = 0; j < 2 * chart.n_bars; ++j) {
      const Tick start = (Tick)j * bar_ticks();
      band_play_bar(&band, start, BAND_ROOTS, &bar);
      const Chord* const chord = chart_chord_at(&chart, start);
      unsigned           n     = 0;
      for (unsigned k = 0; k < bar.n_notes; ++k) {
        const Note* const note = &bar.notes[k].note;
        cr_assert_neq(bar.notes[k].part, PART_CHORDS);
        if (bar.notes[k].part == PART_BASS) {
          cr_assert_leq(note->tick, start + 4);
          cr_assert_eq(note->pitch % 12U, spelling_pitch_class(chord->bass));
          ++n;
        }
      }
      cr_assert_eq(n, chord_is_silence(chord) ? 0U : 1U);
    }
  }
}

Test(band, plays_the_same_with_the_same_seed_and_not_with_another)
{
  static BandBar bars[3][24];
  memset(bars, 0, sizeof(bars));
  for (unsigned run = 0; run < 3; ++run) {
    (void)begin(2, 1, 130.0, run < 2 ? 5 : 6);
    for (unsigned i = 0; i < 24; ++i) {
      band_play_bar(&band,
                    (Tick)i * bar_ticks(),
                    i < 12 ? BAND_FULL : BAND_THIN,
                    &bars[run][i]);
    }
  }
  unsigned n_other = 0;
  for (unsigned i = 0; i < 24; ++i) {
    cr_assert_eq(bars[0][i].n_notes, bars[1][i].n_notes);
    for (unsigned j = 0; j < bars[0][i].n_notes; ++j) {
      const PartNote a = bars[0][i].notes[j];
      const PartNote b = bars[1][i].notes[j];
      const PartNote c = bars[2][i].notes[j];
      cr_assert(a.note.tick == b.note.tick && a.note.length == b.note.length &&
                a.note.pitch == b.note.pitch &&
                a.note.velocity == b.note.velocity && a.part == b.part);
      n_other += a.note.tick != c.note.tick || a.note.pitch != c.note.pitch;
    }
  }
  cr_assert_gt(n_other, 100U);
}

/// Return a word for the rhythm of a part in the bar: a bit for each third of a
/// beat that has an onset; of the drums, bass drum and snare alone.
static uint64_t
rhythm_of(const unsigned part, const Tick start)
{
  uint64_t     rhythm = 0;
  const double slot   = (double)meter_beat_ticks(chart.meter) / 3.0;
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const Note* const note = &bar.notes[i].note;
    if (bar.notes[i].part == part &&
        (part != PART_DRUMS || (36 <= note->pitch && note->pitch <= 38))) {
      rhythm |= UINT64_C(1) << lround((double)(note->tick - start) / slot);
    }
  }
  return rhythm;
}

/// A full band does not go round in one bar: over a chorus on one chord, chords
/// and drums play several rhythms.
Test(band, is_no_loop)
{
  for (unsigned i = 0; i < N_FEELS; ++i) {
    unsigned       n_rhythms[N_PARTS] = {0};
    uint64_t       seen[N_PARTS][16];
    const unsigned at = i == 4 ? 7 : i == 5 ? 3 : 0;
    cr_assert(begin(at, i, 120.0, 11), "%s", feels[i]);
    chart_write(&chart, charts[at].meter, "C major", "C7|C7|C7|C7|C7|C7|C7|C7");
    for (unsigned j = 0; j < 16; ++j) {
      const Tick start = (Tick)j * bar_ticks();
      band_play_bar(&band, start, BAND_FULL, &bar);
      for (unsigned part = PART_CHORDS; part <= PART_DRUMS; ++part) {
        const uint64_t rhythm = rhythm_of(part, start);
        bool           is_new = true;
        for (unsigned k = 0; k < n_rhythms[part]; ++k) {
          is_new = is_new && seen[part][k] != rhythm;
        }
        if (is_new) {
          seen[part][n_rhythms[part]++] = rhythm;
        }
      }
    }
    cr_assert_geq(n_rhythms[PART_CHORDS], 4U, "%s", feels[i]);
    cr_assert_geq(n_rhythms[PART_DRUMS], 3U, "%s", feels[i]);
  }
}

/// Bars counted in, and the beats that have a stick, from the first bar's.
typedef struct {
  char     meter[8];
  double   bpm;
  unsigned n_bars;
  unsigned beats;
} CountRow;

ParameterizedTestParameters(band, count_in)
{
  static CountRow rows[] = {
    {"4/4", 120, 1, 0xF},   // 2 s
    {"4/4", 150, 1, 0xF},   // 1.6 s
    {"4/4", 151, 2, 0xF5},  // 1.589 s: on one and three, then on all
    {"3/4", 112, 1, 0x7},   // 1.607 s
    {"3/4", 120, 2, 0x39},  // 1.5 s
    {"2/4", 70, 1, 0x3},    // 1.71 s
    {"2/4", 120, 2, 0xD},   //
    {"5/4", 187, 1, 0x1F},  // 1.604 s
    {"5/4", 200, 2, 0x3E1}, //
    {"6/8", 110, 1, 0x3},   // 1.636 s
    {"6/8", 120, 2, 0xD},   //
    {"12/8", 220, 1, 0xF},  // 1.636 s
    {"12/8", 230, 2, 0xF5}, //
  };
  return cr_make_param_array(CountRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const CountRow* row, band, count_in)
{
  chart_write(&chart, row->meter, "C major", "C");
  feel_load(&feel, "straight");
  band_begin(&band, &chart, &feel, row->bpm, rng_seed(1, 1));
  const unsigned n_bars = band_count_in(&band, 0, &bar);
  cr_assert_eq(n_bars, row->n_bars);

  const Tick beat  = meter_beat_ticks(chart.meter);
  const Tick first = -(Tick)n_bars * bar_ticks();
  unsigned   beats = 0;
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const Tick into = bar.notes[i].note.tick - first;
    cr_assert_eq(into % beat, 0, "the count is exact");
    cr_assert_lt(bar.notes[i].note.tick, 0);
    cr_assert(i == 0 || bar.notes[i].note.tick > bar.notes[i - 1].note.tick);
    cr_assert_eq(bar.notes[i].part, PART_DRUMS);
    cr_assert_eq(bar.notes[i].note.pitch, 37, "General MIDI's side stick");
    beats |= 1U << into / beat;
  }
  cr_assert_eq(beats, row->beats, "%x, not %x", beats, row->beats);
}

Test(band, ends_together_on_the_tonic)
{
  static const unsigned tonics[N_CHARTS] = {0, 6, 10, 7, 5, 2, 4, 9};
  for (unsigned i = 0; i < N_CHARTS; ++i) {
    (void)begin(i, 0, 100.0, 3);
    const Tick start = chart_ticks(&chart);
    for (Tick tick = 0; tick < start; tick += bar_ticks()) {
      band_play_bar(&band, tick, BAND_FULL, &bar);
    }
    band_end(&band, start, &bar);
    unsigned n[N_PARTS] = {0};
    for (unsigned j = 0; j < bar.n_notes; ++j) {
      const PartNote* const it = &bar.notes[j];
      cr_assert_leq(it->note.tick, start + 4, "not together");
      cr_assert_leq(end_of(&it->note), start + bar_ticks());
      cr_assert(it->part != PART_BASS || it->note.pitch % 12U == tonics[i]);
      ++n[it->part];
    }
    cr_assert_eq(n[PART_BASS], 1U);
    cr_assert_geq(n[PART_CHORDS], 3U);
    cr_assert_geq(n[PART_DRUMS], 1U);
  }
}

/// Return the pitch classes of the closing chord.
static unsigned
closing_chord(const char* const key, const char* const bars)
{
  unsigned classes = 0;
  chart_write(&chart, "4/4", key, bars);
  feel_load(&feel, "straight");
  band_begin(&band, &chart, &feel, 100.0, rng_seed(1, 1));
  band_end(&band, 0, &bar);
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    if (bar.notes[i].part == PART_CHORDS) {
      classes |= 1U << bar.notes[i].note.pitch % 12;
    }
  }
  return classes;
}

Test(band, ends_on_the_last_tonic_chord_or_on_a_triad_of_its_own)
{
  const unsigned c_major = 1U << 0 | 1U << 4 | 1U << 7;
  const unsigned c_minor = 1U << 0 | 1U << 3 | 1U << 7;
  cr_assert_eq(closing_chord("C major", "C|F|C6|G7"),
               1U << 4 | 1U << 7 | 1U << 9 | 1U << 2); // 3 5 6 9
  cr_assert_eq(closing_chord("C major", "Dm7|G7"), c_major);
  cr_assert_eq(closing_chord("C minor", "Dm7b5|G7"), c_minor);
  cr_assert_eq(closing_chord("C major", "C/E|G7"), c_major, "C/E is no end");
}
