#include "profiles/learner/learner_file.h"

#include "core/files/file.h"
#include "core/settings/value.h"
#include "profiles/choices/choices_file.h"

#include <stdio.h>
#include <string.h>

// Reading

static void
check_pins(const Setting top, const Learner* const learner)
{
  const Setting pins = setting_find(top, "pins");
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    const unsigned    cap  = learner->caps.level[d];
    const unsigned    pin  = learner->pins.level[d];
    const char* const name = dimension_name((Dimension)d);
    const Setting     at   = setting_find(pins, name);
    if (cap && pin > cap && setting_kind(at)) {
      setting_fault(at,
                    "%s is pinned to %u, above its cap %u; pin it to the cap "
                    "or below",
                    name,
                    pin,
                    cap);
    }
  }
}

static void
read_goals(const Setting top, Learner* const learner)
{
  const Setting  goals = setting_find(top, "goals");
  const unsigned n     = value_count(goals, 0, LEARNER_GOALS);
  if (setting_kind(goals)) {
    learner->n_goals = n;
  }
  for (unsigned i = 0; i < n; ++i) {
    learner->goals[i][0] = '\0';
    value_copy(
      setting_at(goals, i), learner->goals[i], sizeof(learner->goals[i]));
  }
}

static void
check_name(const Setting top)
{
  const Setting setting = setting_find(top, "name");
  if (setting_kind(setting) == SETTING_TEXT) {
    const char* const text = setting_raw_text(setting);
    if (!text[strspn(text, " ")]) {
      setting_fault(setting, "name is empty; write what is to be shown");
    }
  }
}

static void
read_rows(const Setting top, Learner* const learner)
{
  static const char* const others[] = {"goals"};
  const Row*               rows[N_CHOICES + N_LEARNER_ROWS];
  unsigned                 n = choices_file_rows(CHOICE_BY_LEARNER, rows);
  const unsigned           n_choices = n;
  for (unsigned i = 0; i < N_LEARNER_ROWS; ++i) {
    rows[n++] = learner_row(i);
  }
  rows_allow(rows, n, others, 1, top);
  rows_read(rows + n_choices, N_LEARNER_ROWS, learner, top);
}

Status
learner_file_read(Learner* const learner, Settings* const settings)
{
  const Setting top = settings_top(settings);
  choices_file_read_part(&learner->choices, CHOICE_BY_LEARNER, settings);
  read_rows(top, learner);
  check_name(top);
  check_pins(top, learner);
  read_goals(top, learner);
  return settings_status(settings);
}

Status
learner_file_load(Learner* const    learner,
                  const char* const path,
                  Faults* const     faults)
{
  Settings* settings = NULL;
  Status    status   = settings_open(&settings, path, faults);
  if (status == STATUS_OK) {
    status = learner_file_read(learner, settings);
    settings_close(settings);
  }
  return status;
}

// Writing

static void
put_pitch(Text* const       draft,
          const char* const name,
          const unsigned    pitch,
          const char* const comment)
{
  char text[PITCH_TEXT_CAPACITY];
  value_add(draft,
            "%-9s = \"%s\";%s%s\n",
            name,
            value_pitch_text(pitch, text),
            comment[0] ? "       # " : "",
            comment);
}

static void
put_rungs(Text* const draft, const char* const name, const Rung* const rung)
{
  value_add(draft, "%s = {", name);
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    if (rung->level[d]) {
      value_add(draft,
                " %s = %u;",
                dimension_name((Dimension)d),
                (unsigned)rung->level[d]);
    }
  }
  value_add(draft, " };\n");
}

static void
put_person(Text* const draft, const Learner* const learner)
{
  value_add(
    draft,
    "# What is set for one learner; it is for a teacher's hand. A # begins a\n"
    "# comment. What was practised is kept beside this file, in journal.db,\n"
    "# and nothing written here can harm it. `barter check` looks this file\n"
    "# over.\n"
    "\n"
    "# The name that is shown.\n"
    "name = ");
  value_add_quoted(draft, learner->name, strlen(learner->name));
  value_add(draft, ";\n");
}

static void
put_hands(Text* const draft, const Learner* const learner)
{
  value_add(
    draft,
    "\n"
    "# The hands. What is played below `split` counts as chords, not as\n"
    "# melody. The partner answers from `lowest` to `highest`, an octave or\n"
    "# more, and asks for no wider stretch than `hand_span` semitones.\n");
  put_pitch(draft, "split", learner->choices.split, "C4 is middle C");
  put_pitch(draft, "lowest", learner->choices.lowest, "");
  put_pitch(draft, "highest", learner->choices.highest, "");
  value_add(draft,
            "hand_span = %u;         # 12 is an octave\n",
            (unsigned)learner->choices.hand_span);
  const Row* const tempo = &choice_row(CHOICE_TEMPO)->row;
  value_add(
    draft,
    "\n"
    "# The comfortable tempo, quarter notes a minute, %.0f to %.0f. Left out, "
    "it\n"
    "# is the chart's own.\n",
    tempo->least,
    tempo->most);
  if (choices_place(&learner->choices, CHOICE_TEMPO) == CHOICE_BY_LEARNER) {
    value_add(draft, "tempo = %.10g;\n", learner->choices.tempo_bpm);
  } else {
    value_add(draft, "# tempo = 96;\n");
  }
}

static void
put_begin(Text* const draft, const Learner* const learner)
{
  char text[RUNG_TEXT_CAPACITY];
  value_add(
    draft,
    "\n"
    "# Where on the ladder the learner begins, before anything was practised.\n"
    "# Left out, the first turns find it. Later on, pins hold a place.\n");
  if (choices_place(&learner->choices, CHOICE_RUNG) == CHOICE_BY_LEARNER) {
    value_add(
      draft, "rung = \"%s\";\n", rung_text(learner->choices.rung, text));
  } else {
    value_add(draft, "# rung = \"notes=4,rhythm=3,shape=2,ornament=1\";\n");
  }
}

static void
put_ladder(Text* const draft, const Learner* const learner)
{
  const Row* const target = learner_row(LEARNER_ROW_TARGET);
  value_add(
    draft,
    "\n"
    "# The ladder; ladder.cfg tells what its rungs are: notes 1 to %d, rhythm\n"
    "# 1 to %d, shape 1 to %d, ornament 1 to %d. `caps` is as far as a\n"
    "# dimension may climb, as { rhythm = 4; }. `pins` holds a dimension on\n"
    "# one rung, whatever happens, as { ornament = 1; }. One that is not\n"
    "# named moves freely.\n",
    N_NOTES_RUNGS,
    N_RHYTHM_RUNGS,
    N_SHAPE_RUNGS,
    N_ORNAMENT_RUNGS);
  put_rungs(draft, "caps", &learner->caps);
  put_rungs(draft, "pins", &learner->pins);
  value_add(
    draft,
    "\n"
    "# The share of turns that are meant to succeed, %.2g to %.2g: it becomes\n"
    "# harder while more do, and easier while fewer do. Higher is kinder.\n"
    "target = %.10g;\n"
    "\n"
    "# How quickly the ladder moves: \"gentle\", \"steady\" or \"brisk\".\n"
    "pace = \"%s\";\n",
    target->least,
    target->most,
    learner->target_rate,
    learner_pace_name(learner->pace));
}

static void
put_goals(Text* const draft, const Learner* const learner)
{
  value_add(draft,
            "\n"
            "# What is being worked towards, in words, up to %d of them, as\n"
            "# [ \"end each phrase on a chord tone\", \"leave more space\" ].\n"
            "goals = [",
            LEARNER_GOALS);
  for (unsigned i = 0; i < learner->n_goals; ++i) {
    value_add(draft, i ? ",\n          " : " ");
    value_add_quoted(draft, learner->goals[i], strlen(learner->goals[i]));
  }
  value_add(draft, " ];\n");
}

const char*
learner_file_text(const Learner* const learner,
                  char                 text[LEARNER_TEXT_CAPACITY])
{
  Text draft = text_begin(text, LEARNER_TEXT_CAPACITY);
  put_person(&draft, learner);
  put_hands(&draft, learner);
  put_ladder(&draft, learner);
  put_begin(&draft, learner);
  put_goals(&draft, learner);
  return text;
}

Status
learner_file_save(const Learner* const learner,
                  const char* const    path,
                  Fault* const         fault)
{
  char              text[LEARNER_TEXT_CAPACITY];
  const char* const written = learner_file_text(learner, text);
  return file_save(path, written, strlen(written), FILE_PRIVATE, fault);
}
