#include "core/music/chart.h"
#include "core/rng.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { QUARTER = 960 };

/// Begin a chart and add bars cut by `|`.
static void
read_chart(Chart* const      chart,
           const char* const meter_name,
           const char* const key_name,
           const char*       bars)
{
  Meter meter;
  Key   key;
  char  fault[CHART_FAULT_CAPACITY] = "";
  cr_assert_eq(meter_parse(&meter, meter_name), STATUS_OK);
  cr_assert_eq(key_parse(&key, key_name), STATUS_OK);
  chart_begin(chart, "A title", meter, key);
  while (*bars) {
    char         text[64] = "";
    const size_t length   = strcspn(bars, "|");
    memcpy(text, bars, length);
    cr_assert_eq(chart_add_bar(chart, text, fault), STATUS_OK, "%s", fault);
    bars += length + (bars[length] ? 1 : 0);
  }
}

/// Write every change as beat and symbol: `0:C7 2:F7`.
static const char*
change_list(const Chart* const chart, char list[512])
{
  list[0] = '\0';
  for (unsigned i = 0; i < chart->n_changes; ++i) {
    const ChordChange* const change = &chart->changes[i];
    char                     symbol[CHORD_TEXT_CAPACITY];
    const long beat = (long)(change->tick / meter_beat_ticks(chart->meter));
    cr_assert_eq(change->tick % meter_beat_ticks(chart->meter), 0);
    snprintf(list + strlen(list),
             512 - strlen(list),
             "%s%ld:%s",
             i > 0 ? " " : "",
             beat,
             chord_text(&change->chord, symbol));
  }
  return list;
}

typedef struct {
  char meter[METER_TEXT_CAPACITY];
  char bars[48];
  char changes[80]; ///< Beats from the beginning
} BarRow;

// Even sharing, the first chord longer where it cannot be even (common
// practice, no source)
ParameterizedTestParameters(chart, shares_a_bar)
{
  static BarRow rows[] = {
    {"4/4", "C", "0:C"},
    {"4/4", "C F", "0:C 2:F"},
    {"4/4", "C F G", "0:C 2:F 3:G"},
    {"4/4", "C F G Am", "0:C 1:F 2:G 3:Am"},
    {"4/4", "C / / G7", "0:C 3:G7"},
    {"4/4", "C / G7 /", "0:C 2:G7"},
    {"4/4", "C Dm / /", "0:C 1:Dm"},
    {"4/4", "C / / /", "0:C"},
    {"4/4", "  C \t F  ", "0:C 2:F"},
    {"2/4", "C F", "0:C 1:F"},
    {"3/4", "C F", "0:C 2:F"},
    {"3/4", "C F G", "0:C 1:F 2:G"},
    {"3/4", "C / F", "0:C 2:F"},
    {"5/4", "C F", "0:C 3:F"},
    {"5/4", "C F G", "0:C 2:F 4:G"},
    {"5/4", "C F G C", "0:C 2:F 3:G 4:C"},
    {"5/4", "C F G C F", "0:C 1:F 2:G 3:C 4:F"},
    {"6/8", "C F", "0:C 1:F"},
    {"12/8", "C F", "0:C 2:F"},
    {"12/8", "C F G", "0:C 2:F 3:G"},
    {"4/4", "C7 F7|%|G7", "0:C7 2:F7 4:C7 6:F7 8:G7"},
    {"4/4", "C|%|%|N.C.|%", "0:C 4:C 8:C 12:N.C. 16:N.C."},
    {"4/4", "C / / F7/A| % ", "0:C 3:F7/A 4:C 7:F7/A"},
    {"4/4", "I7 vi7|ii7 V7b9", "0:C7 2:Am7 4:Dm7 6:G7b9"},
  };
  return cr_make_param_array(BarRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(BarRow* row, chart, shares_a_bar)
{
  static Chart chart;
  char         list[512];
  read_chart(&chart, row->meter, "C major", row->bars);
  cr_assert_str_eq(change_list(&chart, list), row->changes);
}

typedef struct {
  char bars[48]; ///< Those before, cut by `|`
  char bar[48];
  char says[64]; ///< Part of the fault
} FaultRow;

ParameterizedTestParameters(chart, says_what_was_expected)
{
  static FaultRow rows[] = {
    {"", "%", "first bar; expected a chord"},
    {"", "", "empty bar; expected"},
    {"C", "  ", "empty bar; expected"},
    {"C", "/", "expected a chord before it"},
    {"C", "/ G7", "expected a chord before it"},
    {"C", "% G7", "expected it alone"},
    {"C", "G7 %", "expected it alone"},
    {"C", "H7", "'H7' is no chord; expected a symbol"},
    {"C", "V7/V", "'V7/V' is no chord; expected a symbol"},
    {"C", "C c7", "'c7' is no chord; expected a symbol"},
    {"C",
     "C D E F G",
     "5 chords in a bar of 4 beats; expected one chord a beat"},
    {"C", "Dm7 / G7", "3 beats written in a bar of 4 beats"},
    {"C", "Dm7 / / / G7", "5 beats written in a bar of 4 beats"},
  };
  return cr_make_param_array(FaultRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FaultRow* row, chart, says_what_was_expected)
{
  static Chart chart;
  char         fault[CHART_FAULT_CAPACITY] = "";
  read_chart(&chart, "4/4", "C major", row->bars);
  const unsigned n_bars    = chart.n_bars;
  const unsigned n_changes = chart.n_changes;
  cr_assert_eq(chart_add_bar(&chart, row->bar, fault), STATUS_SYNTAX);
  cr_assert_not_null(strstr(fault, row->says), "%s", fault);
  cr_assert_eq(chart.n_bars, n_bars);
  cr_assert_eq(chart.n_changes, n_changes);
}

Test(chart, is_full_after_its_capacity)
{
  static Chart chart;
  char         fault[CHART_FAULT_CAPACITY] = "";
  read_chart(&chart, "4/4", "C major", "C F");
  while (chart.n_bars < CHART_BAR_CAPACITY) {
    cr_assert_eq(chart_add_bar(&chart, "%", fault), STATUS_OK);
  }
  cr_assert_eq(chart.n_changes, CHART_CHANGE_CAPACITY);
  cr_assert_eq(chart_add_bar(&chart, "%", fault), STATUS_FULL);
  cr_assert_eq(chart_add_bar(&chart, "C", fault), STATUS_FULL);
  cr_assert_eq(chart_make_room(&chart, 4), STATUS_FULL);
  cr_assert_eq(chart.n_bars, CHART_BAR_CAPACITY);

  read_chart(&chart, "4/4", "C major", "C F G C");
  while (chart.n_changes < CHART_CHANGE_CAPACITY) {
    cr_assert_eq(chart_add_bar(&chart, "C F G C", fault), STATUS_OK);
  }
  cr_assert_eq(chart.n_bars, CHART_CHANGE_CAPACITY / 4);
  cr_assert_eq(chart_add_bar(&chart, "%", fault), STATUS_FULL);
  cr_assert_eq(chart_add_bar(&chart, "C", fault), STATUS_FULL);
  cr_assert_not_null(strstr(fault, "expected"));
}

Test(chart, doubles_up_to_its_capacity)
{
  static Chart chart;
  char         fault[CHART_FAULT_CAPACITY] = "";
  read_chart(&chart, "4/4", "C major", "C F");
  while (chart.n_bars < CHART_BAR_CAPACITY / 2) {
    cr_assert_eq(chart_add_bar(&chart, "%", fault), STATUS_OK);
  }
  cr_assert_eq(chart_make_room(&chart, 4), STATUS_OK);
  cr_assert_eq(chart.n_bars, CHART_BAR_CAPACITY);
  cr_assert_eq(chart.n_changes, CHART_CHANGE_CAPACITY);

  read_chart(&chart, "4/4", "C major", "C F G");
  while (chart.n_changes <= CHART_CHANGE_CAPACITY / 2) {
    cr_assert_eq(chart_add_bar(&chart, "%", fault), STATUS_OK);
  }
  cr_assert_eq(chart_make_room(&chart, 4), STATUS_FULL);
}

static const char*
symbol_at(const Chart* const chart,
          const Tick         tick,
          char               symbol[CHORD_TEXT_CAPACITY])
{
  return chord_text(chart_chord_at(chart, tick), symbol);
}

Test(chart, goes_round_both_ways)
{
  static Chart chart;
  char         here[CHORD_TEXT_CAPACITY];
  char         there[CHORD_TEXT_CAPACITY];
  read_chart(&chart, "3/4", "C minor", "i7|iv7 V7|bVI7");
  const Tick form = chart_ticks(&chart);
  cr_assert_eq(form, 9 * QUARTER);
  cr_assert_str_eq(symbol_at(&chart, -1, here), "Ab7");
  cr_assert_str_eq(symbol_at(&chart, 0, here), "Cm7");
  cr_assert_str_eq(symbol_at(&chart, 5 * QUARTER - 1, here), "Fm7");
  cr_assert_str_eq(symbol_at(&chart, 5 * QUARTER, here), "G7");
  for (Tick tick = 0; tick < form; tick += 60) {
    symbol_at(&chart, tick, here);
    cr_assert_str_eq(symbol_at(&chart, tick - 5 * form, there), here);
    cr_assert_str_eq(symbol_at(&chart, tick + 7 * form, there), here);
  }
}

// Checked against looking at every beat in turn
Test(chart, next_change_is_the_first_other_chord)
{
  static const char* const bars[] = {
    "C|C7|C7 F7|%|F7", "C|%|%|%", "C F|F C", "C#m7|Dbm7|C", "N.C.|C|C|N.C."};
  for (unsigned i = 0; i < sizeof(bars) / sizeof(*bars); ++i) {
    static Chart chart;
    read_chart(&chart, "4/4", "C major", bars[i]);
    const Tick form = chart_ticks(&chart);
    for (Tick tick = -2 * form; tick < form; tick += 160) {
      const Chord* const now         = chart_chord_at(&chart, tick);
      const Tick         place       = (tick % form + form) % form;
      Tick               beat        = tick - place % QUARTER + QUARTER;
      const Tick         comes_round = tick - place + form;
      while (beat < tick + form &&
             chord_equals(chart_chord_at(&chart, beat), now)) {
        beat += QUARTER;
      }
      const Tick next = chart_next_change(&chart, tick);
      cr_assert_gt(next, tick);
      cr_assert_eq(next,
                   beat < tick + form ? beat : comes_round,
                   "chart %u, tick %ld",
                   i,
                   (long)tick);
    }
  }
}

typedef struct {
  char text[SCALE_TEXT_CAPACITY];
  char scale[SCALE_TEXT_CAPACITY]; ///< In the bar of Dm7; empty: refused
} ScaleRow;

ParameterizedTestParameters(chart, sets_a_scale)
{
  static ScaleRow rows[] = {
    {"minor blues", "G minor blues"},
    {"by chord", "D dorian"},
    {"D phrygian", "D phrygian"},
    {"Bb major", "Bb major"},
    {"minor  blues", ""},
    {"D", ""},
    {"Ddorian", ""},
    {"H major", ""},
    {"", ""},
    {"D by chord", ""},
  };
  return cr_make_param_array(ScaleRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(ScaleRow* row, chart, sets_a_scale)
{
  static Chart chart;
  char         text[SCALE_TEXT_CAPACITY];
  read_chart(&chart, "4/4", "G minor", "Dm7|G7");
  cr_assert_eq(chart_set_scale(&chart, CHART_BAR_CAPACITY, "lydian"),
               STATUS_OK);

  const bool is_good = row->scale[0];
  cr_assert_eq(chart_set_scale(&chart, 0, row->text),
               is_good ? STATUS_OK : STATUS_SYNTAX);
  cr_assert_str_eq(scale_text(chart_scale_at(&chart, 100), text),
                   is_good ? row->scale : "G lydian");
  cr_assert_str_eq(scale_text(chart_scale_at(&chart, 4 * QUARTER), text),
                   "G lydian");
  cr_assert_str_eq(scale_text(chart_scale_at(&chart, -1), text), "G lydian");
}

Test(chart, asks_the_chord_for_a_scale)
{
  static Chart chart;
  char         text[SCALE_TEXT_CAPACITY];
  read_chart(&chart, "4/4", "C minor", "Dm7b5 G7|N.C.");
  cr_assert_str_eq(scale_text(chart_scale_at(&chart, 0), text), "D locrian");
  cr_assert_str_eq(scale_text(chart_scale_at(&chart, 2 * QUARTER), text),
                   "G mixolydian");
  cr_assert_str_eq(scale_text(chart_scale_at(&chart, 4 * QUARTER), text),
                   "C natural minor");
}

typedef struct {
  Tick     tick;
  unsigned pitch;
  char     name[SPELLING_TEXT_CAPACITY];
} SpellRow;

// Over G7 in C minor: the chord's B, its bass Ab, the blues scale's Eb, Gb and
// the key's Db; over Cm7 the minor blues (theory)
ParameterizedTestParameters(chart, spells_by_chord_then_scale_then_key)
{
  static SpellRow rows[] = {
    {0, 71, "B"},
    {0, 63, "Eb"},
    {0, 66, "Gb"},
    {0, 61, "Db"},
    {0, 68, "G#"},
    {0, 64, "E"},
    {-1, 70, "Bb"},
    {-1, 63, "D#"},
    {-1, 68, "Ab"},
    {-1, 61, "Db"},
  };
  return cr_make_param_array(SpellRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(SpellRow* row, chart, spells_by_chord_then_scale_then_key)
{
  static Chart chart;
  char         name[SPELLING_TEXT_CAPACITY];
  read_chart(&chart, "4/4", "C minor", "G7/G#|C7#9");
  cr_assert_eq(chart_set_scale(&chart, CHART_BAR_CAPACITY, "minor blues"),
               STATUS_OK);
  const Spelling spelling = chart_spell(&chart, row->tick, row->pitch);
  cr_assert_str_eq(spelling_text(spelling, name), row->name);
}

typedef struct {
  char tonic[SPELLING_TEXT_CAPACITY];
  char minor[32]; ///< i7, iv7, bVI7, V7
  char major[48]; ///< I7, IV7, #ivdim7, VI7, ii7, bII7
} KeyRow;

// The degrees in the usual keys (theory); a doubly flat root is written plainly
ParameterizedTestParameters(chart, moves_to_every_key)
{
  static KeyRow rows[] = {
    {"C", "Cm7 Fm7 Ab7 G7", "C7 F7 F#dim7 A7 Dm7 Db7"},
    {"Db", "C#m7 F#m7 A7 G#7", "Db7 Gb7 Gdim7 Bb7 Ebm7 D7"},
    {"D", "Dm7 Gm7 Bb7 A7", "D7 G7 G#dim7 B7 Em7 Eb7"},
    {"Eb", "Ebm7 Abm7 Cb7 Bb7", "Eb7 Ab7 Adim7 C7 Fm7 Fb7"},
    {"E", "Em7 Am7 C7 B7", "E7 A7 A#dim7 C#7 F#m7 F7"},
    {"F", "Fm7 Bbm7 Db7 C7", "F7 Bb7 Bdim7 D7 Gm7 Gb7"},
    {"F#", "F#m7 Bm7 D7 C#7", "F#7 B7 B#dim7 D#7 G#m7 G7"},
    {"Gb", "F#m7 Bm7 D7 C#7", "Gb7 Cb7 Cdim7 Eb7 Abm7 G7"},
    {"G", "Gm7 Cm7 Eb7 D7", "G7 C7 C#dim7 E7 Am7 Ab7"},
    {"Ab", "Abm7 Dbm7 Fb7 Eb7", "Ab7 Db7 Ddim7 F7 Bbm7 A7"},
    {"A", "Am7 Dm7 F7 E7", "A7 D7 D#dim7 F#7 Bm7 Bb7"},
    {"Bb", "Bbm7 Ebm7 Gb7 F7", "Bb7 Eb7 Edim7 G7 Cm7 Cb7"},
    {"B", "Bm7 Em7 G7 F#7", "B7 E7 E#dim7 G#7 C#m7 C7"},
    {"D#", "D#m7 G#m7 B7 A#7", "Eb7 Ab7 Adim7 C7 Fm7 Fb7"},
  };
  return cr_make_param_array(KeyRow, rows, sizeof(rows) / sizeof(*rows));
}

static const char*
symbol_list(const Chart* const chart, char list[256])
{
  list[0] = '\0';
  for (unsigned i = 0; i < chart->n_changes; ++i) {
    char symbol[CHORD_TEXT_CAPACITY];
    strcat(list, i > 0 ? " " : "");
    strcat(list, chord_text(&chart->changes[i].chord, symbol));
  }
  return list;
}

ParameterizedTest(KeyRow* row, chart, moves_to_every_key)
{
  static Chart chart;
  Spelling     tonic = {0, 0};
  char         list[256];
  char         moved[256];
  cr_assert_gt(spelling_parse(&tonic, row->tonic), 0);

  const char* const minor = "i7|iv7|bVI7|V7";
  read_chart(&chart, "4/4", "C minor", minor);
  chart_transpose(&chart, tonic);
  cr_assert_str_eq(symbol_list(&chart, moved), row->minor);
  cr_assert(chart.key.is_minor);

  const char* const major = "I7|IV7|#ivdim7|VI7|ii7|bII7";
  read_chart(&chart, "4/4", "C major", major);
  chart_transpose(&chart, tonic);
  cr_assert_str_eq(symbol_list(&chart, moved), row->major);

  // Numerals read in that key say the same
  char key[KEY_TEXT_CAPACITY];
  key_text(chart.key, key);
  read_chart(&chart, "4/4", key, major);
  cr_assert_str_eq(symbol_list(&chart, list), moved);
}

static void
assert_reads_well(const Chart* const chart)
{
  for (unsigned i = 0; i < chart->n_changes; ++i) {
    cr_assert_leq(abs(chart->changes[i].chord.root.alter), 1);
    cr_assert_leq(abs(chart->changes[i].chord.bass.alter), 2);
  }
  for (Tick tick = 0; tick < chart_ticks(chart); tick += QUARTER) {
    for (unsigned pitch = 0; pitch < 128; ++pitch) {
      const Spelling spelling = chart_spell(chart, tick, pitch);
      cr_assert_eq(spelling_pitch_class(spelling), pitch % 12);
      cr_assert_leq(abs(spelling.alter), 2);
    }
  }
}

Test(chart, comes_home_round_every_key)
{
  static const char* const tonics[] = {"C#",
                                       "Db",
                                       "D",
                                       "Eb",
                                       "D#",
                                       "E",
                                       "F",
                                       "F#",
                                       "Gb",
                                       "G",
                                       "Ab",
                                       "G#",
                                       "A",
                                       "Bb",
                                       "B",
                                       "Cb",
                                       "Fb",
                                       "E#",
                                       "Ab"};
  static const char* const bars =
    "I7 IV7|I7 #idim7|v7 Ab7/C|IV7|#ivdim7|VI7alt|bIII7 bVI7|ii7 bII7|"
    "V13b9|bVIImaj9#11|bviidim7 N.C.|Cbdim7";
  static Chart chart;
  char         home[512];
  char         list[512];
  char         text[SCALE_TEXT_CAPACITY];
  read_chart(&chart, "4/4", "Ab major", bars);
  cr_assert_eq(chart_set_scale(&chart, 0, "minor blues"), STATUS_OK);
  cr_assert_eq(chart_set_scale(&chart, 1, "Cb altered"), STATUS_OK);
  change_list(&chart, home);
  for (unsigned i = 0; i < sizeof(tonics) / sizeof(*tonics); ++i) {
    Spelling tonic = {0, 0};
    cr_assert_gt(spelling_parse(&tonic, tonics[i]), 0);
    chart_transpose(&chart, tonic);
    const unsigned class = spelling_pitch_class(tonic);
    cr_assert_eq(spelling_pitch_class(chart.key.tonic), class);
    cr_assert_eq(spelling_pitch_class(chart.changes[5].chord.bass),
                 (class + 4) % 12);
    cr_assert_eq(spelling_pitch_class(chart.scales[1].tonic), (class + 3) % 12);
    assert_reads_well(&chart);
  }
  cr_assert_str_eq(change_list(&chart, list), home);
  cr_assert_str_eq(scale_text(chart.scales[0], text), "Ab minor blues");
  cr_assert_str_eq(scale_text(chart.scales[1], text), "Cb altered");
}

/// A chart's bars in order, each by the names of its chords and its scale.
typedef struct {
  char bars[64][64];
} BarNames;

static void
name_bars(const Chart* const chart, BarNames* const names)
{
  const Tick bar = meter_bar_ticks(chart->meter);
  for (unsigned i = 0; i < chart->n_bars; ++i) {
    char* const name = names->bars[i];
    name[0]          = '\0';
    for (Tick tick = 0; tick < bar; tick += QUARTER) {
      char symbol[CHORD_TEXT_CAPACITY];
      strcat(name, symbol_at(chart, (Tick)i * bar + tick, symbol));
      strcat(name, " ");
    }
    char scale[SCALE_TEXT_CAPACITY];
    strcat(name, scale_text(chart_scale_at(chart, (Tick)i * bar), scale));
  }
}

// Checked against saying every group twice
Test(chart, makes_room_after_every_group)
{
  static const char* const all[] = {"C F",
                                    "Dm7",
                                    "G7 / / Ab7",
                                    "N.C.",
                                    "Em7",
                                    "A7 D7",
                                    "C/E",
                                    "Bb",
                                    "Fm6",
                                    "%"};
  for (unsigned n_bars = 1; n_bars <= 10; ++n_bars) {
    for (unsigned group = 1; group <= 11; ++group) {
      static Chart    chart;
      static BarNames before;
      static BarNames after;
      read_chart(&chart, "4/4", "C major", "");
      for (unsigned i = 0; i < n_bars; ++i) {
        char fault[CHART_FAULT_CAPACITY];
        cr_assert_eq(chart_add_bar(&chart, all[i], fault), STATUS_OK);
        cr_assert_eq(
          chart_set_scale(&chart, i, i % 3 ? "by chord" : "G minor blues"),
          STATUS_OK);
      }
      name_bars(&chart, &before);
      cr_assert_eq(chart_make_room(&chart, group), STATUS_OK);
      cr_assert_eq(chart.n_bars, 2 * n_bars);
      name_bars(&chart, &after);

      unsigned at = 0;
      for (unsigned first = 0; first < n_bars; first += group) {
        for (unsigned twice = 0; twice < 2; ++twice) {
          for (unsigned i = first; i < first + group && i < n_bars; ++i) {
            cr_assert_str_eq(after.bars[at], before.bars[i]);
            ++at;
          }
        }
      }
      chart_transpose(&chart, (Spelling){2, -1});
      chart_transpose(&chart, (Spelling){0, 0});
      name_bars(&chart, &before);
      for (unsigned i = 0; i < 2 * n_bars; ++i) {
        cr_assert_str_eq(after.bars[i], before.bars[i]);
      }
    }
  }
}

Test(chart, cuts_a_long_title)
{
  static Chart chart;
  char         title[CHART_TITLE_CAPACITY + 20];
  memset(title, 'x', sizeof(title) - 1);
  title[sizeof(title) - 1] = '\0';
  chart_begin(&chart, title, (Meter){4, 4}, (Key){{0, 0}, false});
  cr_assert_eq(strlen(chart.title), CHART_TITLE_CAPACITY - 1);
}

/// Write words made by chance of what charts are made of.
static void
random_bar(Rng* const rng, char bar[48])
{
  static const char* const parts[] = {
    "C", "F",  "Bb",  "Cb", "#", "b",  "m",  "maj", "Maj", "dim",  "aug", "7",
    "9", "11", "13",  "6",  "5", "/",  "(",  ")",   ",",   "sus4", "alt", "add",
    " ", " ",  " / ", "%",  "I", "iv", "vi", "V",   "vii", "N.C.", "x",   "\t"};
  const unsigned n = rng_below(rng, 9);
  bar[0]           = '\0';
  for (unsigned i = 0; i < n; ++i) {
    strcat(bar, parts[rng_below(rng, sizeof(parts) / sizeof(*parts))]);
  }
}

Test(chart, reads_or_refuses_any_text)
{
  static Chart chart;
  Rng          rng    = rng_seed(5, 1);
  unsigned     n_read = 0;
  read_chart(&chart, "5/4", "Gb major", "bVII7 I");
  for (unsigned i = 0; i < 40000; ++i) {
    char bar[48];
    char fault[CHART_FAULT_CAPACITY] = "";
    random_bar(&rng, bar);
    const unsigned n_bars    = chart.n_bars;
    const unsigned n_changes = chart.n_changes;
    const Status   status    = chart_add_bar(&chart, bar, fault);
    if (status == STATUS_OK) {
      ++n_read;
      cr_assert_eq(chart.n_bars, n_bars + 1);
      cr_assert_eq(chart.changes[n_changes].tick, (Tick)n_bars * 5 * QUARTER);
      for (unsigned k = n_changes; k < chart.n_changes; ++k) {
        char        symbol[CHORD_TEXT_CAPACITY];
        Chord       again = chord_silence();
        const Chord chord = chart.changes[k].chord;
        chord_text(&chord, symbol);
        cr_assert_eq(chord_parse(&again, symbol, sizeof(symbol)), STATUS_OK);
        cr_assert(chord_equals(&again, &chord), "%s", symbol);
      }
      chart.n_bars    = n_bars;
      chart.n_changes = n_changes;
    } else {
      cr_assert_eq(chart.n_bars, n_bars);
      cr_assert_eq(chart.n_changes, n_changes);
      cr_assert_not_null(strstr(fault, "expected"), "'%s': %s", bar, fault);
    }
  }
  cr_assert_gt(n_read, 1000);
}

/// Read every bar between the brackets of `bars = [ ... ]`; return how many.
static unsigned
read_bars_of_file(Chart* const chart, const char* const path)
{
  static char text[1 << 16];
  FILE* const file = fopen(path, "r");
  cr_assert_not_null(file, "%s", path);
  text[fread(text, 1, sizeof(text) - 1, file)] = '\0';
  fclose(file);

  const char* at = strstr(text, "bars");
  cr_assert_not_null(at, "%s", path);
  unsigned n = 0;
  for (at = strchr(at, '"'); at; at = strchr(at + strcspn(at, "\"") + 1, '"')) {
    char         fault[CHART_FAULT_CAPACITY] = "";
    char         bar[64]                     = "";
    const size_t length                      = strcspn(++at, "\"");
    memcpy(bar, at, length < sizeof(bar) ? length : sizeof(bar) - 1);
    cr_assert_eq(
      chart_add_bar(chart, bar, fault), STATUS_OK, "%s: %s", path, fault);
    ++n;
  }
  return n;
}

// The chords that annotators wrote over real solos
Test(chart, reads_the_charts_of_the_takes)
{
  static Chart      chart;
  const char* const takes = getenv("BARTER_TAKES");
  if (!takes) {
    cr_skip_test("BARTER_TAKES is not set");
  }
  static const char* const folders[] = {"fours", "solos"};
  for (unsigned i = 0; i < 2; ++i) {
    char   pattern[512];
    glob_t found;
    snprintf(pattern, sizeof(pattern), "%s/%s/*.cfg", takes, folders[i]);
    cr_assert_eq(glob(pattern, 0, NULL, &found), 0);
    for (size_t k = 0; k < found.gl_pathc; ++k) {
      read_chart(&chart, "4/4", "C major", "");
      cr_assert_geq(read_bars_of_file(&chart, found.gl_pathv[k]), 8);
      assert_reads_well(&chart);
    }
    globfree(&found);
  }
}
