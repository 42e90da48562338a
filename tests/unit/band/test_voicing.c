#include "core/band/voicing.h"
#include "core/rng.h"
#include "fixture.h"
#include "support/table.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdlib.h>
#include <string.h>

static const Voicing nothing = {0, {0}};

static bool
has_class(const Voicing* const voicing, const unsigned class)
{
  bool has = false;
  for (unsigned i = 0; i < voicing->n_voices; ++i) {
    has = has || voicing->pitches[i] % 12U == class;
  }
  return has;
}

/// Check what holds for every voicing (low interval limits: common practice, no
/// source).
static void
check_spacing(const Voicing* const voicing, const char* const what)
{
  cr_assert_geq(voicing->n_voices, 3U, "%s", what);
  cr_assert_leq(voicing->n_voices, 4U, "%s", what);
  cr_assert_geq(voicing->pitches[0], 48, "%s: below C3", what);
  cr_assert_leq(voicing->pitches[voicing->n_voices - 1], 76, "%s: high", what);
  cr_assert_gt(voicing->pitches[1] - voicing->pitches[0], 1, "%s", what);
  for (unsigned i = 0; i + 1 < voicing->n_voices; ++i) {
    const int low = voicing->pitches[i];
    const int gap = voicing->pitches[i + 1] - low;
    cr_assert_gt(gap, 0, "%s: not rising", what);
    cr_assert(gap != 1 || low >= 55, "%s: a muddy semitone", what);
    cr_assert(gap != 2 || low >= 51, "%s: a muddy tone", what);
    cr_assert_leq(gap, 9, "%s: a hole", what);
    for (unsigned j = i + 1; j < voicing->n_voices; ++j) {
      cr_assert_neq(voicing->pitches[j] - low, 13, "%s: a flat ninth", what);
    }
  }
}

static const char* const keys[] = {"C major",
                                   "F major",
                                   "Eb major",
                                   "A minor",
                                   "F# minor"};

enum { N_KEYS = sizeof(keys) / sizeof(*keys) };

/// Return the number of semitones above the root of the degree that must be
/// heard, from `1P 3m 5d 7m`: the one whose number is one of two; -1 if the
/// chord has neither.
static int
degree(const Table* const table, const char first, const char second)
{
  const char* intervals = table_field(table, "intervals");
  const char* classes   = table_field(table, "pitch_classes");
  while (*intervals && *classes) {
    char* end        = NULL;
    const long class = strtol(classes, &end, 10);
    if ((intervals[0] == first || intervals[0] == second) &&
        (intervals[1] < '0' || intervals[1] > '9')) {
      return (int)class;
    }
    intervals += strcspn(intervals, " ");
    intervals += strspn(intervals, " ");
    classes = end + strspn(end, " ");
  }
  return -1;
}

static void
check_chord(const Table* const table, const Chord* const chord)
{
  char        symbol[CHORD_TEXT_CAPACITY];
  const char* text    = chord_text(chord, symbol);
  const int   third   = degree(table, '3', '4');
  const int   seventh = degree(table, '7', '6');
  for (unsigned i = 0; i < N_KEYS; ++i) {
    const VoicingTones tones   = voicing_tones(chord, key_named(keys[i]));
    const Voicing      voicing = voicing_next(&tones, &nothing, VOICING_NEAR);
    check_spacing(&voicing, text);
    cr_assert(third < 0 || has_class(&voicing, (unsigned)third), "%s", text);
    cr_assert(
      seventh < 0 || has_class(&voicing, (unsigned)seventh), "%s", text);
  }
}

Test(voicing, has_third_and_seventh_of_every_kind_on_every_root)
{
  static Table table;
  unsigned     n = 0;
  cr_assert(table_open(&table, BARTER_TABLES "/chords.csv"));
  while (table_next(&table)) {
    const char* const quality = table_field(&table, "quality");
    char              symbol[CHORD_TEXT_CAPACITY];
    (void)snprintf(symbol,
                   sizeof(symbol),
                   "%s%s",
                   table_field(&table, "root"),
                   strcmp(quality, "maj") == 0 ? "" : quality);
    Chord chord;
    if (chord_parse(&chord, symbol, strlen(symbol)) == STATUS_OK) {
      check_chord(&table, &chord);
      ++n;
    }
  }
  table_close(&table);
  cr_assert_geq(n, 400U, "only %u chords were read", n);
}

/// The pitch classes of voicings, in order of importance (common practice, no
/// source).
typedef struct {
  char chord[16];
  char key[16];
  int  classes[4]; ///< Rising; -1 for none
} TonesRow;

ParameterizedTestParameters(voicing, tones)
{
  static TonesRow rows[] = {
    {"C", "C major", {0, 4, 7, -1}},      // A triad is a triad
    {"Am", "C major", {0, 4, 9, -1}},     //
    {"Cmaj7", "C major", {2, 4, 7, 11}},  // 3 5 7 9: no root
    {"G7", "C major", {5, 7 + 2, 11, 2}}, // F A B D
    {"Dm7", "C major", {0, 4, 5, 9}},     // 3 5 7 9
    {"G7", "C minor", {2, 5, 7, 11}},     // The key has no A: the root
    {"Em7", "C major", {2, 4, 7, 11}},    // Nor an F sharp
    {"Bm7b5", "C major", {2, 5, 9, 11}},  // All four
    {"Bdim7", "C major", {2, 5, 8, 11}},  //
    {"Adim7", "G major", {0, 3, 6, 9}},
    {"Dm7b5", "C major", {0, 2, 5, 8}},
    {"C7#11", "F minor", {0, 4, 6, 10}}, // The root, not the fifth beside #11
    {"C7b13", "F minor", {0, 4, 8, 10}},
    {"G13", "C major", {4, 5, 9, 11}},      // 3 7 9 13
    {"G7b9", "C minor", {2, 5, 8, 11}},     // 3 5 7 b9
    {"G7alt", "C minor", {3, 5, 10, 11}},   // 3 b7 #9 b13
    {"G7sus4", "C major", {0, 2, 5, 9}},    // 4 5 7 9
    {"Cmaj7#11", "G major", {2, 4, 6, 11}}, // 3 7 9 #11, no fifth beside it
    {"C6", "C major", {2, 4, 7, 9}},        // 3 5 6 9
    {"C/E", "C major", {0, 4, 7, -1}},      // The bass note is the bass's
  };
  return cr_make_param_array(TonesRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const TonesRow* row, voicing, tones)
{
  const Chord        chord    = chord_named(row->chord);
  const VoicingTones tones    = voicing_tones(&chord, key_named(row->key));
  unsigned           expected = 0;
  unsigned           found    = 0;
  for (unsigned i = 0; i < 4; ++i) {
    expected |= row->classes[i] >= 0 ? 1U << row->classes[i] : 0U;
  }
  for (unsigned i = 0; i < tones.n_tones; ++i) {
    found |= 1U << tones.classes[i];
  }
  cr_assert_eq(found, expected, "%s: %x, not %x", row->chord, found, expected);
}

/// Return whether a set of rising pitches keeps the rules of spacing, said once
/// more.
static bool
is_playable(const int* const p, const unsigned n)
{
  bool is = p[0] >= 48 && p[n - 1] <= 76 && p[n - 1] - p[0] <= 16 &&
            p[1] - p[0] > 1 && p[n - 1] - p[n - 2] > 1;
  for (unsigned i = 0; i + 1 < n; ++i) {
    const int gap = p[i + 1] - p[i];
    is            = is && gap > 0 && gap <= 9;
    is            = is && (gap != 1 || p[i] >= 55) && (gap != 2 || p[i] >= 51);
    for (unsigned j = i + 1; j < n; ++j) {
      is = is && p[j] - p[i] != 13;
    }
  }
  return is;
}

/// Return the least movement from a voicing of four to any other of the same
/// pitch classes as `to`, by trying all sets of four pitches.
static int
least_movement(const Voicing* const from, const Voicing* const to)
{
  int least = 1000;
  int p[4];
  for (p[0] = 48; p[0] <= 76; ++p[0]) {
    for (p[1] = p[0] + 1; p[1] <= 76; ++p[1]) {
      for (p[2] = p[1] + 1; p[2] <= 76; ++p[2]) {
        for (p[3] = p[2] + 1; p[3] <= 76; ++p[3]) {
          unsigned found    = 0;
          unsigned wanted   = 0;
          int      movement = 0;
          for (unsigned i = 0; i < 4; ++i) {
            found |= 1U << p[i] % 12;
            wanted |= 1U << to->pitches[i] % 12;
            movement += abs(p[i] - from->pitches[i]);
          }
          if (found == wanted && movement < least && is_playable(p, 4)) {
            least = movement;
          }
        }
      }
    }
  }
  return least;
}

/// Chords of every kind in the order of practice: two-fives, blues, chromatic.
static const char* const walkabout[] = {
  "Dm7",   "G7",    "Cmaj7",  "A7b9",  "Dm9",    "Db7",    "Cmaj9",
  "Fmaj7", "Bm7b5", "E7b9",   "Am7",   "D7",     "Gm7",    "C13",
  "Fmaj9", "Bb13",  "Ebmaj7", "Ab7",   "F#m7",   "B7",     "Emaj7",
  "C#m7",  "F#7#9", "Bmaj7",  "Bbm7",  "Eb7",    "Abmaj7", "G7alt",
  "Cm9",   "F9",    "Bb6",    "Edim7", "G7sus4", "G13",    "C6"};

Test(voicing, moves_little_more_than_it_must)
{
  const unsigned n     = sizeof(walkabout) / sizeof(*walkabout);
  const Key      key   = key_named("C major");
  Voicing        last  = nothing;
  unsigned       extra = 0;
  for (unsigned i = 0; i < n; ++i) {
    const Chord        chord = chord_named(walkabout[i]);
    const VoicingTones tones = voicing_tones(&chord, key);
    const Voicing      next  = voicing_next(&tones, &last, VOICING_NEAR);
    check_spacing(&next, walkabout[i]);
    if (i > 0) {
      const unsigned moved = voicing_movement(&last, &next);
      const unsigned least = (unsigned)least_movement(&last, &next);
      cr_assert_leq(
        moved, least + 4, "%s: %u for %u", walkabout[i], moved, least);
      extra += moved - least;
    }
    last = next;
  }
  cr_assert_leq(extra, n / 2, "%u semitones too many on %u chords", extra, n);
}

Test(voicing, does_not_wander_off_over_a_long_descent)
{
  static const char* const fall[] = {"Dm7", "G7", "Cm7", "F7", "Bbm7", "Eb7"};
  Voicing                  last   = nothing;
  for (unsigned i = 0; i < 600; ++i) {
    const Chord        chord = chord_named(fall[i % 6]);
    const VoicingTones tones = voicing_tones(&chord, key_named("C major"));
    last                     = voicing_next(&tones, &last, VOICING_NEAR);
    double mean              = 0.0;
    for (unsigned j = 0; j < last.n_voices; ++j) {
      mean += (double)last.pitches[j] / last.n_voices;
    }
    cr_assert(53.0 <= mean && mean <= 69.0, "mean pitch %g", mean);
  }
}

Test(voicing, takes_another_top_when_asked)
{
  for (unsigned i = 0; i < sizeof(walkabout) / sizeof(*walkabout); ++i) {
    const Chord        chord = chord_named(walkabout[i]);
    const VoicingTones tones = voicing_tones(&chord, key_named("C major"));
    const Voicing      first = voicing_next(&tones, &nothing, VOICING_NEAR);
    const Voicing      same  = voicing_next(&tones, &first, VOICING_NEAR);
    const Voicing      other = voicing_next(&tones, &first, VOICING_OTHER);
    check_spacing(&other, walkabout[i]);
    cr_assert_leq(voicing_movement(&first, &same), 1U * first.n_voices);
    cr_assert_neq(other.pitches[other.n_voices - 1],
                  first.pitches[first.n_voices - 1]);
  }
}

Test(voicing, comes_back_to_the_middle_with_another_top)
{
  const Chord        chord = chord_named("Bbmaj7");
  const VoicingTones tones = voicing_tones(&chord, key_named("C major"));
  Voicing            last  = {4, {48, 53, 57, 62}};
  last                     = voicing_next(&tones, &last, VOICING_OTHER);
  cr_assert_gt(last.pitches[0], 50);
  check_spacing(&last, "Bbmaj7");
}

Test(voicing, shares_no_pitch_with_one_that_still_sounds)
{
  for (unsigned i = 0; i < sizeof(walkabout) / sizeof(*walkabout); ++i) {
    const Chord        chord = chord_named(walkabout[i]);
    const VoicingTones tones = voicing_tones(&chord, key_named("C major"));
    const Voicing      first = voicing_next(&tones, &nothing, VOICING_NEAR);
    const Voicing      fresh = voicing_next(&tones, &first, VOICING_FRESH);
    for (unsigned j = 0; j < first.n_voices; ++j) {
      for (unsigned k = 0; k < fresh.n_voices; ++k) {
        cr_assert_neq(first.pitches[j], fresh.pitches[k], "%s", walkabout[i]);
      }
    }
  }
}

Test(voicing, counts_movement_from_the_top)
{
  const Voicing four  = {4, {50, 53, 57, 60}};
  const Voicing moved = {4, {50, 52, 57, 62}};
  const Voicing three = {3, {54, 57, 60}};
  cr_assert_eq(voicing_movement(&four, &moved), 3U);
  cr_assert_eq(voicing_movement(&nothing, &four), 0U);
  cr_assert_eq(voicing_movement(&four, &three), 1U + 4U); // 53-54, 50-54
  cr_assert_eq(voicing_movement(&three, &four), 1U + 4U);
}

Test(voicing, has_room_under_a_ceiling_or_is_left_out)
{
  static const char* const symbols[] = {"C7", "F7", "Dm7", "Cmaj7", "G13"};
  for (unsigned i = 0; i < sizeof(symbols) / sizeof(*symbols); ++i) {
    const Chord        chord  = chord_named(symbols[i]);
    const VoicingTones tones  = voicing_tones(&chord, key_named("C major"));
    unsigned           n_none = 0;
    for (unsigned ceiling = 48; ceiling <= 76; ++ceiling) {
      const Voicing under =
        voicing_under(&tones, &nothing, VOICING_NEAR, ceiling);
      n_none += under.n_voices == 0;
      if (under.n_voices > 0) {
        cr_assert_geq(under.n_voices, 2U);
        cr_assert_geq(under.pitches[0], 48);
        cr_assert_leq(under.pitches[under.n_voices - 1], ceiling);
      }
      cr_assert(under.n_voices > 0 || ceiling < 60,
                "%s has room under %u",
                symbols[i],
                ceiling);
    }
    cr_assert_lt(n_none, 12U, "%s", symbols[i]);
  }
}

Test(voicing, under_no_ceiling_is_what_it_would_be)
{
  const Chord        chord = chord_named("C7");
  const VoicingTones tones = voicing_tones(&chord, key_named("C major"));
  const Voicing      next  = voicing_next(&tones, &nothing, VOICING_NEAR);
  const Voicing      under = voicing_under(&tones, &nothing, VOICING_NEAR, 76);
  cr_assert_eq(memcmp(&next, &under, sizeof(next)), 0);
}
