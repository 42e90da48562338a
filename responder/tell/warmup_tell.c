#include "responder/tell/warmup_tell.h"

#include "profiles/journal/day.h"
#include "profiles/plan/care.h"
#include "responder/lesson/warmup_play.h"
#include "responder/tell/tell.h"

#include <math.h>

// When to pause: five minutes in every half hour (British Association for
// Performing Arts Medicine, "Ten top health tips for musicians").
static const double pause_after_s = 1800.0;

enum { INDENT = 11, LINE_CAPACITY = 160 };

static void
tell_time(FILE* const stream, const double seconds)
{
  const long whole = lround(seconds);
  (void)fprintf(stream, "%ld:%02ld", whole / 60, whole % 60);
}

// The run of a round, after the name of its scale or chord
static void
tell_round(FILE* const             stream,
           const WarmupTold* const told,
           const WarmupItem* const item,
           const Drill* const      drill)
{
  const Chart* const chart = &told->setup->chart.chart;
  char               run[WARMUP_WORDS_CAPACITY];
  char               line[WARMUP_WORDS_CAPACITY + SCALE_TEXT_CAPACITY + 2];
  char               name[SCALE_TEXT_CAPACITY];
  if (!drill_row(item->kind)->is_scale) {
    (void)chord_text(&drill->chord, name);
  } else {
    (void)scale_text(chart_scale_at(chart, 0), name);
  }
  (void)snprintf(line,
                 sizeof(line),
                 "%s: %s",
                 name,
                 warmup_drill_text(item, told->setup, drill, run));
  tell_words(stream, INDENT, line);
}

// As many rounds as there are chords, where each has another
static void
tell_run(FILE* const             stream,
         const WarmupTold* const told,
         const WarmupItem* const item)
{
  DrillRoom room = warmup_room(told->setup);
  Rng       rng  = rng_seed(item->seed, 1);
  Drill     drill;
  Chord     first;
  room.rhythm = item->rhythm;
  drill_make(&drill, item->kind, &room, 0, &rng);
  first = drill.chord;
  tell_round(stream, told, item, &drill);
  for (unsigned i = 1; drill_row(item->kind)->by_rounds && i < item->rounds;
       ++i) {
    drill_make(&drill, item->kind, &room, i, &rng);
    if (chord_equals(&drill.chord, &first)) {
      break;
    }
    tell_round(stream, told, item, &drill);
  }
}

static void
tell_how(FILE* const             stream,
         const WarmupTold* const told,
         const WarmupItem* const item)
{
  const DrillRow* const row = drill_row(item->kind);
  const bool is_further     = item->rhythm > warmup_room(told->setup).rhythm;
  char       line[LINE_CAPACITY];
  (void)snprintf(line, sizeof(line), "%s", row->words);
  if (item->trades && item->way != WAY_ANSWER) {
    const Sentences* const sentences = &told->setup->sentences;
    (void)snprintf(
      line,
      sizeof(line),
      "%s",
      sentence(sentences,
               (SentenceKind)(SENTENCE_WAY_QUESTION + item->way - WAY_QUESTION),
               (unsigned)item->seed));
  } else if (item->trades) {
    (void)snprintf(line,
                   sizeof(line),
                   "Play in the gaps: take up the rhythm or the last note, and "
                   "leave room.");
  } else if (row->tells == DRILL_TELLS_PLACES) {
    (void)snprintf(line,
                   sizeof(line),
                   "%s%s: %s.",
                   row->words,
                   is_further ? " a rung further" : "",
                   told->setup->ladder.rhythm[item->rhythm - 1].words);
  }
  tell_words(stream, INDENT, line);
}

static bool
is_after_pause(const WarmupTold* const told, const unsigned index)
{
  double played = 0.0;
  for (unsigned i = 0; i < index; ++i) {
    played += told->warmup->items[i].seconds;
  }
  const double after = played + told->warmup->items[index].seconds;
  return floor(after / pause_after_s) > floor(played / pause_after_s);
}

void
warmup_tell_item(FILE* const             stream,
                 const WarmupTold* const told,
                 const unsigned          index)
{
  const WarmupItem* const item = &told->warmup->items[index];
  const bool              ends = index + 1 == told->warmup->n_items;
  char                    name[WARMUP_NAME_CAPACITY];
  if (is_after_pause(told, index)) {
    (void)fputs("\n    Pause: five minutes away from the keys.\n", stream);
  }
  (void)fprintf(
    stream, "\n%2u. %s", index + 1, item->seconds < 600.0 ? " " : "");
  tell_time(stream, item->seconds);
  (void)fprintf(stream,
                "  %s%s, %u %s%s\n",
                ends ? "To end with: " : "",
                warmup_item_name(item, name),
                item->rounds,
                item->trades ? "chorus" : "round",
                item->rounds == 1 ? ""
                : item->trades    ? "es"
                                  : "s");
  tell_how(stream, told, item);
  const DrillTells tells = drill_row(item->kind)->tells;
  if (!item->trades &&
      (tells == DRILL_TELLS_RUN || tells == DRILL_TELLS_CHORD)) {
    tell_run(stream, told, item);
  }
}

void
warmup_tell_care(FILE* const stream)
{
  (void)fputc('\n', stream);
  tell_words(stream, 0, care_text());
}

void
warmup_tell_head(FILE* const stream, const WarmupTold* const told)
{
  const Setup* const setup = told->setup;
  char               day[DAY_TEXT_CAPACITY];
  char               rung[RUNG_TEXT_CAPACITY];
  char               key[KEY_TEXT_CAPACITY];
  (void)fprintf(
    stream, "Warm-up for %s, %s: ", told->name, day_text(told->day, day));
  tell_time(stream, told->warmup->seconds);
  (void)fprintf(stream,
                " minutes\n%s in %s at %.0f\nStanding on %s\n",
                setup->chart.chart.title,
                key_text(setup->chart.chart.key, key),
                setup->choices.tempo_bpm,
                rung_words(setup->choices.rung, rung));
  (void)fputs("Each round is played to you once; then you play it.\n", stream);
}
