#include "responder/tell/screen.h"

#include "responder/tell/columns.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <string.h>

static Chart          chart;
static SessionOptions session;
static char           line[SCREEN_LINE];

enum { BAR = 3840, BEAT = 960 };

static Screen
begin(const unsigned bars_per_turn)
{
  char fault[CHART_FAULT_CAPACITY];
  chart_begin(&chart, "test", (Meter){4, 4}, (Key){.is_minor = false});
  for (unsigned i = 0; i < 4; ++i) {
    cr_assert_eq(chart_add_bar(&chart, i % 2 ? "F7" : "C7", fault), STATUS_OK);
  }
  session = (SessionOptions){
    .chart = &chart, .bars_per_turn = bars_per_turn, .choruses = 2};
  FILE* const stream = tmpfile();
  cr_assert_not_null(stream);
  return screen_begin(stream, &session, -BAR);
}

static const char*
at(const Screen* const screen, const Tick now, const unsigned columns)
{
  return screen_line(screen, now, columns, line);
}

Test(screen, counts_in_from_one)
{
  const Screen screen = begin(2);
  cr_assert_str_eq(at(&screen, -BAR - 300, 79),
                   "count-in 1   first C7: C E G Bb");
  cr_assert_str_eq(at(&screen, -BAR, 79), "count-in 1   first C7: C E G Bb");
  cr_assert_str_eq(at(&screen, -BAR + 3 * BEAT + 5, 79),
                   "count-in 4   first C7: C E G Bb");
  cr_assert_str_eq(at(&screen, 8 * BAR, 79), "the end");
}

// What sounds after the last bar is told, once it does: without it all is over
// at the line
Test(screen, names_the_phrase_that_comes_back)
{
  const Screen screen = begin(2);
  session.plays_back  = true;
  cr_assert_str_eq(at(&screen, 9 * BAR + 30, 79), "the end");
  cr_assert_str_eq(at(&screen, 9 * BAR + BEAT, 79),
                   "the end; your best phrase once more");
  session.plays_back = false;
  cr_assert_str_eq(at(&screen, 9 * BAR, 79), "the end");
}

// ... and the end is where nothing comes
Test(screen, ends_with_the_last)
{
  Screen screen   = begin(2);
  screen.has_next = true;
  cr_assert_str_eq(at(&screen, 8 * BAR, 79), "done");
}

Test(screen, shows_more_where_there_is_room)
{
  const Screen screen = begin(2);
  const Tick   now    = BAR + BEAT;
  cr_assert_str_eq(at(&screen, now, 79),
                   "YOU       2 |####|##..| F7: F A C Eb > C7: C E G Bb");
  cr_assert_str_eq(at(&screen, now, 45),
                   "YOU       2 |####|##..| F7: F A C Eb > C7");
  cr_assert_str_eq(at(&screen, now, 39), "YOU       2 |##..| F7 > C7");
  cr_assert_str_eq(at(&screen, now, 22), "YOU       2 |##..| F7");
}

// What is played is seen in its own turn, the last of it where room is short
Test(screen, shows_what_is_struck)
{
  Screen screen = begin(2);
  screen_key(&screen, (HeardKey){100, 60, 80});
  screen_key(&screen, (HeardKey){200, 60, 0}); // Let go
  screen_key(&screen, (HeardKey){900, 70, 80});
  cr_assert_str_eq(
    at(&screen, 950, 79),
    "YOU       1 |#...|....| C7: C E G Bb > F7: F A C Eb  C4 Bb4");
  for (unsigned i = 0; i < 30; ++i) {
    screen_key(&screen, (HeardKey){BAR + 100 * (Tick)i, 64, 80});
  }
  (void)at(&screen, BAR + 3000, 39);
  cr_assert_str_eq(line, "YOU       2 |####| F7 > C7  E4 E4 E4 E4");
  cr_assert_null(strstr(at(&screen, 2 * BAR, 79), "E4"));
  screen_key(&screen, (HeardKey){2 * BAR + 10, 62, 80}); // Into the partner's
  cr_assert_not_null(strstr(at(&screen, 2 * BAR + 20, 79), "  D4"));
}

Test(screen, keeps_to_any_width)
{
  Screen screen = begin(4);
  for (unsigned columns = COLUMNS_LEAST; columns < 100; ++columns) {
    for (Tick now = -BAR; now < 9 * BAR; now += 700) {
      screen_key(&screen, (HeardKey){now, (uint8_t)(40 + now % 40), 80});
      (void)at(&screen, now, columns);
      cr_assert_leq(columns_of(line, strlen(line)), columns, "%s", line);
    }
  }
}

Test(screen, writes_no_line_of_beats_but_on_a_terminal)
{
  Screen screen = begin(2);
  for (Tick now = -BAR; now < 8 * BAR; now += 100) {
    screen_beat(&screen, now);
  }
  screen_say(&screen, "words");
  screen_end(&screen);
  rewind(screen.stream);
  char   text[64];
  size_t n = fread(text, 1, sizeof(text) - 1, screen.stream);
  text[n]  = '\0';
  cr_assert_str_eq(text, "words\n");
}
