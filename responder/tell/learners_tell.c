#include "responder/tell/learners_tell.h"

#include "core/settings/value.h"
#include "profiles/journal/day.h"
#include "responder/tell/columns.h"

#include <inttypes.h>
#include <string.h>

static const int64_t minute_ms = 60000;

// All of them

/// How wide the columns of IDs and names are: as the longest of them.
typedef struct {
  unsigned id;
  unsigned name;
} Widths;

enum { NAME_MOST = 24 }; // Columns; the rest of a name is left out

static const char*
cut_name(const char* const name, char text[LEARNER_NAME_CAPACITY + 4])
{
  const bool   is_cut = columns_of(name, strlen(name)) >= NAME_MOST;
  const size_t n = is_cut ? columns_fit(name, NAME_MOST - 4) : strlen(name);
  (void)snprintf(text,
                 LEARNER_NAME_CAPACITY + 4,
                 "%.*s%s",
                 (int)n,
                 name,
                 is_cut ? "..." : "");
  return text;
}

static unsigned
wider(const unsigned columns, const char* const text)
{
  const unsigned own = columns_of(text, strlen(text)) + 1;
  return own > columns ? own : columns;
}

static Widths
widths_of(const Class* const all)
{
  Widths widths = {16, 18};
  for (size_t i = 0; i < all->n; ++i) {
    widths.id = wider(widths.id, all->members[i].id);
    char name[LEARNER_NAME_CAPACITY + 4];
    widths.name = wider(widths.name, cut_name(all->members[i].name, name));
  }
  return widths;
}

static void
tell_member(FILE* const              stream,
            const ClassMember* const member,
            const Widths             widths)
{
  const Progress* const progress                = &member->progress;
  char                  last[DAY_TEXT_CAPACITY] = "never";
  char                  name[LEARNER_NAME_CAPACITY + 4];
  if (progress->days) {
    (void)day_text(progress->last_day, last);
  }
  columns_put(stream, member->id, widths.id);
  (void)fputc(' ', stream);
  columns_put(stream, cut_name(member->name, name), widths.name);
  if (!member->is_known) {
    (void)fprintf(stream, "%8s %5s %9s  unknown\n", "?", "?", "?");
    return;
  }
  (void)fprintf(stream,
                "%8u %5u %9u  %-10s%s%s\n",
                progress->sessions,
                progress->days,
                progress->days_in_a_row,
                last,
                member->look.n_reasons ? "  " : "",
                member->look.text);
}

void
learners_tell_class(FILE* const stream, const Class* const all)
{
  const Widths widths = widths_of(all);
  (void)fprintf(stream,
                "%-*s %-*s%8s %5s %9s  %-10s  %s\n",
                (int)widths.id,
                "ID",
                (int)widths.name,
                "name",
                "sessions",
                "days",
                "in a row",
                "last",
                "needs a look");
  for (size_t i = 0; i < all->n; ++i) {
    tell_member(stream, &all->members[i], widths);
  }
}

// One

static void
show_held(FILE* const stream, const char* const word, const Rung* const rung)
{
  for (unsigned d = 0; d < N_DIMENSIONS; ++d) {
    if (rung->level[d]) {
      (void)fprintf(stream,
                    "             %s %s at %u\n",
                    dimension_name((Dimension)d),
                    word,
                    (unsigned)rung->level[d]);
    }
  }
}

static void
show_settings(FILE* const stream, const Learner* const learner)
{
  const Choices* const choices = &learner->choices;
  char                 split[PITCH_TEXT_CAPACITY];
  char                 lowest[PITCH_TEXT_CAPACITY];
  char                 highest[PITCH_TEXT_CAPACITY];
  (void)fprintf(
    stream,
    "  hands      melody from %s up; answers from %s to %s, no stretch over\n"
    "             %u semitones\n",
    value_pitch_text(choices->split, split),
    value_pitch_text(choices->lowest, lowest),
    value_pitch_text(choices->highest, highest),
    (unsigned)choices->hand_span);
  if (choices_place(choices, CHOICE_TEMPO) == CHOICE_BY_LEARNER) {
    (void)fprintf(stream, "  tempo      %.10g\n", choices->tempo_bpm);
  } else {
    (void)fprintf(stream, "  tempo      the chart's own\n");
  }
  (void)fprintf(stream,
                "  aim        %.0f %% of turns succeed; the pace is %s\n",
                100.0 * learner->target_rate,
                learner_pace_name(learner->pace));
  show_held(stream, "capped", &learner->caps);
  show_held(stream, "pinned", &learner->pins);
  for (unsigned i = 0; i < learner->n_goals; ++i) {
    (void)fprintf(stream, "  %-10s %s\n", i ? "" : "goals", learner->goals[i]);
  }
}

static void
show_stand(FILE* const stream, const Who* const who)
{
  char                 text[RUNG_TEXT_CAPACITY];
  const Choices* const choices = &who->learner.choices;
  const bool is_set = choices_place(choices, CHOICE_RUNG) == CHOICE_BY_LEARNER;
  if (who->has_stand && is_set) {
    (void)fprintf(
      stream, "  begins on  %s, as set\n", rung_words(choices->rung, text));
  }
  if (who->has_stand) {
    (void)fprintf(
      stream,
      "  stands on  %s\n",
      rung_words(learner_hold(&who->learner, who->stand.rung), text));
  } else if (is_set) {
    (void)fprintf(stream,
                  "  stands on  %s, as set\n",
                  rung_words(learner_hold(&who->learner, choices->rung), text));
  } else {
    (void)fprintf(stream, "  stands on  the ladder's first rungs\n");
  }
}

// One value

static const Row*
row_named(const char* const name, bool* const is_choice)
{
  for (unsigned i = 0; i < N_LEARNER_ROWS; ++i) {
    if (strcmp(learner_row(i)->name, name) == 0) {
      *is_choice = false;
      return learner_row(i);
    }
  }
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    if (strcmp(choice_row((Choice)i)->row.name, name) == 0) {
      *is_choice = true;
      return &choice_row((Choice)i)->row;
    }
  }
  return NULL;
}

static void
tell_goals(FILE* const stream, const Learner* const learner)
{
  for (unsigned i = 0; i < learner->n_goals; ++i) {
    (void)fprintf(stream, "%s%s", i ? "; " : "", learner->goals[i]);
  }
  (void)fputs(learner->n_goals ? "" : "none", stream);
}

static void
tell_row(FILE* const stream, const Learner* const learner, const char* name)
{
  char              text[ROW_TEXT_CAPACITY];
  bool              is_choice = false;
  const Row* const  row       = row_named(name, &is_choice);
  const void* const base =
    is_choice ? (const void*)&learner->choices : (const void*)learner;
  if (!row) {
    return;
  }
  if (row == learner_row(LEARNER_ROW_TARGET)) {
    (void)fprintf(stream, "%.10g %%", 100.0 * learner->target_rate);
  } else if (row->kind == ROW_BYTE && row_number(row, base) == 0.0) {
    (void)fputs("none", stream); // No cap or pin
  } else if (strcmp(name, "tempo") == 0 && learner->choices.tempo_bpm <= 0.0) {
    (void)fputs("the chart's own", stream);
  } else {
    (void)row_text(row, base, text);
    (void)fputs(text[0] ? text : "left open", stream);
  }
}

void
learners_tell_value(FILE* const          stream,
                    const Learner* const learner,
                    const char* const    name)
{
  char        text[RUNG_TEXT_CAPACITY];
  const Rung* held = strcmp(name, "caps") == 0   ? &learner->caps
                     : strcmp(name, "pins") == 0 ? &learner->pins
                                                 : NULL;
  if (strcmp(name, "goals") == 0) {
    tell_goals(stream, learner);
  } else if (held) {
    (void)rung_words(*held, text);
    (void)fputs(text[0] ? text : "none", stream);
  } else {
    tell_row(stream, learner, name);
  }
}

void
learners_tell_settings(FILE* const stream, const Who* const who)
{
  show_settings(stream, &who->learner);
  show_stand(stream, who);
}

void
learners_tell_practice(FILE* const stream, const Progress* const progress)
{
  char first[DAY_TEXT_CAPACITY];
  char last[DAY_TEXT_CAPACITY];
  if (!progress->days) {
    (void)fprintf(stream, "  practice   none yet\n");
    return;
  }
  const int64_t minutes = (progress->length_ms + minute_ms / 2) / minute_ms;
  (void)fprintf(stream,
                "  practice   %u session%s on %u day%s, %" PRId64
                " minute%s, %s to %s\n",
                progress->sessions,
                progress->sessions == 1 ? "" : "s",
                progress->days,
                progress->days == 1 ? "" : "s",
                minutes,
                minutes == 1 ? "" : "s",
                day_text(progress->first_day, first),
                day_text(progress->last_day, last));
}

// Brought in

void
learners_tell_gain(FILE* const               stream,
                   const char* const         id,
                   const LearnersGain* const gained)
{
  const JournalGain* const gain = &gained->gain;
  (void)fprintf(stream,
                "%s%s: %zu new session%s, %zu new turn%s",
                id,
                gained->is_new ? " is here now" : "",
                gain->sessions_added,
                gain->sessions_added == 1 ? "" : "s",
                gain->turns_added,
                gain->turns_added == 1 ? "" : "s");
  if (gain->ideas_added) {
    (void)fprintf(stream,
                  ", %zu new idea%s",
                  gain->ideas_added,
                  gain->ideas_added == 1 ? "" : "s");
  }
  if (gain->records_replaced) {
    (void)fprintf(stream,
                  "; %zu record%s differed, and the fuller one holds",
                  gain->records_replaced,
                  gain->records_replaced == 1 ? "" : "s");
  }
  (void)fprintf(
    stream,
    "%s\n",
    gained->has_settings && gained->is_new ? "; its settings are taken"
    : gained->has_settings ? "; its settings are newer and are taken"
    : gained->keeps_own    ? "; its settings differ; those here stay"
                           : "");
}
