#include "core/music/chord.h"
#include "support/table.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/// Write the chord's tones by name, from the root up.
static const char*
tone_names(const Chord* const chord, char names[64])
{
  names[0] = '\0';
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    char name[SPELLING_TEXT_CAPACITY];
    strcat(names, i > 0 ? " " : "");
    strcat(names,
           spelling_text(spelling_above(chord->root, chord->tones[i]), name));
  }
  return names;
}

static uint16_t
mask_of_numbers(const char* text)
{
  unsigned mask = 0;
  while (*text) {
    char* end = NULL;
    mask |= 1U << strtoul(text, &end, 10);
    text = *end ? end + 1 : end;
  }
  return (uint16_t)mask;
}

// tests/tables/chords.csv, see SOURCES.md there
Test(chord, has_the_published_tones)
{
  static Table table;
  cr_assert(table_open(&table, BARTER_TABLES "/chords.csv"));
  unsigned n = 0;
  while (table_next(&table)) {
    char              names[64];
    Spelling          root   = {0, 0};
    Chord             chord  = chord_silence();
    const char* const suffix = table_field(&table, "quality");
    cr_assert_gt(spelling_parse(&root, table_field(&table, "root")), 0);
    cr_assert_eq(chord_build(&chord, root, suffix, strlen(suffix)), STATUS_OK);
    cr_assert_str_eq(tone_names(&chord, names),
                     table_field(&table, "spelling"));

    unsigned classes = 0;
    for (unsigned pitch = 60; pitch < 72; ++pitch) {
      Spelling   spelling = {0, 0};
      const bool is_tone  = chord_spell(&chord, pitch, &spelling);
      classes |= is_tone ? 1U << pitch % 12 : 0U;
      cr_assert(!is_tone || spelling_pitch_class(spelling) == pitch % 12);
    }
    cr_assert_eq(classes, mask_of_numbers(table_field(&table, "pcs_sorted")));
    ++n;
  }
  table_close(&table);
  cr_assert_eq(n, 468);
}

typedef struct {
  char symbol[CHORD_TEXT_CAPACITY];
  char degrees[40]; ///< Every tone against the major scale
  char core[20];    ///< Those that bear weight, semitones above the root
} GrammarRow;

// How chord symbols are read (common practice, no source)
ParameterizedTestParameters(chord, reads_the_grammar)
{
  static GrammarRow rows[] = {
    {"C7sus4913", "1 4 5 b7 9 13", "0 5 7 10"},
    {"Dbmaj9#11", "1 3 5 7 9 #11", "0 4 7 11"},
    {"C7alt", "1 3 b7 b9 #9 #11 b13", "0 4 10"},
    {"Calt", "1 3 b7 b9 #9 #11 b13", "0 4 10"},
    {"Gaug7", "1 3 #5 b7", "0 4 8 10"},
    {"Gaug7#9", "1 3 #5 b7 #9", "0 4 8 10"},
    {"F9(b13)", "1 3 5 b7 9 b13", "0 4 7 10"},
    {"Am6/9", "1 b3 5 6 9", "0 3 7 9"},
    {"A69", "1 3 5 6 9", "0 4 7 9"},
    {"C6/9/E", "1 3 5 6 9", "0 4 7 9"},
    {"Bb9#11", "1 3 5 b7 9 #11", "0 4 7 10"},
    {"Cdim", "1 b3 b5", "0 3 6"},
    {"F#m7b5", "1 b3 b5 b7", "0 3 6 10"},
    {"F#min7b5", "1 b3 b5 b7", "0 3 6 10"},
    {"Abdim7", "1 b3 b5 bb7", "0 3 6 9"},
    {"Csus4", "1 4 5", "0 5 7"},
    {"Csus", "1 4 5", "0 5 7"},
    {"Csus2", "1 2 5", "0 2 7"},
    {"Cm11", "1 b3 5 b7 9 11", "0 3 7 10"},
    {"Cm13", "1 b3 5 b7 9 13", "0 3 7 10"},
    {"Cmaj13", "1 3 5 7 9 13", "0 4 7 11"},
    {"C11", "1 3 5 b7 9 11", "0 4 7 10"},
    {"G7b9b13", "1 3 5 b7 b9 b13", "0 4 7 10"},
    {"G7(b9,b13)", "1 3 5 b7 b9 b13", "0 4 7 10"},
    {"G7(b9)(b13)", "1 3 5 b7 b9 b13", "0 4 7 10"},
    {"G7b9#9", "1 3 5 b7 b9 #9", "0 4 7 10"},
    {"G7b9#9#11b13", "1 3 5 b7 b9 #9 #11 b13", "0 4 7 10"},
    {"G13#11", "1 3 5 b7 9 #11 13", "0 4 7 10"},
    {"G7#5", "1 3 #5 b7", "0 4 8 10"},
    {"G7b5", "1 3 b5 b7", "0 4 6 10"},
    {"DmMaj7", "1 b3 5 7", "0 3 7 11"},
    {"Dmmaj9", "1 b3 5 7 9", "0 3 7 11"},
    {"Dm(maj7)", "1 b3 5 7", "0 3 7 11"},
    {"DdimMaj7", "1 b3 b5 7", "0 3 6 11"},
    {"Cmaj7#5", "1 3 #5 7", "0 4 8 11"},
    {"CMaj7", "1 3 5 7", "0 4 7 11"},
    {"Cadd9", "1 3 5 9", "0 4 7"},
    {"Cm(add9)", "1 b3 5 9", "0 3 7"},
    {"Cmaj", "1 3 5", "0 4 7"},
    {"Bb", "1 3 5", "0 4 7"},
  };
  return cr_make_param_array(GrammarRow, rows, sizeof(rows) / sizeof(*rows));
}

/// Add a tone as a degree of the major scale: `b3`, `#11`, `bb7`.
static void
add_degree(char* const text, const Interval tone)
{
  const int alter = tone.semitones - interval_major(tone.number);
  for (int i = 0; i < abs(alter); ++i) {
    strcat(text, alter < 0 ? "b" : "#");
  }
  (void)sprintf(text + strlen(text), "%u", (unsigned)tone.number);
}

ParameterizedTest(GrammarRow* row, chord, reads_the_grammar)
{
  Chord chord       = chord_silence();
  char  degrees[64] = "";
  char  text[CHORD_TEXT_CAPACITY];
  cr_assert_eq(chord_parse(&chord, row->symbol, strlen(row->symbol)),
               STATUS_OK);
  for (unsigned i = 0; i < chord.n_tones; ++i) {
    strcat(degrees, i > 0 ? " " : "");
    add_degree(degrees, chord.tones[i]);
  }
  cr_assert_str_eq(degrees, row->degrees, "%s: %s", row->symbol, degrees);
  cr_assert_eq(chord.core_mask, mask_of_numbers(row->core), "%s", row->symbol);
  cr_assert_str_eq(chord_text(&chord, text), row->symbol);
}

Test(chord, refuses_what_makes_no_sense)
{
  static const char* const symbols[] = {
    "",          "H7",     "c7",     "C7(b9",   "C7b9)",
    "C()",       "C7()",   "C7b9b9", "C99",     "Cm7alt",
    "CmMaj",     "Cmaj6",  "C/",     "C/H",     "C7/E/G",
    "C7/e",      "Cmm7",   "C7x",    "Cb6b6",   "C#b",
    "Cadd7",     "C12",    "C7b7",   "Cdim7b5", "N.C",
    "N.C.7",     "%",      "/",      "iv7",     "C7b9#9b11#11b13#13",
    "Cmaj7maj7", "C6/",    "C(7",    "C7,b9",   "C7b9#9#11b13add13",
    "C7(b9,)",   "C7(,b9)"};
  for (unsigned i = 0; i < sizeof(symbols) / sizeof(*symbols); ++i) {
    Chord        chord  = {.n_tones = 99};
    const Status status = chord_parse(&chord, symbols[i], strlen(symbols[i]));
    cr_assert_eq(status, STATUS_SYNTAX, "%s", symbols[i]);
    cr_assert_eq(chord.n_tones, 99, "%s", symbols[i]);
  }
}

Test(chord, ends_at_a_blank_or_at_its_length)
{
  Chord chord = chord_silence();
  char  text[CHORD_TEXT_CAPACITY];
  cr_assert_eq(chord_parse(&chord, "C7 junk", 7), STATUS_OK);
  cr_assert_str_eq(chord_text(&chord, text), "C7");
  cr_assert_eq(chord_parse(&chord, "Cm7b5", 3), STATUS_OK);
  cr_assert_str_eq(chord_text(&chord, text), "Cm7");
  cr_assert_eq(chord_parse(&chord, "Cm7b5", 99), STATUS_OK);
  cr_assert_str_eq(chord_text(&chord, text), "Cm7b5");
}

// CHORD_SUFFIX_CAPACITY leaves room for 23 characters
Test(chord, refuses_a_suffix_too_long)
{
  Chord             chord    = chord_silence();
  const char* const fits     = "C##min7(add9)(add11,add13)/G##";
  const char* const too_long = "Cmin7(add9)(add11)(add13)";
  char              text[CHORD_TEXT_CAPACITY];
  cr_assert_eq(chord_parse(&chord, fits, strlen(fits)), STATUS_OK);
  cr_assert_str_eq(chord_text(&chord, text), fits);
  cr_assert_eq(chord_parse(&chord, too_long, strlen(too_long)), STATUS_SYNTAX);
}

Test(chord, keeps_its_bass_apart)
{
  Chord chord = chord_silence();
  cr_assert_eq(chord_parse(&chord, "C7/Eb", 5), STATUS_OK);
  cr_assert_eq(spelling_pitch_class(chord.bass), 3);
  cr_assert(!chord_has_core_tone(&chord, 63));
  cr_assert(chord_has_root(&chord, 48));
  cr_assert(!chord_has_root(&chord, 51));
}

Test(chord, silence_has_no_tones)
{
  Chord chord = {.n_tones = 99};
  char  text[CHORD_TEXT_CAPACITY];
  cr_assert_eq(chord_parse(&chord, "N.C.", 4), STATUS_OK);
  cr_assert(chord_is_silence(&chord));
  cr_assert_str_eq(chord_text(&chord, text), "N.C.");
  for (unsigned pitch = 0; pitch < 128; ++pitch) {
    Spelling spelling;
    cr_assert(!chord_has_root(&chord, pitch));
    cr_assert(!chord_has_core_tone(&chord, pitch));
    cr_assert(!chord_spell(&chord, pitch, &spelling));
  }
}

static bool
sounds_like(const char* const a, const char* const b)
{
  Chord x = chord_silence();
  Chord y = chord_silence();
  cr_assert_eq(chord_parse(&x, a, strlen(a)), STATUS_OK);
  cr_assert_eq(chord_parse(&y, b, strlen(b)), STATUS_OK);
  return chord_equals(&x, &y);
}

Test(chord, equals_by_sound)
{
  cr_assert(sounds_like("C#m7", "Dbm7"));
  cr_assert(sounds_like("C7#5", "Caug7"));
  cr_assert(sounds_like("C6/9", "C69"));
  cr_assert(sounds_like("C", "C/C"));
  cr_assert(!sounds_like("C", "C/E"));
  cr_assert(!sounds_like("C6", "Am7"));
  cr_assert(!sounds_like("C", "N.C."));
  cr_assert(!sounds_like("C", "Cm"));
  cr_assert(!sounds_like("C", "D"));
}

static Chord
moved_up(const Chord* const chord, const Interval interval)
{
  Chord moved = *chord;
  moved.root  = spelling_above(chord->root, interval);
  moved.bass  = spelling_above(chord->bass, interval);
  return chord_readable(&moved);
}

/// The largest accidental among root, bass and tones.
static int
largest_accidental(const Chord* const chord)
{
  const int root    = abs(chord->root.alter);
  const int bass    = abs(chord->bass.alter);
  int       largest = root > bass ? root : bass;
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    const int alter = abs(spelling_above(chord->root, chord->tones[i]).alter);
    largest         = alter > largest ? alter : largest;
  }
  return largest;
}

Test(chord, comes_home_round_the_fifths)
{
  static Table table;
  cr_assert(table_open(&table, BARTER_TABLES "/chords.csv"));
  while (table_next(&table)) {
    Spelling          root   = {0, 0};
    Chord             chord  = chord_silence();
    const char* const suffix = table_field(&table, "quality");
    cr_assert_gt(spelling_parse(&root, table_field(&table, "root")), 0);
    cr_assert_eq(chord_build(&chord, root, suffix, strlen(suffix)), STATUS_OK);
    Chord moved = chord;
    for (unsigned i = 1; i <= 12; ++i) {
      moved = moved_up(&moved, (Interval){5, 7});
      cr_assert_leq(largest_accidental(&moved), 2, "line %u", table.line);
      cr_assert_leq(abs(moved.root.alter), 1, "line %u", table.line);
      cr_assert_eq(
        chord_equals(&moved, &chord), i == 12, "line %u", table.line);
    }
  }
  table_close(&table);
}

Test(chord, moves_its_bass_along)
{
  Chord chord = chord_silence();
  char  text[CHORD_TEXT_CAPACITY];
  cr_assert_eq(chord_parse(&chord, "C7/E", 4), STATUS_OK);
  const Chord up = moved_up(&chord, (Interval){3, 3});
  cr_assert_str_eq(chord_text(&up, text), "Eb7/G");

  // Readable: a diminished seventh on Cb would take a triple flat
  cr_assert_eq(chord_parse(&chord, "Cbdim7/Ebb", 10), STATUS_OK);
  const Chord readable = chord_readable(&chord);
  cr_assert_str_eq(chord_text(&readable, text), "Bdim7/D");
}
