#include "profiles/learner/learner_file.h"

#include "core/rng.h"
#include "support/practice.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

static Learner learner;
static Faults  faults;

static Status
read_learner(const char* const text)
{
  Settings* settings = NULL;
  faults             = (Faults){.n_faults = 0};
  Status status = settings_read(&settings, "t", text, strlen(text), &faults);
  if (status == STATUS_OK) {
    learner = learner_plain("Plain");
    status  = learner_file_read(&learner, settings);
  }
  settings_close(settings);
  return status;
}

static void
check_alike(const Learner* const a, const Learner* const b)
{
  cr_assert_str_eq(a->name, b->name);
  cr_assert_eq(a->choices.split, b->choices.split);
  cr_assert_eq(a->choices.lowest, b->choices.lowest);
  cr_assert_eq(a->choices.highest, b->choices.highest);
  cr_assert_eq(a->choices.hand_span, b->choices.hand_span);
  cr_assert_float_eq(a->choices.tempo_bpm, b->choices.tempo_bpm, 1e-9);
  cr_assert_arr_eq(a->caps.level, b->caps.level, N_DIMENSIONS);
  cr_assert_arr_eq(a->pins.level, b->pins.level, N_DIMENSIONS);
  cr_assert_float_eq(a->target_rate, b->target_rate, 1e-9);
  cr_assert_eq(a->pace, b->pace);
  cr_assert_eq(a->n_goals, b->n_goals);
  for (unsigned i = 0; i < a->n_goals; ++i) {
    cr_assert_str_eq(a->goals[i], b->goals[i]);
  }
}

// Holding

Test(learner, caps_and_pins_hold_every_rung)
{
  Rng rng = rng_seed(1, 5);
  for (unsigned round = 0; round < 5000; ++round) {
    Learner held = learner_plain("x");
    Rung    rung;
    for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
      const uint32_t most = dimension_rungs((Dimension)d);
      held.caps.level[d]  = (uint8_t)rng_below(&rng, most + 1);
      held.pins.level[d]  = (uint8_t)rng_below(&rng, most + 1);
      rung.level[d]       = (uint8_t)(1 + rng_below(&rng, most));
    }
    const Rung result = learner_hold(&held, rung);
    for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
      const uint8_t cap = held.caps.level[d];
      const uint8_t pin = held.pins.level[d];
      if (pin) {
        cr_assert_eq(result.level[d], pin);
      } else if (cap) {
        cr_assert_eq(result.level[d],
                     rung.level[d] < cap ? rung.level[d] : cap);
      } else {
        cr_assert_eq(result.level[d], rung.level[d]);
      }
    }
  }
}

typedef struct {
  char text[96];
  bool is_name;
} NameRow;

ParameterizedTestParameters(learner, name)
{
  static NameRow rows[] = {
    {"Ada", true},
    {"a", true},
    {"\u00c9lo\u00efse, 2nd year", true},
    {"", false},
    {"   ", false},
    {"two\nlines", false},
    {"\xff", false},
    {"123456789012345678901234567890123456789012345678901234567890123", true},
    {"1234567890123456789012345678901234567890123456789012345678901234", false},
  };
  return cr_make_param_array(NameRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(NameRow* row, learner, name)
{
  Fault fault;
  cr_assert_eq(!learner_check_name(row->text, &fault), row->is_name);
}

// The file

static void
draw_text(Rng* const rng, char* const text, const size_t capacity)
{
  static const char* const bits[] = {
    "a", "\"", "\\", " ", "#", "\u00e9", ";", "}", "//", "\\n", "=", "x"};
  size_t n = (size_t)snprintf(text, capacity, "g");
  for (unsigned i = rng_below(rng, 60); i > 0; --i) {
    const char* const bit = bits[rng_below(rng, sizeof(bits) / sizeof(*bits))];
    if (n + strlen(bit) < capacity) {
      n += (size_t)snprintf(text + n, capacity - n, "%s", bit);
    }
  }
}

static Learner
draw_learner(Rng* const rng)
{
  Learner drawn = learner_plain("");
  draw_text(rng, drawn.name, sizeof(drawn.name));
  drawn.choices.split  = (uint8_t)rng_below(rng, 128);
  drawn.choices.lowest = (uint8_t)rng_below(rng, 116);
  drawn.choices.highest =
    (uint8_t)(drawn.choices.lowest + 12 +
              rng_below(rng, 128U - 12U - drawn.choices.lowest));
  drawn.choices.hand_span = (uint8_t)(5 + rng_below(rng, 20));
  drawn.choices.tempo_bpm =
    rng_below(rng, 2) ? 30 + rng_below(rng, 2900) / 10.0 : 0;
  if (drawn.choices.tempo_bpm > 0.0) {
    choices_mark(&drawn.choices, CHOICE_TEMPO, CHOICE_BY_LEARNER, 0);
  }
  drawn.target_rate = 0.5 + rng_below(rng, 451) / 1000.0;
  drawn.pace        = (LearnerPace)rng_below(rng, N_LEARNER_PACES);
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    const uint32_t most = dimension_rungs((Dimension)d);
    const uint32_t cap  = rng_below(rng, most + 1);
    drawn.caps.level[d] = (uint8_t)cap;
    drawn.pins.level[d] = (uint8_t)rng_below(rng, (cap ? cap : most) + 1);
  }
  drawn.n_goals = rng_below(rng, LEARNER_GOALS + 1);
  for (unsigned i = 0; i < drawn.n_goals; ++i) {
    draw_text(rng, drawn.goals[i], sizeof(drawn.goals[i]));
  }
  return drawn;
}

Test(learner_file, is_read_as_it_is_written)
{
  Rng rng = rng_seed(2, 5);
  for (unsigned round = 0; round < 500; ++round) {
    const Learner drawn = draw_learner(&rng);
    char          text[LEARNER_TEXT_CAPACITY];
    cr_assert_eq(read_learner(learner_file_text(&drawn, text)),
                 STATUS_OK,
                 "%s\n%s",
                 faults.faults[0].text,
                 text);
    check_alike(&drawn, &learner);
  }
}

// The longest that there can be fits into its room
Test(learner_file, has_room_for_the_longest)
{
  Learner longest = learner_plain("");
  char    text[LEARNER_TEXT_CAPACITY];
  memset(longest.name, '"', sizeof(longest.name) - 1);
  longest.n_goals = LEARNER_GOALS;
  for (unsigned i = 0; i < LEARNER_GOALS; ++i) {
    memset(longest.goals[i], '\\', sizeof(longest.goals[i]) - 1);
  }
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    longest.caps.level[d] = 1;
    longest.pins.level[d] = 1;
  }
  cr_assert_eq(read_learner(learner_file_text(&longest, text)), STATUS_OK);
  check_alike(&longest, &learner);
}

Test(learner_file, keeps_what_is_not_said)
{
  const Learner plain = learner_plain("Plain");
  cr_assert_eq(read_learner(""), STATUS_OK);
  check_alike(&plain, &learner);
}

// A teacher finds every key in the file, and reads what it does
Test(learner_file, explains_each_key)
{
  static const char* const keys[] = {"name",
                                     "split",
                                     "lowest",
                                     "highest",
                                     "hand_span",
                                     "# tempo",
                                     "caps",
                                     "pins",
                                     "target",
                                     "pace",
                                     "goals"};
  const Learner            plain  = learner_plain("Ada");
  char                     text[LEARNER_TEXT_CAPACITY];
  (void)learner_file_text(&plain, text);
  for (unsigned i = 0; i < sizeof(keys) / sizeof(*keys); ++i) {
    char line[32];
    (void)snprintf(line, sizeof(line), "\n%s", keys[i]);
    cr_assert_not_null(strstr(text, line), "%s", keys[i]);
  }
  for (const char* line = text; *line; line += strcspn(line, "\n") + 1) {
    cr_assert_leq(strcspn(line, "\n"), 80);
  }
}

typedef struct {
  char     text[80];
  unsigned line;
  char     says[72];
} FaultRow;

ParameterizedTestParameters(learner_file, fault)
{
  static FaultRow rows[] = {
    {"nam = \"x\";", 1, "nam is not known; write name"},
    {"\n\ntempo = 20;", 3, "tempo 20 is outside 30..320"},
    {"tempo = \"fast\";", 1, "tempo is no number"},
    {"name = \"\";", 1, "name is empty"},
    {"name = \"  \";", 1, "name is empty"},
    {"name = 3;", 1, "name is no text"},
    {"split = \"H4\";", 1, "is no pitch"},
    {"hand_span = 4;", 1, "hand_span 4 is outside 5..24"},
    {"lowest = \"C4\";\nhighest = \"B4\";", 2, "narrower than an octave"},
    {"lowest = \"C6\";", 1, "narrower than an octave"},
    {"caps = { rythm = 3; };", 1, "rythm is not known; write rhythm"},
    {"caps = { notes = 9; };", 1, "notes 9 is outside 1..8"},
    {"caps = { rhythm = 8; };", 1, "rhythm 8 is outside 1..7"},
    {"caps = { shape = 7; };", 1, "shape 7 is outside 1..6"},
    {"caps = { ornament = 5; };", 1, "ornament 5 is outside 1..4"},
    {"pins = { notes = 0; };", 1, "notes 0 is outside 1..8"},
    {"caps = 4;", 1, "caps holds no settings"},
    {"caps = { notes = 3; };\npins = { notes = 4; };", 2, "above its cap 3"},
    {"target = 80;", 1, "target 80 is outside 0.5..0.95"},
    {"target = 0.49;", 1, "outside 0.5..0.95"},
    {"target = 0.96;", 1, "outside 0.5..0.95"},
    {"pace = \"quick\";", 1, "write gentle, steady or brisk"},
    {"pace = \"stedy\";", 1, "write steady"},
    {"goals = \"swing\";", 1, "goals is no list"},
    {"goals = [1];", 1, "goals is no text"},
    {"goals = [\"\",\"\",\"\",\"\",\"\",\"\",\"\",\"\",\"\"];",
     1,
     "goals holds 9 values; 0 to 8"},
  };
  return cr_make_param_array(FaultRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FaultRow* row, learner_file, fault)
{
  cr_assert_eq(read_learner(row->text), STATUS_SYNTAX);
  cr_assert_eq(faults.n_faults, 1);
  cr_assert_eq(faults.faults[0].line, row->line);
  cr_assert_not_null(
    strstr(faults.faults[0].text, row->says), "%s", faults.faults[0].text);
}

Test(learner_file, every_cut_is_read_or_told_of)
{
  const Learner plain = learner_plain("Ada");
  char          text[LEARNER_TEXT_CAPACITY];
  size_t        size = strlen(learner_file_text(&plain, text));
  while (size > 0) {
    text[--size]        = '\0';
    const Status status = read_learner(text);
    cr_assert_eq(status == STATUS_OK, faults.n_faults == 0, "%zu", size);
  }
}

Test(learner_file, is_for_its_owner_alone)
{
  char          folder[PRACTICE_PATH_CAPACITY];
  char          path[PRACTICE_PATH_CAPACITY];
  const Learner plain = learner_plain("Ada");
  struct stat   about;
  Fault         fault;
  practice_folder(folder);
  practice_path(path, folder, "learner.cfg");
  cr_assert_eq(learner_file_save(&plain, path, &fault), STATUS_OK);
  cr_assert_eq(stat(path, &about), 0);
  cr_assert_eq(about.st_mode & 0777, 0600);
  practice_remove(folder);
}
