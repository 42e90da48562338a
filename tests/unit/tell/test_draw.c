// Phrases drawn in plain characters. The first picture is read off a score by
// hand: every row and column of it is worked out beside the notes.

#include "responder/tell/draw.h"

#include "core/rng.h"
#include "responder/hear/hear.h"
#include "responder/tell/columns.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PICTURE_CAPACITY = 65536 };

static char   picture[PICTURE_CAPACITY];
static Chart  chart;
static Phrase phrase;
static Ladder ladder;

static void
make_chart(const Meter meter, const char* const bar, const unsigned n_bars)
{
  char fault[CHART_FAULT_CAPACITY];
  chart_begin(&chart, "test", meter, (Key){.is_minor = false});
  for (unsigned i = 0; i < n_bars; ++i) {
    cr_assert_eq(chart_add_bar(&chart, bar, fault), STATUS_OK);
  }
}

static void
draw(void)
{
  FILE* const stream = fmemopen(picture, sizeof(picture), "w");
  cr_assert_not_null(stream);
  draw_phrase(stream, &chart, &phrase);
  cr_assert_eq(fclose(stream), 0);
}

/// Hear notes as they are written, in a turn of some bars.
static void
hear(const Note*    notes,
     const bool*    is_ornament,
     const unsigned n_notes,
     const unsigned n_bars)
{
  Tick      ticks[PHRASE_CAPACITY];
  const Ear ear = ear_usual(&chart, &ladder, 120.0);
  for (unsigned i = 0; i < n_notes; ++i) {
    ticks[i] = notes[i].tick;
  }
  hear_written(&phrase,
               &ear,
               notes,
               ticks,
               is_ornament,
               n_notes,
               0,
               n_bars * meter_bar_ticks(chart.meter));
}

// One bar of C7: a quarter E, an eighth D led by step to a C of a beat and a
// half, before which a B is crushed in; then G flat, an eighth left hanging.
// Eight cells a beat: 120 ticks each.
Test(draw, a_bar_as_it_was_worked_out_by_hand)
{
  static const Note notes[] = {
    {0, 960, 64, 80},
    {960, 480, 62, 80},
    {1440, 60, 59, 80},
    {1440, 1440, 60, 80},
    {3360, 480, 66, 80},
  };
  static const bool ornaments[] = {false, false, true, false, false};
  make_chart((Meter){4, 4}, "C7", 1);
  hear(notes, ornaments, 5, 1);
  draw();
  cr_assert_str_eq(picture,
                   "    bar  |1                               |\n"
                   "         |1       2       3       4       |\n"
                   "    Gb4  |.       .       .       .   ?---|\n"
                   "    E4   |o-------.       .       .       |\n"
                   "    D4   |.       +---    .       .       |\n"
                   "    C4   |.       .   O-----------.       |\n"
                   "    B3   |.       .  ~    .       .       |\n");
}

// Five bars are two lines of four and one: a C that is struck on the last beat
// of the fourth and lasts two beats goes on in the second
Test(draw, a_held_note_goes_on_in_the_next_line)
{
  static const Note notes[]     = {{14400, 1920, 60, 80}};
  static const bool ornaments[] = {false};
  make_chart((Meter){4, 4}, "C7", 5);
  hear(notes, ornaments, 1, 5);
  draw();
  const char* const second = strstr(picture, "    bar  |5");
  cr_assert_not_null(second);
  cr_assert_str_eq(second,
                   "    bar  |5               |\n"
                   "         |1   2   3   4   |\n"
                   "    C4   |----.   .   .   |\n");
}

static void
check_lines(const unsigned n_notes)
{
  unsigned n_marks = 0;
  for (char* line = strtok(picture, "\n"); line; line = strtok(NULL, "\n")) {
    const size_t length = strlen(line);
    cr_assert_leq(length, COLUMNS_USUAL, "%zu: %s", length, line);
    for (size_t i = 0; i < length; ++i) {
      cr_assert(line[i] >= ' ' && line[i] < 127);
      n_marks += i > 8 && strchr("Oo+x?", line[i]) ? 1 : 0;
    }
  }
  cr_assert_eq(n_marks, n_notes, "%u of %u", n_marks, n_notes);
}

// Every note of any rhythm of sixteenths is there, in lines that fit
Test(draw, every_note_stands_in_lines_that_fit)
{
  static const Meter meters[] = {
    {4, 4}, {3, 4}, {2, 4}, {5, 4}, {6, 8}, {12, 8}};
  static const bool none[PHRASE_CAPACITY] = {false};
  Rng               rng                   = rng_seed(1, 1);
  for (unsigned i = 0; i < 300; ++i) {
    const unsigned n_bars = 1 + rng_below(&rng, 4);
    Note           notes[PHRASE_CAPACITY];
    unsigned       n = 0;
    make_chart(meters[i % 6], "Am7", n_bars);
    const Tick end = n_bars * meter_bar_ticks(chart.meter);
    for (Tick tick = rng_below(&rng, 2) ? -240 : 0; tick < end && n < 60;) {
      const Tick length = 240 * (1 + rng_below(&rng, 5));
      notes[n++] =
        (Note){tick, length, (uint8_t)(48 + rng_below(&rng, 36)), 80};
      tick += length;
    }
    hear(notes, none, n, n_bars);
    draw();
    check_lines(n);
  }
}

Test(draw, silence_draws_nothing)
{
  make_chart((Meter){4, 4}, "C7", 1);
  hear(NULL, NULL, 0, 1);
  memset(picture, 0, sizeof(picture));
  draw();
  cr_assert_eq(strlen(picture), 0);
}

Test(draw, legend_fits)
{
  FILE* const stream = fmemopen(picture, sizeof(picture), "w");
  cr_assert_not_null(stream);
  draw_legend(stream);
  cr_assert_eq(fclose(stream), 0);
  cr_assert_leq(strlen(picture), COLUMNS_USUAL + 1); // And its end
  cr_assert_eq(strchr(picture, '\n')[1], '\0');
}
