#include "core/band/bass_tone.h"
#include "core/band/walk.h"
#include "fixture.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdlib.h>

enum {
  LINE_MAX = 512,
  N_SEEDS  = 12,
};

/// A line of some bars.
typedef struct {
  unsigned n;
  WalkNote notes[LINE_MAX];
} Line;

static Walk  walk;
static Chart chart;
static Feel  feel;

static void
play(Line* const    line,
     const BassLine kind,
     const unsigned n_bars,
     const uint64_t seed)
{
  memset(&walk, 0, sizeof(walk));
  line->n = 0;
  Rng rng = rng_seed(seed, 3);
  for (unsigned bar = 0; bar < n_bars; ++bar) {
    const Tick start = (Tick)bar * meter_bar_ticks(chart.meter);
    const Cue  cue   = {&chart, &feel, 120.0, start, BAND_FULL, NULL};
    cr_assert_leq(line->n + WALK_BAR_MAX, LINE_MAX);
    const unsigned n = walk_bar(&walk, &cue, kind, &rng, &line->notes[line->n]);
    cr_assert_leq(n, WALK_BAR_MAX);
    for (unsigned i = line->n; i < line->n + n; ++i) {
      cr_assert_geq(line->notes[i].tick, start);
      cr_assert_lt(line->notes[i].tick, cue_end(&cue));
    }
    line->n += n;
  }
}

/// Whether a chord that was not there just before comes at a tick.
static bool
is_change(const Tick tick)
{
  return !chord_equals(chart_chord_at(&chart, tick),
                       chart_chord_at(&chart, tick - 1));
}

static void
check_range(const Line* const line)
{
  for (unsigned i = 0; i < line->n; ++i) {
    cr_assert_geq(line->notes[i].pitch, 28, "below E1");
    cr_assert_leq(line->notes[i].pitch, 55, "above G3");
  }
}

/// Each chord begins with its root, or with the bass note of a slash chord.
static void
check_roots(const Line* const line)
{
  for (unsigned i = 0; i < line->n; ++i) {
    const Tick         tick  = line->notes[i].tick;
    const Chord* const chord = chart_chord_at(&chart, tick);
    if (is_change(tick)) {
      cr_assert_eq(line->notes[i].pitch % 12U,
                   spelling_pitch_class(chord->bass),
                   "no root where %s comes",
                   chord->suffix);
    }
  }
}

/// Return the pitch classes of the key's signature.
static unsigned
key_notes(void)
{
  Scale scale = {chart.key.tonic, 0};
  cr_assert_eq(scale_kind_named(&scale.kind,
                                chart.key.is_minor ? "natural minor" : "major"),
               STATUS_OK);
  return scale_pitch_classes(scale);
}

/// The note on the beat before a change, unless it is a change itself, leads to
/// the root by step or from its fifth, up a fourth or down a fifth.
static void
check_approaches(const Line* const line)
{
  const Tick beat = meter_beat_ticks(chart.meter);
  for (unsigned i = 0; i + 1 < line->n; ++i) {
    const WalkNote here = line->notes[i];
    const WalkNote next = line->notes[i + 1];
    if (next.tick - here.tick == beat && is_change(next.tick) &&
        !is_change(here.tick) && here.tick % chart_ticks(&chart) != 0) {
      const int step = (int)next.pitch - (int)here.pitch;
      cr_assert((step != 0 && abs(step) <= 2) || step == 5 || step == -7,
                "an approach by %d",
                step);
      const unsigned home = scale_pitch_classes(scale_for_chord(
                              chart_chord_at(&chart, here.tick))) |
                            key_notes();
      cr_assert(abs(step) != 2 || home >> here.pitch % 12 & 1U,
                "a foreign tone");
    }
  }
}

/// A note that its chord does not have is left by step.
static void
check_passing_notes(const Line* const line)
{
  for (unsigned i = 0; i + 1 < line->n; ++i) {
    const WalkNote     here  = line->notes[i];
    const Chord* const chord = chart_chord_at(&chart, here.tick);
    if (here.role == WALK_WEAK && !chord_has_core_tone(chord, here.pitch)) {
      const int step = (int)line->notes[i + 1].pitch - (int)here.pitch;
      cr_assert(abs(step) == 1 || abs(step) == 2,
                "a passing note left hanging");
    }
    if (here.role == WALK_STRONG) {
      cr_assert(chord_has_core_tone(chord, here.pitch));
    }
    const WalkNote next = line->notes[i + 1];
    if (here.role == WALK_ARRIVE && next.role == WALK_WEAK &&
        abs((int)next.pitch - (int)here.pitch) > 4) {
      cr_assert(chord_has_core_tone(chord, next.pitch), "a leap to nowhere");
    }
  }
}

/// Leaps are an octave at most; beyond a sixth they are rare. No pitch is
/// played three times running.
static void
check_leaps(const Line* const line, unsigned* const n_wide)
{
  for (unsigned i = 0; i + 1 < line->n; ++i) {
    const int step = (int)line->notes[i + 1].pitch - (int)line->notes[i].pitch;
    cr_assert_leq(abs(step), 12);
    *n_wide += abs(step) > 9;
    cr_assert(i + 2 >= line->n || step != 0 ||
                line->notes[i + 2].pitch != line->notes[i].pitch,
              "three times the same");
  }
}

static const char* const tonics[] =
  {"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"};

static const char* const shipped[] = {"blues",
                                      "blues-jazz",
                                      "blues-minor",
                                      "blues-quick-change",
                                      "modal-vamp",
                                      "one-chord",
                                      "sixteen-bar",
                                      "two-five-one",
                                      "waltz"};

Test(walk, keeps_its_rules_on_every_shipped_chart_in_every_key)
{
  static Line line;
  unsigned    n      = 0;
  unsigned    n_wide = 0;
  for (unsigned i = 0; i < sizeof(shipped) / sizeof(*shipped); ++i) {
    for (unsigned key = 0; key < 12; ++key) {
      Spelling tonic = {0, 0};
      chart_load(&chart, shipped[i]);
      cr_assert_gt(spelling_parse(&tonic, tonics[key]), 0U);
      chart_transpose(&chart, tonic);
      for (uint64_t seed = 0; seed < 4; ++seed) {
        play(&line, BASS_LINE_WALKING, 2 * chart.n_bars, seed);
        cr_assert_eq(line.n,
                     2 * chart.n_bars * meter_beats_per_bar(chart.meter));
        check_range(&line);
        check_roots(&line);
        check_approaches(&line);
        check_passing_notes(&line);
        check_leaps(&line, &n_wide);
        n += line.n;
      }
    }
  }
  cr_assert_lt(100 * n_wide, n, "%u of %u leaps beyond a sixth", n_wide, n);
}

/// Charts that a line can stumble over.
typedef struct {
  char meter[8];
  char key[16];
  char bars[200];
} HardRow;

ParameterizedTestParameters(walk, hard_charts)
{
  static HardRow rows[] = {
    {"4/4", "C major", "C Db D Eb|E F F# G|Ab A Bb B|C7 F7 Bb7 Eb7"},
    {"4/4", "C major", "C F# Bb E|Ab D Eb A|B F Db G|E7 Bb7 E7 Bb7"},
    {"4/4", "C major", "E E/D C/E Am/G|Dm/F G/F C/E Am|F/A Bb/D C/E F/C|G/B C"},
    {"4/4", "A minor", "Am|N.C.|Am N.C.|N.C. E7|N.C.|N.C.|E7 / N.C. Am|Dm"},
    {"4/4", "C major", "N.C.|N.C."},
    {"4/4", "C major", "Cmaj7|Cm7|C7|Cdim7|C6|Caug|C7sus4|C7alt"},
    {"3/4", "G major", "G / D|Em|C D G|Am D7|Bm7 E7|Am7|D7 / G|G"},
    {"2/4", "F major", "F|Gm C7|F Dm|Gm7 C7|F7|Bb|Bdim7 F|C7 F"},
    {"5/4", "D minor", "Dm|Gm / / A7 /|Dm Bb / C /|F|E A D G C|Dm"},
    {"6/8", "E minor", "Em|Am B7|Em|C B7|Am Em|B7|Em D|C B7"},
    {"12/8", "Bb major", "Bb7|Eb7|Bb7 G7|Cm7 F7|Bb G7 Cm F7|Eb Edim7|Bb"},
  };
  return cr_make_param_array(HardRow, rows, sizeof(rows) / sizeof(*rows));
}

static unsigned
sounding_beats(void)
{
  unsigned n = 0;
  for (Tick tick = 0; tick < chart_ticks(&chart);
       tick += meter_beat_ticks(chart.meter)) {
    n += !chord_is_silence(chart_chord_at(&chart, tick));
  }
  return n;
}

ParameterizedTest(const HardRow* row, walk, hard_charts)
{
  static Line line;
  unsigned    n_wide = 0;
  chart_write(&chart, row->meter, row->key, row->bars);
  for (uint64_t seed = 0; seed < N_SEEDS; ++seed) {
    play(&line, BASS_LINE_WALKING, 3 * chart.n_bars, seed);
    cr_assert_eq(line.n, 3 * sounding_beats());
    check_range(&line);
    check_roots(&line);
    check_approaches(&line);
    check_passing_notes(&line);
    check_leaps(&line, &n_wide);
  }
}

Test(walk, says_the_root_at_the_top_of_the_form_though_nothing_changes)
{
  static Line line;
  chart_load(&chart, "one-chord");
  for (uint64_t seed = 0; seed < N_SEEDS; ++seed) {
    play(&line, BASS_LINE_WALKING, 3 * chart.n_bars, seed);
    for (unsigned i = 0; i < line.n; i += 4 * chart.n_bars) {
      cr_assert_eq(line.notes[i].pitch % 12, 0, "C");
    }
  }
}

Test(walk, in_two_has_halves_of_the_bar_roots_and_fifths)
{
  static Line line;
  unsigned    n_roots  = 0;
  unsigned    n_fifths = 0;
  unsigned    n_halves = 0;
  chart_load(&chart, "blues-jazz");
  for (uint64_t seed = 0; seed < N_SEEDS; ++seed) {
    play(&line, BASS_LINE_TWO, 2 * chart.n_bars, seed);
    check_range(&line);
    check_roots(&line);
    for (unsigned i = 0; i < line.n; ++i) {
      const Tick         in_bar = line.notes[i].tick % 3840;
      const Chord* const chord  = chart_chord_at(&chart, line.notes[i].tick);
      const unsigned     root   = spelling_pitch_class(chord->root);
      const unsigned     above  = (line.notes[i].pitch + 12U - root) % 12U;
      cr_assert(in_bar == 0 || in_bar == 1920 ||
                line.notes[i].role == WALK_APPROACH);
      cr_assert(line.notes[i].role != WALK_APPROACH || in_bar == 2880 ||
                in_bar == 960);
      n_roots += in_bar == 0 && above == 0;
      n_halves += in_bar == 1920 && !is_change(line.notes[i].tick);
      n_fifths += in_bar == 1920 && (above == 7 || above == 6);
    }
  }
  cr_assert_eq(n_roots, N_SEEDS * 24U);
  cr_assert_gt(2 * n_fifths, n_halves, "%u of %u fifths", n_fifths, n_halves);
}

Test(walk, in_two_has_one_note_a_bar_in_three)
{
  static Line line;
  chart_write(&chart, "3/4", "G major", "G|G|G|G");
  play(&line, BASS_LINE_TWO, 3, 5);
  cr_assert_eq(line.n, 3U);
  for (unsigned i = 0; i < line.n; ++i) {
    cr_assert_eq(line.notes[i].tick, (Tick)i * 2880);
  }
}

Test(walk, goes_where_it_planned_to_go)
{
  chart_load(&chart, "sixteen-bar");
  memset(&walk, 0, sizeof(walk));
  Rng rng = rng_seed(8, 3);
  for (unsigned bar = 0; bar < 64; ++bar) {
    WalkNote      notes[WALK_BAR_MAX];
    const Cue     cue     = {&chart, &feel, 120.0, bar * 3840, BAND_FULL, NULL};
    const uint8_t planned = walk.planned;
    cr_assert_gt(walk_bar(&walk, &cue, BASS_LINE_WALKING, &rng, notes), 0U);
    cr_assert(bar == 0 || notes[0].pitch == planned);
    cr_assert_eq(walk.planned_tick, (Tick)(bar + 1) * 3840);
  }
}

Test(walk, plays_roots_when_what_was_planned_cannot_be)
{
  chart_write(&chart, "4/4", "C major", "C|F");
  memset(&walk, 0, sizeof(walk));
  walk.last         = 28;
  walk.planned      = 55; // No leap goes so far
  walk.planned_tick = 0;
  Rng       rng     = rng_seed(1, 3);
  WalkNote  notes[WALK_BAR_MAX];
  const Cue cue = {&chart, &feel, 120.0, 0, BAND_FULL, NULL};
  cr_assert_eq(walk_bar(&walk, &cue, BASS_LINE_WALKING, &rng, notes), 4U);
  for (unsigned i = 0; i < 4; ++i) {
    cr_assert_eq(notes[i].pitch, 36);
  }
}

/// A bar that goes on with its chord does not begin on the seventh, but for
/// once in a while.
Test(walk, hardly_begins_a_bar_on_the_seventh)
{
  static Line line;
  unsigned    n_bars    = 0;
  unsigned    n_seventh = 0;
  chart_load(&chart, "one-chord");
  for (uint64_t seed = 0; seed < 40; ++seed) {
    play(&line, BASS_LINE_WALKING, 16, seed);
    for (unsigned i = 0; i < line.n; i += 4) {
      n_seventh += line.notes[i].pitch % 12 == 10;
      ++n_bars;
    }
  }
  cr_assert_lt(12 * n_seventh, n_bars, "%u of %u", n_seventh, n_bars);
}

/// Over a minor chord the major third is hardly ever heard, not even on the way
/// to somewhere; and the line lies in the lower middle of the instrument.
Test(walk, keeps_off_the_wrong_third_and_out_of_the_cellar_and_the_attic)
{
  static Line line;
  unsigned    n       = 0;
  unsigned    n_minor = 0;
  unsigned    n_wrong = 0;
  unsigned    n_high  = 0;
  double      sum     = 0.0;
  chart_load(&chart, "two-five-one");
  for (uint64_t seed = 40; seed < 80; ++seed) {
    play(&line, BASS_LINE_WALKING, 2 * chart.n_bars, seed);
    for (unsigned i = 0; i < line.n; ++i) {
      const Chord* const chord = chart_chord_at(&chart, line.notes[i].tick);
      const unsigned     root  = spelling_pitch_class(chord->root);
      const unsigned     above = (line.notes[i].pitch + 12U - root) % 12U;
      const bool         minor = chord->tones[1].semitones == 3;
      n_minor += minor;
      n_wrong += minor && above == 4;
      n_high += line.notes[i].pitch > 50;
      sum += line.notes[i].pitch;
      ++n;
    }
  }
  cr_assert_lt(200 * n_wrong, n_minor, "%u of %u", n_wrong, n_minor);
  cr_assert_lt(50 * n_high, n, "%u of %u above D3", n_high, n);
  cr_assert(37.0 <= sum / n && sum / n <= 43.0, "mean pitch %g", sum / n);
}

/// What lines look like on the whole (common practice, no source: a walking
/// bass goes mostly by step, turns after leaps, and says nothing twice).
Test(walk, goes_mostly_by_step_and_does_not_repeat_itself)
{
  static Line line;
  unsigned    n         = 0;
  unsigned    n_steps   = 0;
  unsigned    n_leaps   = 0;
  unsigned    n_repeats = 0;
  unsigned    n_back    = 0; // There and back by the same two pitches
  for (unsigned i = 0; i < sizeof(shipped) / sizeof(*shipped); ++i) {
    chart_load(&chart, shipped[i]);
    for (uint64_t seed = 20; seed < 30; ++seed) {
      play(&line, BASS_LINE_WALKING, 2 * chart.n_bars, seed);
      for (unsigned j = 0; j + 3 < line.n; ++j) {
        const int a = line.notes[j].pitch;
        const int b = line.notes[j + 1].pitch;
        n_steps += abs(b - a) == 1 || abs(b - a) == 2;
        n_leaps += abs(b - a) > 4;
        n_repeats += a == b;
        n_back += a != b && line.notes[j + 2].pitch == a &&
                  line.notes[j + 3].pitch == b;
        ++n;
      }
    }
  }
  cr_assert_geq(2 * n_steps, n, "%u steps of %u", n_steps, n);
  cr_assert_leq(4 * n_leaps, n, "%u leaps of %u", n_leaps, n);
  cr_assert_leq(50 * n_repeats, n, "%u repeats of %u", n_repeats, n);
  cr_assert_leq(100 * n_back, n, "%u to and fro of %u", n_back, n);
}

Test(walk, is_another_line_with_another_seed_and_the_same_with_the_same)
{
  static Line lines[30];
  chart_load(&chart, "blues");
  unsigned n_same = 0;
  for (unsigned i = 0; i < 30; ++i) {
    play(&lines[i], BASS_LINE_WALKING, 12, i);
    for (unsigned j = 0; j < i; ++j) {
      n_same += memcmp(&lines[i], &lines[j], sizeof(Line)) == 0;
    }
  }
  cr_assert_eq(n_same, 0U);

  static Line again;
  play(&again, BASS_LINE_WALKING, 12, 7);
  cr_assert_eq(again.n, lines[7].n);
  for (unsigned i = 0; i < again.n; ++i) {
    cr_assert_eq(again.notes[i].pitch, lines[7].notes[i].pitch);
  }
}
