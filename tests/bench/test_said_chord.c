#include "said_chord.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static unsigned
classes_of(const char* text)
{
  unsigned tones = 0;
  char*    end   = NULL;
  for (long tone = strtol(text, &end, 10); end != text;
       tone      = strtol(text, &end, 10)) {
    tones |= 1U << (unsigned)tone;
    text = end;
  }
  return tones;
}

// chords.csv: npm package tonal 6.4.2, as tests/tables/SOURCES.md says
Test(said_chord, reads_every_chord_of_the_table)
{
  FILE* const file = fopen(BARTER_TABLES "/chords.csv", "r");
  char        row[256];
  unsigned    n = 0;
  cr_assert_not_null(file);
  cr_assert_not_null(fgets(row, sizeof(row), file));
  while (fgets(row, sizeof(row), file)) {
    char     root[8];
    char     quality[16];
    char     classes[64];
    char     symbol[32];
    unsigned pitch;
    cr_assert_eq(sscanf(row,
                        "%7[^,],%15[^,],%u,%*[^,],%63[^,],",
                        root,
                        quality,
                        &pitch,
                        classes),
                 4);
    (void)snprintf(symbol, sizeof(symbol), "%s%s", root, quality);
    const SaidChord chord = said_chord(symbol);
    cr_expect_eq(chord.root, pitch, "%s", symbol);
    cr_expect_eq(chord.tones, classes_of(classes), "%s", symbol);
    ++n;
  }
  (void)fclose(file);
  cr_expect_eq(n, 468);
}

// Lead sheets' spellings; common practice, no source
Test(said_chord, reads_what_the_table_lacks)
{
  cr_expect_eq(said_chord("C7/E").tones, said_chord("C7").tones);
  cr_expect_eq(said_chord("C/E").tones, 1U | 1U << 4 | 1U << 7);
  cr_expect_eq(said_chord("Cm6/9").tones,
               1U | 1U << 2 | 1U << 3 | 1U << 7 | 1U << 9);
  cr_expect_eq(said_chord("Caug7#9").tones,
               1U | 1U << 3 | 1U << 4 | 1U << 8 | 1U << 10);
  cr_expect(said_chord_has(&(SaidChord){.root = 0, .tones = 1U << 10}, 70));
  cr_expect_not(said_chord_has(&(SaidChord){.root = 0, .tones = 1U}, 70));
  const SaidChord altered = said_chord("C7alt");
  cr_expect(said_chord_has(&altered, 61) && said_chord_has(&altered, 68));
  cr_expect_not(said_chord_has(&altered, 67));
  cr_expect_eq(said_chord("N.C.").tones, 0U);
  cr_expect_eq(said_chord("Cx").tones, 0U);
}

Test(said_chord, knows_dominants)
{
  const SaidChord seventh = said_chord("F13");
  const SaidChord major   = said_chord("Fmaj7");
  cr_expect(said_chord_is_dominant(&seventh));
  cr_expect_not(said_chord_is_dominant(&major));
  cr_expect_eq(said_chord_degree(&seventh, 71), 6);
}
