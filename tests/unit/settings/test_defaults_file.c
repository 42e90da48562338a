#include "core/settings/defaults_file.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <string.h>

static Defaults defaults;
static Faults   faults;

static Status
read_defaults(const char* const text)
{
  Settings* settings = NULL;
  Status    status = settings_read(&settings, "t", text, strlen(text), &faults);
  if (status == STATUS_OK) {
    defaults = defaults_plain();
    status   = defaults_file_read(&defaults, settings);
  }
  settings_close(settings);
  return status;
}

Test(defaults_file, reads_all_there_is)
{
  cr_assert_eq(
    read_defaults("chart = \"waltz\"; key = \"Bb\"; feel = \"two\"; tempo = 80;"
                  "bars = 1; choruses = 9; first = \"partner\";"
                  "thins = \"partner\"; seed = 7; rung = \"3\";"
                  "split = \"G3\"; lowest = 50; highest = \"A5\";"
                  "hand_span = 9;"
                  "sounds = { bass = { program = \"fretless bass\"; };"
                  "           drums = { level = 5; }; };"),
    STATUS_OK,
    "%s",
    faults.faults[0].text);
  cr_assert_str_eq(defaults.chart, "waltz");
  cr_assert_str_eq(defaults.key, "Bb major");
  cr_assert_str_eq(defaults.feel, "two");
  cr_assert_float_eq(defaults.tempo_bpm, 80.0, 1e-12);
  cr_assert_eq(defaults.bars, 1);
  cr_assert_eq(defaults.choruses, 9);
  cr_assert(defaults.partner_begins);
  cr_assert(defaults.band_thins_for_partner);
  cr_assert(defaults.has_seed);
  cr_assert_eq(defaults.seed, 7);
  cr_assert_str_eq(defaults.rung, "3");
  cr_assert_eq(defaults.split, 55);
  cr_assert_eq(defaults.lowest, 50);
  cr_assert_eq(defaults.highest, 81);
  cr_assert_eq(defaults.hand_span, 9);
  cr_assert_eq(defaults.sounds[PART_BASS].program, 35);
  cr_assert_eq(defaults.sounds[PART_DRUMS].level, 5);
}

/// Check that all fields are as defaults_plain() has them.
static void
check_plain(void)
{
  const Defaults plain = defaults_plain();
  cr_assert_str_eq(defaults.chart, plain.chart);
  cr_assert_str_eq(defaults.key, plain.key);
  cr_assert_str_eq(defaults.feel, plain.feel);
  cr_assert_str_eq(defaults.rung, plain.rung);
  cr_assert_float_eq(defaults.tempo_bpm, plain.tempo_bpm, 1e-12);
  cr_assert_eq(defaults.bars, plain.bars);
  cr_assert_eq(defaults.choruses, plain.choruses);
  cr_assert_eq(defaults.partner_begins, plain.partner_begins);
  cr_assert_eq(defaults.band_thins_for_partner, plain.band_thins_for_partner);
  cr_assert_eq(defaults.has_seed, plain.has_seed);
  cr_assert_eq(defaults.split, plain.split);
  cr_assert_eq(defaults.lowest, plain.lowest);
  cr_assert_eq(defaults.highest, plain.highest);
  cr_assert_eq(defaults.hand_span, plain.hand_span);
  for (unsigned part = 0; part < N_PARTS; ++part) {
    cr_assert_eq(defaults.sounds[part].program, plain.sounds[part].program);
    cr_assert_eq(defaults.sounds[part].level, plain.sounds[part].level);
  }
}

Test(defaults_file, keeps_what_is_not_said)
{
  cr_assert_eq(read_defaults(""), STATUS_OK);
  check_plain();
}

// What the shipped file says is what holds without it
Test(defaults_file, ships_the_plain_defaults)
{
  cr_assert_eq(defaults_file_load(
                 &defaults, BARTER_SOURCE_DIR "/config/barter.cfg", &faults),
               STATUS_OK,
               "%s",
               faults.faults[0].text);
  defaults = (Defaults){0};
  cr_assert_eq(defaults_file_load(
                 &defaults, BARTER_SOURCE_DIR "/config/barter.cfg", &faults),
               STATUS_OK);
  check_plain();
}

typedef struct {
  char text[64];
  char says[64];
} FaultRow;

ParameterizedTestParameters(defaults_file, fault)
{
  static FaultRow rows[] = {
    {"tempoo = 90;", "write tempo"},
    {"tempo = 0;", "tempo 0 is outside 30..320"},
    {"key = \"H\";", "key \"H\" is not known"},
    {"bars = 3;", "write 1, 2 or 4"},
    {"bars = 8;", "bars 8 is outside 1..4"},
    {"choruses = 0;", "choruses 0 is outside 1..99"},
    {"choruses = 100;", "choruses 100 is outside 1..99"},
    {"first = \"me\";", "write player or partner"},
    {"thins = true;", "thins is no text"},
    {"seed = -1;", "seed -1 is outside 0..2147483647"},
    {"split = 128;", "split 128 is outside 0..127"},
    {"lowest = \"C4\"; highest = \"B4\";", "narrower than an octave"},
    {"lowest = \"C6\";", "narrower than an octave"},
    {"hand_span = 4;", "hand_span 4 is outside 5..24"},
    {"sounds = 4;", "sounds holds no settings"},
    {"sounds = { drum = { }; };", "write drums"},
    {"sounds = { bass = 4; };", "bass holds no settings"},
    {"sounds = { bass = { level = 128; }; };", "level 128 is outside 0..127"},
    {"sounds = { bass = { program = \"bass\"; }; };", "\"bass\" is not known"},
    {"chart = 1;", "chart is no text"},
  };
  return cr_make_param_array(FaultRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FaultRow* row, defaults_file, fault)
{
  cr_assert_eq(read_defaults(row->text), STATUS_SYNTAX);
  cr_assert_eq(faults.n_faults, 1);
  cr_assert_eq(faults.faults[0].line, 1);
  cr_assert_not_null(
    strstr(faults.faults[0].text, row->says), "%s", faults.faults[0].text);
}
