#include "profiles/choices/choices_file.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdlib.h>
#include <string.h>

static Choices choices;
static Faults  faults;

static Status
read_choices(const char* const text)
{
  Settings* settings = NULL;
  Status    status = settings_read(&settings, "t", text, strlen(text), &faults);
  if (status == STATUS_OK) {
    choices = choices_plain();
    choices_file_read(&choices, CHOICE_BY_BARTER, settings);
    status = settings_status(settings);
  }
  settings_close(settings);
  return status;
}

Test(choices_file, reads_all_there_is)
{
  cr_assert_eq(
    read_choices("chart = \"waltz\"; key = \"Bb\"; feel = \"two\"; tempo = 80;"
                 "bars = 1; choruses = 9; first = \"partner\";"
                 "thins = \"partner\"; seed = 7; rung = \"3\";"
                 "split = \"G3\"; lowest = 50; highest = \"A5\";"
                 "hand_span = 9;"
                 "sounds = { bass = { program = \"fretless bass\"; };"
                 "           drums = { level = 5; }; };"),
    STATUS_OK,
    "%s",
    faults.faults[0].text);
  cr_assert_str_eq(choices.chart, "waltz");
  cr_assert_str_eq(choices.key, "Bb");
  cr_assert_str_eq(choices.feel, "two");
  cr_assert_float_eq(choices.tempo_bpm, 80.0, 1e-12);
  cr_assert_eq(choices.bars, 1);
  cr_assert_eq(choices.choruses, 9);
  cr_assert(choices.partner_begins);
  cr_assert(choices.band_thins_for_partner);
  cr_assert_eq(choices.seed, 7);
  cr_assert_arr_eq(choices.rung.level, ((uint8_t[]){3, 3, 3, 3}), 4);
  cr_assert_eq(choices.split, 55);
  cr_assert_eq(choices.lowest, 50);
  cr_assert_eq(choices.highest, 81);
  cr_assert_eq(choices.hand_span, 9);
  cr_assert_eq(choices.sounds[PART_BASS].program, 35);
  cr_assert_eq(choices.sounds[PART_DRUMS].level, 5);
}

/// Check that all fields are as choices_plain() has them.
static void
check_plain(void)
{
  const Choices plain = choices_plain();
  cr_assert_str_eq(choices.chart, plain.chart);
  cr_assert_str_eq(choices.key, plain.key);
  cr_assert_str_eq(choices.feel, plain.feel);
  cr_assert_arr_eq(choices.rung.level, plain.rung.level, N_DIMENSIONS);
  cr_assert_float_eq(choices.tempo_bpm, plain.tempo_bpm, 1e-12);
  cr_assert_eq(choices.bars, plain.bars);
  cr_assert_eq(choices.choruses, plain.choruses);
  cr_assert_eq(choices.partner_begins, plain.partner_begins);
  cr_assert_eq(choices.band_thins_for_partner, plain.band_thins_for_partner);
  cr_assert_eq(choices.seed, plain.seed);
  cr_assert_eq(choices.split, plain.split);
  cr_assert_eq(choices.lowest, plain.lowest);
  cr_assert_eq(choices.highest, plain.highest);
  cr_assert_eq(choices.hand_span, plain.hand_span);
  for (unsigned part = 0; part < N_PARTS; ++part) {
    cr_assert_eq(choices.sounds[part].program, plain.sounds[part].program);
    cr_assert_eq(choices.sounds[part].level, plain.sounds[part].level);
  }
}

Test(choices_file, keeps_what_is_not_said)
{
  cr_assert_eq(read_choices(""), STATUS_OK);
  check_plain();
}

// What the shipped file says is what holds without it
Test(choices_file, ships_the_plain_choices)
{
  static const char* const own = BARTER_SOURCE_DIR "/tests/none";
  (void)setenv("BARTER_CONFIG", BARTER_SOURCE_DIR "/config", 1);
  (void)setenv("XDG_CONFIG_HOME", own, 1);
  cr_assert_eq(
    choices_load(&choices, &faults), STATUS_OK, "%s", faults.faults[0].text);
  check_plain();
  cr_assert_eq(choices_place(&choices, CHOICE_CHART), CHOICE_BY_BARTER);
  cr_assert_eq(choices_place(&choices, CHOICE_TEMPO), CHOICE_BY_DEFAULT);
}

// Each value knows its line, and those that are not said that they are not
Test(choices_file, knows_where_it_was_said)
{
  cr_assert_eq(read_choices("tempo = 80;\n\nrung = \"rhythm=2\";\n"
                            "sounds = {\n bass = { level = 3; }; };"),
               STATUS_OK);
  static const struct {
    Choice      choice;
    ChoicePlace place;
    unsigned    line;
  } rows[] = {
    {CHOICE_TEMPO, CHOICE_BY_BARTER, 1},
    {CHOICE_RUNG, CHOICE_BY_BARTER, 3},
    {CHOICE_RHYTHM, CHOICE_BY_BARTER, 3},
    {CHOICE_NOTES, CHOICE_BY_DEFAULT, 0},
    {CHOICE_BASS_LEVEL, CHOICE_BY_BARTER, 5},
    {CHOICE_BASS_PROGRAM, CHOICE_BY_DEFAULT, 0},
    {CHOICE_SEED, CHOICE_BY_DEFAULT, 0},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    const ChoiceSource from = choices.from[rows[i].choice];
    cr_assert_eq(from.place, rows[i].place, "%u", i);
    cr_assert_eq(from.line, rows[i].line, "%u: line %u", i, from.line);
  }
}

typedef struct {
  char text[64];
  char says[64];
} FaultRow;

ParameterizedTestParameters(choices_file, fault)
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
    {"rung = \"9\";", "rung \"9\" is not understood; write 1 to 8"},
    {"make-room = true;", "make-room is not known here"},
  };
  return cr_make_param_array(FaultRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FaultRow* row, choices_file, fault)
{
  cr_assert_eq(read_choices(row->text), STATUS_SYNTAX);
  cr_assert_eq(faults.n_faults, 1);
  cr_assert_eq(faults.faults[0].line, 1);
  cr_assert_not_null(
    strstr(faults.faults[0].text, row->says), "%s", faults.faults[0].text);
}
