// Measures symbol by symbol: brackets, ties, beams, rests. Expected by hand,
// common practice.

#include "core/notation/measure.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdio.h>
#include <string.h>

enum { MOST_NOTES = 16, TEXT = 256, FAR = 100000 };

static Measure     measure;
static WrittenNote notes[MOST_NOTES];
static Column      columns[MOST_NOTES];

// `8` an eighth, `8.` dotted, `r` before a rest, `~` after what is tied,
// `[` begins and `]` ends a bracket, `<` `-` `>` an eighth's beam
static void
spell_out(char text[TEXT])
{
  static const char* const types[] = {"64", "32", "16", "8", "4", "2", "1"};
  static const char* const beams[] = {"", "<", "-", ">", "", ""};
  size_t                   n       = 0;
  text[0]                          = '\0';
  for (unsigned i = 0; i < measure.n_symbols; ++i) {
    const Symbol* const symbol = &measure.symbols[i];
    n += (size_t)snprintf(text + n,
                          TEXT - n,
                          "%s%s%s%s%s%s%s%s",
                          i ? " " : "",
                          symbol->begins_tuplet ? "[" : "",
                          symbol->column ? "" : "r",
                          types[symbol->value.type],
                          symbol->value.dots ? "." : "",
                          symbol->ties_out ? "~" : "",
                          beams[symbol->beams[0]],
                          symbol->ends_tuplet ? "]" : "");
  }
}

typedef struct {
  char name[32];
  char meter[6];
  int  ticks[MOST_NOTES]; // -1 ends them; legato
  int  bar;
  char expected[96];
} MeasureRow;

ParameterizedTestParameters(measure, symbols)
{
  static MeasureRow rows[] = {
    {"eighths", "4/4", {0, 480, 960, 1440, 1920, -1}, 0, "8< 8- 8- 8> 2"},
    {"an eighth and a rest", "4/4", {480, 960, -1}, 0, "r8 8 2."},
    {"triplet", "4/4", {0, 320, 640, 960, -1}, 0, "[8< 8- 8>] 2."},
    {"swung triplet", "4/4", {0, 640, 960, -1}, 0, "[4 8] 2."},
    {"quarter triplet", "4/4", {0, 640, 1280, 1920, -1}, 0, "[4 4 4] 2"},
    {"quarter triplet in three",
     "3/4",
     {0, 640, 1280, 1920, -1},
     0,
     "[4 4 4] 4"},
    {"held into a triplet",
     "4/4",
     {0, 1280, 1600, 1920, -1},
     0,
     "4~ [8< 8- 8>] 2"},
    {"sixteenths", "4/4", {0, 240, 480, 720, 960, -1}, 0, "16< 16- 16- 16> 2."},
    {"dotted", "4/4", {0, 720, 960, -1}, 0, "8.< 16> 2."},
    {"syncopated sixteenth",
     "4/4",
     {0, 120, 360, 480, 960, -1},
     0,
     "32< 16- 32- 8> 2."},
    {"over the bar", "4/4", {3360, 4800, -1}, 1, "4 2."},
    {"into the bar", "4/4", {3360, 4800, -1}, 0, "r2 r4 r8 8~"},
    {"anticipation", "4/4", {0, 1440, 3840, -1}, 0, "4. 8~ 2"},
    {"duplet", "6/8", {0, 720, 1440, -1}, 0, "[8< 8>] 4."},
    {"jig", "6/8", {0, 480, 960, 1440, -1}, 0, "8< 8- 8> 4."},
    {"sextuplet",
     "2/4",
     {0, 160, 320, 480, 640, 800, 960, -1},
     0,
     "[16< 16- 16- 16- 16- 16>] 4"},
    {"quintuplet",
     "2/4",
     {0, 192, 384, 576, 768, 960, -1},
     0,
     "[16< 16- 16- 16- 16>] 4"},
    {"septuplet",
     "2/4",
     {0, 137, 274, 411, 549, 686, 823, 960, -1},
     0,
     "[16< 16- 16- 16- 16- 16- 16>] 4"},
    {"nothing", "3/4", {9000, -1}, 0, "r1"},
  };
  return cr_make_param_array(MeasureRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(MeasureRow* row, measure, symbols)
{
  Meter  meter;
  char   text[TEXT];
  size_t n = 0;
  cr_assert_eq(meter_parse(&meter, row->meter), STATUS_OK);
  const Tick bar = meter_bar_ticks(meter);
  for (; row->ticks[n] >= 0; ++n) {
    // The last one to the end of its bar
    const Tick next = row->ticks[n + 1] >= 0 ? row->ticks[n + 1]
                                             : (row->ticks[n] / bar + 1) * bar;
    notes[n]        = (WrittenNote){
             .tick = row->ticks[n], .sounding = next - row->ticks[n], .pitch = 60};
  }
  const size_t n_columns = written_columns(meter, notes, &n, FAR, columns);
  measure_write(&measure,
                meter,
                columns,
                n_columns,
                row->bar * bar * MOMENTS_PER_TICK,
                bar * MOMENTS_PER_TICK);
  spell_out(text);
  cr_assert_str_eq(text, row->expected, "%s: %s", row->name, text);
}

// A pick-up of a beat shows as that beat of its bar
Test(measure, pick_up)
{
  const Meter meter = {4, 4};
  char        text[TEXT];
  size_t      n = 2;
  notes[0]      = (WrittenNote){.tick = -480, .sounding = 480, .pitch = 60};
  notes[1]      = (WrittenNote){.tick = 0, .sounding = 480, .pitch = 60};
  const size_t n_columns = written_columns(meter, notes, &n, FAR, columns);
  measure_write(&measure,
                meter,
                columns,
                n_columns,
                -960 * MOMENTS_PER_TICK,
                960 * MOMENTS_PER_TICK);
  spell_out(text);
  cr_assert_str_eq(text, "r8 8", "%s", text);
}
