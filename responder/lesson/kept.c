#include "responder/lesson/kept.h"

#include "core/music/key.h"
#include "core/settings/utf8.h"
#include "responder/ideas/notebook.h"
#include "responder/lesson/today.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

// How the best phrase of a session came about
static const char origin_best[] = "best of a session";

static bool
is_best(const JournalIdea* const kept)
{
  return strcmp(kept->origin, origin_best) == 0;
}

/// Keep the notebook apart from what a session begins with; return whether that
/// is there.
static bool
part_best(JournalIdeas* const ideas, JournalIdea* const best)
{
  bool   is_there = false;
  size_t n        = 0;
  for (size_t i = 0; i < ideas->n_ideas; ++i) {
    if (is_best(&ideas->ideas[i]) && !ideas->ideas[i].name[0]) {
      *best    = ideas->ideas[i];
      is_there = true;
    } else {
      ideas->ideas[n++] = ideas->ideas[i];
    }
  }
  ideas->n_ideas = n;
  return is_there;
}

/// Read the notebook, and what a session begins with, if that is there.
static Status
load(JournalIdeas* const ideas,
     JournalIdea* const  best,
     bool* const         has_best,
     const Who* const    who,
     Fault* const        fault)
{
  Journal* journal = NULL;
  *ideas           = (JournalIdeas){.n_ideas = 0};
  *has_best        = false;
  if (!who->is_there || access(who->person.journal, F_OK)) {
    return STATUS_OK;
  }
  Status status =
    journal_open(&journal, who->person.journal, JOURNAL_MUST_EXIST, fault);
  if (!status) {
    status = journal_ideas(journal, ideas, fault);
    journal_close(journal);
  }
  if (!status) {
    *has_best = part_best(ideas, best);
  }
  return status;
}

Status
kept_load(JournalIdeas* const ideas, const Who* const who, Fault* const fault)
{
  JournalIdea best;
  bool        has_best = false;
  return load(ideas, &best, &has_best, who, fault);
}

bool
kept_idea(const JournalIdea* const kept,
          Idea* const              idea,
          unsigned* const          tonic)
{
  Key key;
  if (key_parse(&key, kept->key) || !notebook_parse(idea, kept->notes)) {
    return false;
  }
  *tonic = spelling_pitch_class(key.tonic);
  return true;
}

void
kept_own(Choices* const choices, const JournalIdea* const kept)
{
  Key  key;
  char tonic[SPELLING_TEXT_CAPACITY] = "";
  if (!key_parse(&key, kept->key)) {
    (void)spelling_text(key.tonic, tonic);
  }
  (void)snprintf(
    choices->chart, sizeof(choices->chart), "%s", kept->chart_file);
  (void)snprintf(choices->key, sizeof(choices->key), "%s", tonic);
  choices->feel[0] = '\0'; // Another may not be for its meter
}

// Changing

static Status
open_there(Journal** const journal, const Who* const who, Fault* const fault)
{
  return journal_open(journal, who->person.journal, JOURNAL_MUST_EXIST, fault);
}

Status
kept_rename(const Who* const  who,
            const JournalId   id,
            const char* const name,
            Fault* const      fault)
{
  Journal* journal = NULL;
  if (!utf8_is_line(name)) {
    return fault_say(
      fault, STATUS_SYNTAX, "the name of an idea is to be one line of UTF-8");
  }
  Status status = open_there(&journal, who, fault);
  if (!status) {
    status = journal_rename_idea(journal, id, name, now_ms(), fault);
    journal_close(journal);
  }
  return status;
}

Status
kept_remove(const Who* const who, const JournalId id, Fault* const fault)
{
  Journal* journal = NULL;
  Status   status  = open_there(&journal, who, fault);
  if (!status) {
    status = journal_remove_idea(journal, id, now_ms(), fault);
    journal_close(journal);
  }
  return status;
}

// Keeping

// A file is named as it is found from anywhere; what is too long is left out
static void
name_chart(JournalIdea* const kept, const char* const chart)
{
  const bool is_file = strchr(chart, '/') || strstr(chart, ".cfg");
  char       here[sizeof(kept->chart_file)] = "";
  if (is_file && chart[0] != '/' && !getcwd(here, sizeof(here))) {
    return;
  }
  const int length = snprintf(kept->chart_file,
                              sizeof(kept->chart_file),
                              "%s%s%s",
                              here,
                              here[0] ? "/" : "",
                              chart);
  if (length >= (int)sizeof(kept->chart_file)) {
    kept->chart_file[0] = '\0';
  }
}

// Where in the form a phrase stands, whichever time through it is
static int32_t
bar_of(const Chart* const chart, const Phrase* const phrase)
{
  const Tick form = chart_ticks(chart);
  const Tick from = (phrase->start_tick % form + form) % form;
  return (int32_t)(from / meter_bar_ticks(chart->meter)) + 1;
}

static void
describe(JournalIdea* const  kept,
         const Setup* const  setup,
         const Phrase* const phrase,
         const char* const   origin)
{
  const Chart* const chart = &setup->chart.chart;
  Idea               idea  = idea_of(phrase, true);
  notebook_tidy(&idea);
  kept->kept_ms = now_ms();
  (void)snprintf(kept->chart, sizeof(kept->chart), "%s", chart->title);
  name_chart(kept, setup->choices.chart);
  kept->first_bar = bar_of(chart, phrase);
  (void)key_text(chart->key, kept->key);
  (void)meter_text(chart->meter, kept->meter);
  (void)snprintf(kept->origin, sizeof(kept->origin), "%s", origin);
  (void)notebook_text(&idea, kept->notes);
}

/// Return where an idea stands in the notebook, from 1.
static size_t
number_of(const JournalIdeas* const ideas, const JournalId id)
{
  size_t i = 0;
  while (i < ideas->n_ideas && !journal_id_equals(ideas->ideas[i].id, id)) {
    ++i;
  }
  return i + 1;
}

/// Keep an idea; what a session begins with is the player's from then on.
static Status
keep(Journal* const           journal,
     const JournalIdea* const kept,
     bool* const              is_new,
     Fault* const             fault)
{
  JournalIdeas ideas = {.n_ideas = 0};
  JournalIdea  best;
  Status       status = journal_ideas(journal, &ideas, fault);
  if (!status && part_best(&ideas, &best) &&
      journal_id_equals(best.id, journal_idea_id(kept))) {
    status = journal_remove_idea(journal, best.id, now_ms(), fault);
  }
  journal_ideas_free(&ideas);
  return status ? status : journal_keep_idea(journal, kept, is_new, fault);
}

Status
kept_add_phrase(const Who* const    who,
                const Setup* const  setup,
                const Phrase* const phrase,
                const char* const   origin,
                size_t* const       number,
                bool* const         is_new,
                Fault* const        fault)
{
  JournalIdea  kept    = {.kept_ms = 0};
  Journal*     journal = NULL;
  JournalIdeas ideas   = {.n_ideas = 0};
  Status       status  = who_journal(who, &journal, fault);
  if (status) {
    return status;
  }
  describe(&kept, setup, phrase, origin);
  status = keep(journal, &kept, is_new, fault);
  if (!status) {
    status = journal_ideas(journal, &ideas, fault);
  }
  if (!status) {
    JournalIdea best;
    (void)part_best(&ideas, &best);
    *number = number_of(&ideas, journal_idea_id(&kept));
    journal_ideas_free(&ideas);
  }
  journal_close(journal);
  return status;
}

Status
kept_add(const Who* const    who,
         const Setup* const  setup,
         const Answer* const answer,
         size_t* const       number,
         bool* const         is_new,
         Fault* const        fault)
{
  return kept_add_phrase(
    who, setup, &answer->heard, move_name(answer->move), number, is_new, fault);
}

/// Whether an idea can be played in a turn of a setup's.
static bool
fits(const JournalIdea* const kept, const Idea* const idea, const Setup* setup)
{
  const Meter meter = setup->chart.chart.meter;
  char        text[METER_TEXT_CAPACITY];
  return strcmp(kept->meter, meter_text(meter, text)) == 0 &&
         notebook_end(idea) <=
           (Tick)setup->choices.bars * meter_bar_ticks(meter);
}

Status
kept_best(Journal* const      journal,
          const Setup* const  setup,
          const Phrase* const phrase,
          Fault* const        fault)
{
  JournalIdea  kept   = {.kept_ms = 0};
  JournalIdeas ideas  = {.n_ideas = 0};
  bool         is_new = false;
  Status       status = journal_ideas(journal, &ideas, fault);
  for (size_t i = 0; !status && i < ideas.n_ideas; ++i) {
    if (is_best(&ideas.ideas[i]) && !ideas.ideas[i].name[0]) {
      status = journal_remove_idea(journal, ideas.ideas[i].id, now_ms(), fault);
    }
  }
  journal_ideas_free(&ideas);
  describe(&kept, setup, phrase, origin_best);
  return status ? status : journal_keep_idea(journal, &kept, &is_new, fault);
}

/// Read an idea into the chart's key and the range; false if it does not fit.
static bool
bring(Idea* const idea, const JournalIdea* const kept, const Setup* const setup)
{
  const Choices* const choices = &setup->choices;
  unsigned             tonic   = 0;
  if (!kept_idea(kept, idea, &tonic) || !fits(kept, idea, setup)) {
    return false;
  }
  notebook_transpose(idea,
                     tonic,
                     spelling_pitch_class(setup->chart.chart.key.tonic),
                     choices->lowest,
                     choices->highest);
  return true;
}

void
kept_offer(Setup* const setup, const Who* const who)
{
  const Idea   none = {.n_notes = 0};
  JournalIdeas ideas;
  JournalIdea  best;
  Idea         idea;
  bool         has_best = false;
  Fault        ignored; // One can play without a notebook
  setup_keep(setup, &none);
  setup_open_with(setup, &none);
  if (load(&ideas, &best, &has_best, who, &ignored)) {
    return;
  }
  if (has_best && bring(&idea, &best, setup)) {
    setup_open_with(setup, &idea);
  }
  const unsigned n     = (unsigned)ideas.n_ideas;
  const unsigned index = notebook_pick(setup->choices.seed, n);
  if (index < n && bring(&idea, &ideas.ideas[index], setup)) {
    setup_keep(setup, &idea);
  }
  journal_ideas_free(&ideas);
}
