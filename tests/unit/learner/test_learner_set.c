#include "profiles/learner/learner_set.h"

#include "core/settings/settings.h"
#include "profiles/learner/learner_file.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdlib.h>
#include <string.h>

static char*
copy(const char* const text)
{
  char* const copied = malloc(strlen(text) + 1);
  cr_assert_not_null(copied);
  return memcpy(copied, text, strlen(text) + 1);
}

// The file that everybody begins with
static char*
fresh(void)
{
  const Learner learner = learner_plain("ada");
  char          text[LEARNER_TEXT_CAPACITY];
  return copy(learner_file_text(&learner, text));
}

// A settings file read by the reader of settings files
static Learner
read_back(const char* const text)
{
  Faults    faults   = {.n_faults = 0};
  Settings* settings = NULL;
  Learner   learner  = learner_plain("");
  cr_assert_eq(
    settings_read(&settings, "learner.cfg", text, strlen(text), &faults),
    STATUS_OK,
    "%s",
    text);
  cr_assert_eq(learner_file_read(&learner, settings), STATUS_OK, "%s", text);
  settings_close(settings);
  return learner;
}

Test(learner_set, changes_what_is_named)
{
  char* text = fresh();
  Fault fault;
  cr_assert_eq(learner_set(&text, "tempo=90", &fault), STATUS_OK);
  cr_assert_eq(learner_set(&text, "target=75", &fault), STATUS_OK);
  cr_assert_eq(learner_set(&text, "pace=gentle", &fault), STATUS_OK);
  cr_assert_eq(learner_set(&text, "name=Ada \"L\"", &fault), STATUS_OK);
  cr_assert_eq(learner_set(&text, "highest=C5", &fault), STATUS_OK);
  cr_assert_eq(learner_set(&text, "caps=rhythm=4, notes=5", &fault), STATUS_OK);
  cr_assert_eq(learner_set(&text, "goals=one;  two = 2 ; three", &fault),
               STATUS_OK);
  const Learner learner = read_back(text);
  cr_assert_eq(learner.choices.tempo_bpm, 90.0);
  cr_assert_float_eq(learner.target_rate, 0.75, 1e-9);
  cr_assert_eq(learner.pace, LEARNER_GENTLE);
  cr_assert_str_eq(learner.name, "Ada \"L\"");
  cr_assert_eq(learner.choices.highest, 72);
  cr_assert_eq(learner.caps.level[DIMENSION_RHYTHM], 4);
  cr_assert_eq(learner.caps.level[DIMENSION_NOTES], 5);
  cr_assert_eq(learner.n_goals, 3);
  cr_assert_str_eq(learner.goals[1], "two = 2");
  free(text);
}

// A setting in force takes the place of itself, one behind a # of that; all
// else stays, remarks of the teacher's own too
Test(learner_set, leaves_the_rest_alone)
{
  static const struct {
    const char* before;
    const char* change;
    const char* after;
  } rows[] = {
    {"a # tempo = 1;\ntempo = 96; # hers\nx\n",
     "tempo=100",
     "a # tempo = 1;\ntempo = 100; # hers\nx\n"},
    {"# tempo = 96;\n# more\n", "tempo=100", "tempo = 100;\n# more\n"},
    {"pace = \"brisk\";", "tempo=100", "pace = \"brisk\";\ntempo = 100;\n"},
    {"", "tempo=100", "tempo = 100;\n"},
    {"tempo = 96;\n", "tempo=", "# tempo = 96;\n"},
    {"# tempo = 96;\n", "tempo=", "# tempo = 96;\n"},
    {"caps = { notes = 5; rhythm = 3; };\nx\n",
     "caps.rhythm=4",
     "caps = { notes = 5; rhythm = 4; };\nx\n"},
    {"caps = { notes = 5; rhythm = 3; };\n",
     "caps.notes=",
     "caps = { rhythm = 3; };\n"},
    {"pins = {\n  shape: 2\n};\n",
     "pins.rhythm=4",
     "pins = { shape: 2; rhythm = 4; };\n"},
    {"# caps = { };\n", "caps.rhythm=4", "caps = { rhythm = 4; };\n"},
    {"goals = [ \"a;b\",\n  \"]\" ];\nend\n",
     "goals=c",
     "goals = [ \"c\" ];\nend\n"},
    {"goals = [ \"a\" ];\n", "goals=", "goals = [ ];\n"},
    {"target = 0.8;\n", "target=0.9", "target = 0.9;\n"},
    {"target = 0.8;\n", "target=90%", "target = 0.9;\n"},
    {"target = 0.8;\n", "target=75 %", "target = 0.75;\n"},
    {"target = 0.8;\n", "target=50", "target = 0.5;\n"},
    {"rung = \"3\";\n",
     "rung=notes=2,rhythm=1",
     "rung = \"notes=2,rhythm=1\";\n"},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    char* text = copy(rows[i].before);
    Fault fault;
    cr_assert_eq(learner_set(&text, rows[i].change, &fault), STATUS_OK);
    cr_assert_str_eq(text, rows[i].after);
    free(text);
  }
}

Test(learner_set, knows_what_there_is)
{
  static const struct {
    const char* change;
    const char* words;
  } rows[] = {
    {"tmpo=90", "no setting tmpo; did you mean tempo"},
    {"tempo", "write a setting and its value"},
    {"=90", "write a setting and its value"},
    {"caps.rythm=4", "no setting caps.rythm; did you mean caps.rhythm"},
    {"goal=x", "did you mean goals"},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    char* text = copy("# as it was\n");
    Fault fault;
    cr_assert_eq(learner_set(&text, rows[i].change, &fault), STATUS_SYNTAX);
    cr_assert_not_null(strstr(fault.text, rows[i].words), "%s", fault.text);
    cr_assert_str_eq(text, "# as it was\n");
    free(text);
  }
}

// ... which is said by the value, before it stands in a file
Test(learner_set, knows_what_is_right)
{
  static const struct {
    const char* change;
    const char* words;
  } rows[] = {
    {"tempo=90bpm", "tempo"},
    {"tempo=90; pace = 3", "tempo"},
    {"tempo=9000", "tempo 9000 is not a number from 30 to 320"},
    {"target=7", "target 7 is outside 50 to 95 in a hundred"},
    {"target=49 %", "target 49 % is outside 50 to 95"},
    {"target=96", "target 96 is outside 50 to 95"},
    {"target=0.4", "target 0.4 is outside 50 to 95"},
    {"target=80 of 100", "target 80 of 100 is outside"},
    {"rung=9", "rung"},
    {"caps.rhythm=99", "caps.rhythm 99 is not"},
    {"goals=one\ntwo", "goals has a line break in it"},
    {"name=", "the name is to be one line that is not empty"},
    {"name=a\nb", "name has a line break in it"},
    {"name=\u591C\u591C\u591C\u591C\u591C\u591C\u591C\u591C\u591C\u591C\u591C"
     "\u591C\u591C\u591C\u591C\u591C\u591C\u591C\u591C\u591C\u591C\u591C",
     "too long by 3 of its 66 bytes"},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    char* text = copy("# as it was\n");
    Fault fault;
    cr_assert_neq(learner_set(&text, rows[i].change, &fault), STATUS_OK);
    cr_assert_not_null(strstr(fault.text, rows[i].words), "%s", fault.text);
    cr_assert_str_eq(text, "# as it was\n");
    free(text);
  }
}
