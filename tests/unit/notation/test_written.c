// From sounding lengths to written ones; common practice, no source.

#include "core/notation/written.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

enum { MOST = 4, FAR = 100000 };

typedef struct {
  char name[40];
  char meter[6];
  int  tick;     // Of the first note, then
  int  sounding; // ... how long it sounds,
  int  next;     // ... where the next one stands, 0 if there is none
  int  end;      // ... and where it ends on paper
} LengthRow;

ParameterizedTestParameters(written, lengths)
{
  static LengthRow rows[] = {
    {"legato", "4/4", 0, 470, 480, 480},
    {"staccato eighths", "4/4", 0, 200, 480, 480},
    {"detached quarters", "4/4", 0, 384, 960, 960},
    {"very short quarters", "4/4", 0, 200, 960, 480},
    {"no rest of a sixteenth", "4/4", 0, 200, 720, 720},
    {"a rest of a beat", "4/4", 0, 900, 1920, 960},
    {"held into a rest of an eighth", "4/4", 0, 1300, 1920, 1440},
    {"held a little over", "4/4", 0, 1152, 2880, 960},
    {"overlapping", "4/4", 0, 900, 480, 480},
    {"the last, short", "4/4", 960, 100, 0, 1440},
    {"the last, a bar", "4/4", 0, 3700, 0, 3840},
    {"swung off-beat", "4/4", 480, 340, 960, 960},
    {"triplet", "4/4", 320, 100, 640, 640},
    {"a triplet's first, then nothing", "4/4", 0, 100, 640, 640},
    {"rest inside a triplet", "4/4", 320, 100, 1920, 640},
    {"the end of a triplet", "4/4", 640, 100, 1920, 960},
    {"sixteenth before a rest", "4/4", 720, 100, 1920, 960},
    {"in six, short", "6/8", 0, 200, 1440, 480},
    {"in six, a beat", "6/8", 0, 1300, 1440, 1440},
  };
  return cr_make_param_array(LengthRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(LengthRow* row, written, lengths)
{
  Meter       meter;
  Column      columns[MOST];
  WrittenNote notes[MOST] = {
    {.tick = row->tick, .sounding = row->sounding, .pitch = 60},
    {.tick = row->next, .sounding = 400, .pitch = 62},
  };
  size_t n = row->next ? 2 : 1;
  cr_assert_eq(meter_parse(&meter, row->meter), STATUS_OK);
  cr_assert_eq(written_columns(meter, notes, &n, FAR, columns), n);
  cr_assert_eq(columns[0].start, row->tick * MOMENTS_PER_TICK);
  cr_assert_eq(columns[0].end / MOMENTS_PER_TICK,
               row->end,
               "%s: ends at %ld",
               row->name,
               (long)(columns[0].end / MOMENTS_PER_TICK));
}

Test(written, chords_and_graces)
{
  const Meter meter = {4, 4};
  Column      columns[MOST];
  WrittenNote notes[MOST] = {
    {.tick = 0, .heard = -80, .sounding = 60, .pitch = 70, .is_grace = true},
    {.tick = 0, .sounding = 900, .pitch = 64},
    {.tick = 0, .sounding = 500, .pitch = 71},
    {.tick = 0, .sounding = 950, .pitch = 71}, // Written once
  };
  size_t n = MOST;
  cr_assert_eq(written_columns(meter, notes, &n, FAR, columns), 1);
  cr_assert_eq(n, 3);
  cr_assert_eq(columns[0].n_graces, 1);
  cr_assert_eq(columns[0].n_notes, 2);
  cr_assert_eq(columns[0].end, 960 * MOMENTS_PER_TICK);
}

Test(written, order)
{
  const WrittenNote low   = {.tick = 0, .pitch = 60};
  const WrittenNote high  = {.tick = 0, .pitch = 72};
  const WrittenNote grace = {
    .tick = 0, .pitch = 90, .heard = 5, .is_grace = true};
  const WrittenNote early = {
    .tick = 0, .pitch = 95, .heard = 1, .is_grace = true};
  const WrittenNote left = {.tick = -9, .pitch = 40, .staff = 1};
  cr_assert_lt(written_compare(&low, &high), 0);
  cr_assert_lt(written_compare(&grace, &low), 0);
  cr_assert_lt(written_compare(&early, &grace), 0);
  cr_assert_gt(written_compare(&left, &high), 0);
}

// A grace note that decorates nothing is a note
Test(written, lonely_grace)
{
  const Meter meter = {4, 4};
  Column      columns[MOST];
  WrittenNote notes[] = {
    {.tick = 480, .sounding = 60, .pitch = 70, .is_grace = true}};
  size_t n = 1;
  cr_assert_eq(written_columns(meter, notes, &n, FAR, columns), 1);
  cr_assert_eq(columns[0].n_notes, 1);
  cr_assert_eq(columns[0].n_graces, 0);
}

Test(written, nothing_outlasts_the_piece)
{
  const Meter meter = {4, 4};
  Column      columns[1];
  WrittenNote notes[] = {{.tick = 2880, .sounding = 9000, .pitch = 70}};
  size_t      n       = 1;
  cr_assert_eq(written_columns(meter, notes, &n, 3840, columns), 1);
  cr_assert_eq(columns[0].end, 3840 * MOMENTS_PER_TICK);
}
