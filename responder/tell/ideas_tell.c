#include "responder/tell/ideas_tell.h"

#include "profiles/journal/day.h"
#include "responder/tell/draw.h"
#include "responder/tell/notes_tell.h"
#include "responder/tell/tell.h"
#include "responder/tell/wrap.h"

enum { INDENT = 4, WORDS_CAPACITY = 1024 };

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
tell_phrase(FILE* const         stream,
            const Desk* const   desk,
            const Phrase* const phrase,
            const bool          draws)
{
  const Chart* const chart = &desk->setup.chart.chart;
  tell_notes(stream, chart, phrase);
  if (draws) {
    draw_phrase(stream, chart, phrase);
  }
}

void
ideas_tell_head(FILE* const stream, const Desk* const desk, const bool draws)
{
  const Setup* const setup = &desk->setup;
  const Chart* const chart = &setup->chart.chart;
  char               key[KEY_TEXT_CAPACITY];
  char               meter[METER_TEXT_CAPACITY];
  char               rung[RUNG_TEXT_CAPACITY];
  (void)fprintf(stream,
                "%s, in %s, %s, %s at %.0f; on the rungs\n%s\n",
                chart->title,
                key_text(chart->key, key),
                meter_text(chart->meter, meter),
                setup->feel.name,
                setup->choices.tempo_bpm,
                rung_words(setup->choices.rung, rung));
  notes_tell_legend(stream);
  if (draws) {
    draw_legend(stream);
  }
  (void)fprintf(stream, "\n%s", desk->opening.words);
  tell_bars(stream, &desk->opening.phrase, meter_bar_ticks(chart->meter));
  tell_phrase(stream, desk, &desk->opening.phrase, draws);
}

void
ideas_tell_way(FILE* const       stream,
               const Desk* const desk,
               const unsigned    index,
               const bool        draws,
               const bool        is_live)
{
  const Development* const way = &desk->found.ways[index];
  char                     words[128];
  (void)fprintf(stream,
                "\n%2u. %s (likeness %.0f %%)\n",
                index + 1,
                move_name(way->answer.move),
                100.0 * (double)way->nearness);
  tell_phrase(stream, desk, &way->answer.heard, draws);
  if (!is_live) { // Else it is said as it is played
    tell_words(stream, INDENT, way->answer.why);
  }
  (void)snprintf(
    words, sizeof(words), "To practise: %s", desk_practise(desk, index));
  tell_words(stream, INDENT, words);
}

// The notebook

void
ideas_tell_notebook(FILE* const       stream,
                    const char* const name,
                    const bool        draws)
{
  (void)fprintf(stream, "The notebook of %s\n", name);
  notes_tell_legend(stream);
  if (draws) {
    draw_legend(stream);
  }
}

void
ideas_tell_kept(FILE* const              stream,
                const Desk* const        desk,
                const JournalIdea* const kept,
                const size_t             number,
                const bool               draws)
{
  char      day[DAY_TEXT_CAPACITY];
  char      left[24];
  char      words[WORDS_CAPACITY];
  const int n = snprintf(left, sizeof(left), "%2zu. ", number);
  (void)snprintf(words,
                 sizeof(words),
                 "%s%s%s, %s, over %s in %s, %s",
                 kept->name,
                 kept->name[0] ? ": " : "",
                 kept->origin,
                 day_text((int32_t)(kept->kept_ms / ms_a_day), day),
                 kept->chart,
                 kept->key,
                 kept->meter);
  (void)fputc('\n', stream);
  Wrap wrap = wrap_begin(stream, (unsigned)n, left);
  wrap_words(&wrap, words);
  wrap_end(&wrap);
  if (desk) {
    tell_phrase(stream, desk, &desk->opening.phrase, draws);
  }
}
