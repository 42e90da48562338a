#include "responder/app/ideas_desk.h"

#include "profiles/journal/day.h"
#include "responder/app/begin.h"
#include "responder/app/command.h"
#include "responder/app/kept.h"
#include "responder/ideas/notebook.h"
#include "responder/tell/draw.h"
#include "responder/tell/tell.h"

#include <string.h>

enum { USUAL_COUNT = 6, INDENT = 4 };

static const int64_t ms_a_day = INT64_C(86400000);

static void
tell_bars(FILE* const stream, const Phrase* const phrase, const Tick bar)
{
  const int first = (int)(phrase->start_tick / bar) + 1;
  const int last  = (int)(phrase->end_tick / bar);
  if (first == last) {
    (void)fprintf(stream, ", bar %d\n", first);
  } else {
    (void)fprintf(stream, ", bars %d-%d\n", first, last);
  }
}

static void
tell_phrase(const Desk* const desk, const Phrase* const phrase)
{
  const Chart* const chart = &desk->setup.chart.chart;
  tell_notes(desk->stream, chart, phrase);
  if (options_have(desk->options, OPTION_DRAW)) {
    draw_phrase(desk->stream, chart, phrase);
  }
}

static void
tell_head(const Desk* const desk)
{
  const Setup* const setup = &desk->setup;
  const Chart* const chart = &setup->chart.chart;
  char               key[KEY_TEXT_CAPACITY];
  char               meter[METER_TEXT_CAPACITY];
  char               rung[RUNG_TEXT_CAPACITY];
  (void)fprintf(desk->stream,
                "%s, in %s, %s, %s at %.0f; on %s\n",
                chart->title,
                key_text(chart->key, key),
                meter_text(chart->meter, meter),
                setup->feel.name,
                setup->choices.tempo_bpm,
                rung_text(setup->choices.rung, rung));
  tell_legend(desk->stream);
  if (options_have(desk->options, OPTION_DRAW)) {
    draw_legend(desk->stream);
  }
  (void)fprintf(desk->stream, "\n%s", desk->opening.words);
  tell_bars(desk->stream, &desk->opening.phrase, meter_bar_ticks(chart->meter));
  tell_phrase(desk, &desk->opening.phrase);
}

const char*
desk_practise(const Desk* const desk, const Move move)
{
  return sentence(&desk->setup.sentences,
                  (SentenceKind)(SENTENCE_PRACTISE_REPEAT + (unsigned)move),
                  0);
}

void
desk_tell_way(const Desk* const desk, const unsigned index)
{
  const Development* const way = &desk->found.ways[index];
  char                     words[128];
  (void)fprintf(desk->stream,
                "\n%2u. %s (likeness %.0f %%)\n",
                index + 1,
                move_name(way->answer.move),
                100.0 * (double)way->nearness);
  tell_phrase(desk, &way->answer.heard);
  tell_words(desk->stream, INDENT, way->answer.why);
  (void)snprintf(words,
                 sizeof(words),
                 "To practise: %s",
                 desk_practise(desk, way->answer.move));
  tell_words(desk->stream, INDENT, words);
}

unsigned
desk_wanted(const Options* const options)
{
  return options_have(options, OPTION_COUNT) ? options->count : USUAL_COUNT;
}

void
desk_tell(const Desk* const desk)
{
  tell_head(desk);
  for (unsigned i = 0;
       i < desk->found.n && !options_have(desk->options, OPTION_LIVE);
       ++i) {
    desk_tell_way(desk, i);
  }
  if (desk->found.n < desk_wanted(desk->options)) {
    (void)fprintf(desk->stream,
                  "\nThere are no more that differ; another --seed or --rung "
                  "finds others.\n");
  }
}

// The notebook

static void
tell_kept(Desk* const desk, const size_t number)
{
  const JournalIdea* const kept = &desk->kept.ideas[number - 1];
  char                     day[DAY_TEXT_CAPACITY];
  char                     meter[METER_TEXT_CAPACITY];
  Idea                     idea;
  unsigned                 tonic = 0;
  (void)fprintf(desk->stream,
                "\n%2zu. %s, %s, %s in %s, %s\n",
                number,
                day_text((int32_t)(kept->kept_ms / ms_a_day), day),
                kept->origin,
                kept->chart,
                kept->key,
                kept->meter);
  if (kept_idea(kept, &idea, &tonic) &&
      strcmp(kept->meter, meter_text(desk->setup.chart.chart.meter, meter)) ==
        0) {
    opening_of_idea(&desk->opening, &desk->setup, idea, tonic, desk->span);
    tell_phrase(desk, &desk->opening.phrase);
  }
}

int
desk_list_kept(Desk* const desk)
{
  if (!desk->kept.n_ideas) {
    (void)fprintf(desk->stream,
                  "The notebook of %s is empty; barter ideas --keep N puts one "
                  "in\n",
                  desk->who.learner.name);
    return EXIT_DONE;
  }
  const Choices choices = begin_choose(&desk->who, desk->options);
  const int     code    = desk_load(desk, &choices);
  if (code) {
    return code;
  }
  char key[KEY_TEXT_CAPACITY];
  (void)fprintf(desk->stream,
                "The notebook of %s, over %s in %s\n",
                desk->who.learner.name,
                desk->setup.chart.chart.title,
                key_text(desk->setup.chart.chart.key, key));
  tell_legend(desk->stream);
  for (size_t i = 1; i <= desk->kept.n_ideas; ++i) {
    tell_kept(desk, i);
  }
  return EXIT_DONE;
}
