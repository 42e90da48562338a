#define _XOPEN_SOURCE 700 // For posix_openpt()

#include "responder/tell/columns.h"

#include "core/tick.h"
#include "responder/hear/phrase.h"
#include "responder/tell/draw.h"
#include "responder/tell/tell.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <fcntl.h>
#include <locale.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

// As the program does, whatever the language of the system
static void
read_utf8(void)
{
  cr_assert_not_null(setlocale(LC_CTYPE, "C.UTF-8"));
}

TestSuite(columns, .init = read_utf8);

// Widths by Unicode Standard Annex 11, East Asian Width: W and F take two
// columns, and by common practice of terminals a combining mark takes none.
typedef struct {
  char     text[32];
  unsigned columns;
} WidthRow;

ParameterizedTestParameters(columns, of_text)
{
  static WidthRow rows[] = {
    {"", 0},
    {"Ada", 3},
    {"J\u00F6rg", 4},                // One letter with its accent
    {"Jo\u0308rg", 4},               // A letter, then U+0308
    {"\u5C0F\u6625", 4},             // Two ideographs, W
    {"\uFF21b", 3},                  // A fullwidth letter, F
    {"\uAE40", 2},                   // A Hangul syllable, W
    {"\u0416\u0434\u0430\u043D", 4}, // Cyrillic
    {"a\xFFz", 3},                   // No UTF-8
    {"\xE5\xB0", 2},                 // Cut short
  };
  return cr_make_param_array(WidthRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const WidthRow* row, columns, of_text)
{
  cr_assert_eq(columns_of(row->text, strlen(row->text)),
               row->columns,
               "%s: %u",
               row->text,
               columns_of(row->text, strlen(row->text)));
}

Test(columns, cut_between_characters)
{
  const char* const text    = "a\u5C0Fo\u0308z"; // 1, 2, 1 of two, 1
  const size_t      bytes[] = {0, 1, 1, 4, 7, 8, 8};
  for (unsigned columns = 0; columns < 7; ++columns) {
    cr_assert_eq(columns_fit(text, columns), bytes[columns], "%u", columns);
  }
}

Test(columns, are_filled_with_blanks)
{
  char        line[64] = "";
  FILE* const stream   = fmemopen(line, sizeof(line), "w");
  columns_put(stream, "\u5C0F", 4);
  columns_put(stream, "J\u00F6rg", 6);
  columns_put(stream, "longer", 3);
  (void)fputs("|", stream);
  (void)fclose(stream);
  cr_assert_str_eq(line, "\u5C0F  J\u00F6rg  longer |");
}

Test(columns, of_no_terminal_are_the_usual)
{
  FILE* const stream = tmpfile();
  cr_assert_not_null(stream);
  cr_assert_eq(columns_here(stream), COLUMNS_USUAL);
  (void)fclose(stream);
}

// A terminal of some columns

static int leader;

static FILE*
open_terminal(const unsigned short columns)
{
  const struct winsize size = {.ws_row = 24, .ws_col = columns};
  leader                    = posix_openpt(O_RDWR | O_NOCTTY);
  cr_assert(leader >= 0 && !grantpt(leader) && !unlockpt(leader));
  cr_assert_eq(ioctl(leader, TIOCSWINSZ, &size), 0);
  const int follower = open(ptsname(leader), O_RDWR | O_NOCTTY);
  cr_assert(follower >= 0);
  return fdopen(follower, "w");
}

// What was written so far, as long as a terminal holds; it comes by and by
static void
check_lines(FILE* const stream, const unsigned most)
{
  char          text[4096] = "";
  size_t        n          = 0;
  struct pollfd ready      = {.fd = leader, .events = POLLIN};
  cr_assert_eq(fflush(stream), 0);
  while (n < sizeof(text) - 1 && poll(&ready, 1, 100) > 0) {
    const ssize_t n_read = read(leader, text + n, sizeof(text) - 1 - n);
    cr_assert_gt(n_read, 0);
    n += (size_t)n_read;
  }
  cr_assert_gt(n, 40);
  for (char* line = strtok(text, "\r\n"); line; line = strtok(NULL, "\r\n")) {
    cr_assert_leq(columns_of(line, strlen(line)), most, "%s", line);
  }
}

Test(columns, follow_the_terminal)
{
  static const unsigned short widths[] = {0, 20, 40, 61, 80, 200};
  static const unsigned       here[]   = {
            COLUMNS_USUAL, COLUMNS_LEAST, 39, 60, 79, 199};
  FILE* const stream = open_terminal(80);
  for (unsigned i = 0; i < 6; ++i) { // Resized while it is open
    const struct winsize size = {.ws_row = 24, .ws_col = widths[i]};
    cr_assert_eq(ioctl(leader, TIOCSWINSZ, &size), 0);
    cr_assert_eq(columns_here(stream), here[i]);
    tell_words(stream,
               4,
               "Words that go on and on, until there are more of them than any "
               "line of a terminal has room for, wide or narrow.");
    check_lines(stream, here[i]);
  }
  (void)fclose(stream);
  (void)close(leader);
}

Test(columns, hold_drawings_of_any_meter)
{
  static const Meter meters[] = {{2, 4}, {4, 4}, {7, 4}, {6, 8}, {12, 8}};
  FILE* const        stream   = open_terminal(40);
  for (unsigned i = 0; i < 5; ++i) {
    static Chart  chart;
    static Phrase phrase;
    char          fault[CHART_FAULT_CAPACITY];
    chart_begin(&chart, "test", meters[i], (Key){.is_minor = false});
    cr_assert_eq(chart_add_bar(&chart, "C7", fault), STATUS_OK);
    const Tick bar = meter_bar_ticks(meters[i]);
    phrase = (Phrase){.n_notes = 2, .start_tick = 0, .end_tick = 2 * bar};
    phrase.notes[0] = (HeardNote){.note = {0, 480, 60, 80}, .grid_length = 480};
    phrase.notes[1] = (HeardNote){
      .note = {bar, 480, 72, 80}, .grid_tick = bar, .grid_length = 480};
    draw_phrase(stream, &chart, &phrase);
    check_lines(stream, 39);
  }
  (void)fclose(stream);
  (void)close(leader);
}
