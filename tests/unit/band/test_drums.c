#include "core/band/drums.h"
#include "fixture.h"
#include "support/table.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <math.h>

static Chart   chart;
static Feel    feel;
static Drums   drums;
static BandBar bar;

static void
play(const unsigned     number,
     const double       bpm,
     const BandFullness fullness,
     Rng* const         rng)
{
  const Tick start = (Tick)number * meter_bar_ticks(chart.meter);
  const Cue  cue   = {&chart, &feel, bpm, start, fullness, NULL};
  bar.n_notes      = 0;
  drums_play(&drums, &cue, rng, &bar);
  part_settle(&bar);
}

typedef struct {
  char     name[24];
  unsigned key;
} DrumRow;

ParameterizedTestParameters(drums, keys)
{
  static DrumRow rows[] = {
    {"Bass Drum 1", DRUM_BASS},
    {"Side Stick", DRUM_SIDE_STICK},
    {"Acoustic Snare", DRUM_SNARE},
    {"High Floor Tom", DRUM_LOW_TOM},
    {"Pedal Hi-Hat", DRUM_PEDAL_HAT},
    {"Low-Mid Tom", DRUM_MIDDLE_TOM},
    {"Crash Cymbal 1", DRUM_CRASH},
    {"High Tom", DRUM_HIGH_TOM},
    {"Ride Cymbal 1", DRUM_RIDE},
  };
  return cr_make_param_array(DrumRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const DrumRow* row, drums, keys)
{
  static Table table;
  long         key = 0;
  cr_assert(table_open(&table, BARTER_TABLES "/gm.csv"));
  while (table_next(&table)) {
    if (strcmp(table_field(&table, "kind"), "percussion_channel_10") == 0 &&
        strcmp(table_field(&table, "name"), row->name) == 0) {
      key = table_number(&table, "byte");
    }
  }
  table_close(&table);
  cr_assert_eq(key, (long)row->key, "%s", row->name);
}

typedef struct {
  double bpm;
  double ratio; ///< Medians of solos (see test_swing.c) and 0.3
} RideRow;

ParameterizedTestParameters(drums, ride)
{
  static RideRow rows[] = {
    {85, 1.6},
    {115, 1.85},
    {145, 2.0},
    {180, 1.85},
    {220, 1.75},
    {300, 1.5}, // 80 ms is the short note of 1.5 at 300 bpm
  };
  return cr_make_param_array(RideRow, rows, sizeof(rows) / sizeof(*rows));
}

/// The ride cymbal's off-beats stand, on the mean, where the ratio has them.
ParameterizedTest(const RideRow* row, drums, ride)
{
  Rng    rng = rng_seed(1, 1);
  double sum = 0.0;
  int    n   = 0;
  feel_load(&feel, "swing");
  chart_write(&chart, "4/4", "C major", "C|C|C|C|C|C|C|C");
  for (unsigned i = 0; i < 200; ++i) {
    play(i, row->bpm, BAND_THIN, &rng);
    for (unsigned j = 0; j < bar.n_notes; ++j) {
      const Tick in_beat = bar.notes[j].note.tick % 960;
      if (bar.notes[j].note.pitch == DRUM_RIDE && in_beat > 300 &&
          in_beat < 900) {
        sum += (double)in_beat;
        ++n;
      }
    }
  }
  cr_assert_geq(n, 100);
  const double mean = sum / n;
  cr_assert_float_eq(mean / (960.0 - mean), row->ratio, 0.03);
}

Test(drums, play_in_the_bar_at_every_tempo)
{
  static const char* const names[] = {
    "straight", "swing", "shuffle", "bossa", "slow12", "waltz"};
  static const char* const meters[] = {
    "2/4", "3/4", "4/4", "5/4", "6/8", "12/8"};
  for (unsigned i = 0; i < 36; ++i) {
    feel_load(&feel, names[i % 6]);
    chart_write(&chart, meters[i / 6], "C major", "C|C|C|C");
    memset(&drums, 0, sizeof(drums));
    Rng rng = rng_seed(i, 1);
    for (unsigned j = 0; j < 40 && feel_fits(&feel, chart.meter); ++j) {
      play(j, 40.0 + 6.0 * j, j % 8 < 6 ? BAND_FULL : BAND_THIN, &rng);
      const Tick start = (Tick)j * meter_bar_ticks(chart.meter);
      const Tick end   = start + meter_bar_ticks(chart.meter);
      cr_assert_gt(bar.n_notes, 0U, "%s %s", names[i % 6], meters[i / 6]);
      for (unsigned k = 0; k < bar.n_notes; ++k) {
        const Note note = bar.notes[k].note;
        cr_assert_geq(note.tick, start);
        cr_assert_leq(note.tick + note.length, end);
        cr_assert(35 <= note.pitch && note.pitch <= 81);
      }
    }
  }
}

/// Whether the bar has a stroke of a tom, which no pattern of the feel has.
static bool
has_tom(void)
{
  bool has = false;
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const unsigned drum = bar.notes[i].note.pitch;
    has = has || drum == DRUM_HIGH_TOM || drum == DRUM_MIDDLE_TOM ||
          drum == DRUM_LOW_TOM;
  }
  return has;
}

Test(drums, fill_at_the_end_of_four_eight_and_the_form_more_and_more_often)
{
  Rng      rng   = rng_seed(5, 1);
  unsigned at[3] = {0, 0, 0};
  feel_load(&feel, "swing");
  chart_write(&chart, "4/4", "C major", "C|C|C|C|C|C|C|C|C|C|C|C");
  for (unsigned i = 0; i < 12 * 200; ++i) {
    play(i, 140.0, BAND_FULL, &rng);
    cr_assert(i % 4 == 3 || !has_tom(), "a fill in bar %u", i % 12 + 1);
    if (i % 4 == 3) {
      at[i % 12 / 4] += has_tom();
    }
  }
  cr_assert_gt(at[0], 0U);
  cr_assert_lt(at[0], at[1]);
  cr_assert_lt(at[1], at[2]);
}

static bool
has_drum(const unsigned drum, const Tick from, const Tick to)
{
  bool has = false;
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const Note note = bar.notes[i].note;
    has = has || (note.pitch == drum && from <= note.tick && note.tick < to);
  }
  return has;
}

/// The hands that fill leave the ride cymbal; the foot goes on.
Test(drums, fill_with_the_hands_that_play_the_ride)
{
  Rng      rng     = rng_seed(8, 1);
  unsigned n_fills = 0;
  feel_load(&feel, "swing");
  chart_write(&chart, "4/4", "C major", "C|C|C|C");
  for (unsigned i = 0; i < 400; ++i) {
    play(i, 140.0, BAND_FULL, &rng);
    const Tick last_beat = (Tick)i * 3840 + 2880;
    if (has_tom()) {
      cr_assert_not(has_drum(DRUM_RIDE, last_beat - 20, last_beat + 960));
      cr_assert(has_drum(DRUM_PEDAL_HAT, last_beat - 20, last_beat + 960));
      ++n_fills;
    }
  }
  cr_assert_gt(n_fills, 20U);
}

Test(drums, fill_with_no_more_strokes_than_there_is_time_for)
{
  Rng rng = rng_seed(9, 1);
  feel_load(&feel, "swing");
  chart_write(&chart, "4/4", "C major", "C");
  for (unsigned i = 0; i < 400; ++i) {
    play(i, 300.0, BAND_FULL, &rng);
    unsigned n = 0;
    for (unsigned j = 0; j < bar.n_notes; ++j) {
      const Note note = bar.notes[j].note;
      n += note.tick - (Tick)i * 3840 >= 1900 && note.pitch != DRUM_RIDE &&
           note.pitch != DRUM_PEDAL_HAT && note.pitch != DRUM_BASS;
    }
    cr_assert_leq(n, 4U, "faster than eighths at 300 bpm");
  }
}

Test(drums, do_not_fill_the_whole_bar)
{
  Rng rng = rng_seed(10, 1);
  feel_load(&feel, "swing");
  chart_write(&chart, "2/4", "C major", "C|C|C|C");
  for (unsigned i = 0; i < 400; ++i) {
    play(i, 140.0, BAND_FULL, &rng);
    const Tick start = (Tick)i * 1920;
    cr_assert(has_drum(DRUM_RIDE, start, start + 480));
  }
}

Test(drums, mark_the_top_of_the_form_after_a_fill)
{
  Rng      rng       = rng_seed(11, 1);
  unsigned n_crashes = 0;
  feel_load(&feel, "swing");
  chart_write(&chart, "4/4", "C major", "C|C|C|C|C|C");
  for (unsigned i = 0; i < 600; ++i) {
    play(i, 140.0, BAND_FULL, &rng);
    const Tick start   = (Tick)i * 3840;
    const bool crashes = has_drum(DRUM_CRASH, start, start + 3840);
    cr_assert(!crashes || i % 6 == 0, "a crash in bar %u", i % 6 + 1);
    n_crashes += crashes;
  }
  cr_assert_gt(n_crashes, 50U);
  cr_assert_lt(n_crashes, 100U);
}

Test(drums, leave_the_stick_where_it_lies)
{
  Rng rng = rng_seed(12, 1);
  feel_load(&feel, "bossa");
  chart_write(&chart, "4/4", "C major", "C|C|C|C");
  for (unsigned i = 0; i < 200; ++i) {
    play(i, 120.0, BAND_FULL, &rng);
    const Tick start = (Tick)i * 3840;
    cr_assert_not(has_drum(DRUM_SNARE, start, start + 3840));
    cr_assert_not(has_drum(DRUM_HIGH_TOM, start, start + 3840));
  }
}

Test(drums, do_not_fill_while_the_band_is_thin)
{
  Rng rng = rng_seed(6, 1);
  feel_load(&feel, "swing");
  chart_write(&chart, "4/4", "C major", "C|C|C|C");
  for (unsigned i = 0; i < 200; ++i) {
    play(i, 140.0, BAND_THIN, &rng);
    cr_assert_not(has_tom());
  }
}

typedef struct {
  char     meter[8];
  unsigned beats; ///< Bit n: beat n, from 0
} FootRow;

/// Under roots, the foot has the weak beats (common practice, no source).
ParameterizedTestParameters(drums, foot)
{
  static FootRow rows[] = {
    {"4/4", 0xA},
    {"3/4", 0x6},
    {"2/4", 0x2},
    {"5/4", 0x16},
    {"6/8", 0x2},
    {"12/8", 0xA},
  };
  return cr_make_param_array(FootRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(const FootRow* row, drums, foot)
{
  Rng      rng   = rng_seed(7, 1);
  unsigned found = 0;
  feel_load(&feel, "straight");
  chart_write(&chart, row->meter, "C major", "C|C");
  play(1, 120.0, BAND_ROOTS, &rng);
  for (unsigned i = 0; i < bar.n_notes; ++i) {
    const double beats =
      (double)(bar.notes[i].note.tick - meter_bar_ticks(chart.meter)) /
      (double)meter_beat_ticks(chart.meter);
    cr_assert_eq(bar.notes[i].note.pitch, DRUM_PEDAL_HAT);
    found |= 1U << lround(beats);
  }
  cr_assert_eq(found, row->beats, "%x", found);
}
