#include "responder/tell/tell.h"

#include "core/music/pitch.h"
#include "responder/record/note_name.h"
#include "responder/session/facts.h"
#include "responder/tell/draw.h"
#include "responder/tell/notes_tell.h"
#include "responder/tell/wrap.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

enum { BARS_NAME = 32 };

void
tell_words(FILE* const stream, const unsigned indent, const char* const words)
{
  Wrap wrap = wrap_begin(stream, indent, "");
  wrap_words(&wrap, words);
  wrap_end(&wrap);
}

// The form

static void
tell_bar(Wrap* const        wrap,
         const Chart* const chart,
         const Tick         start,
         const bool         is_sung,
         const bool         is_last)
{
  const Tick end = start + meter_bar_ticks(chart->meter);
  char       bar[METER_BEATS_PER_BAR_MAX * CHORD_TEXT_CAPACITY];
  size_t n = (size_t)snprintf(bar, sizeof(bar), "%s", is_sung ? "| sing" : "|");
  for (Tick tick = start; tick < end && n < sizeof(bar);
       tick      = chart_next_change(chart, tick)) {
    char symbol[CHORD_TEXT_CAPACITY];
    n += (size_t)snprintf(bar + n,
                          sizeof(bar) - n,
                          " %s",
                          chord_text(chart_chord_at(chart, tick), symbol));
  }
  char cell[sizeof(bar)];
  (void)snprintf(cell, sizeof(cell), "%-*s", is_last ? 0 : 13, bar);
  wrap_piece(wrap, cell);
}

static void
tell_turn_bars(FILE* const        stream,
               const Chart* const chart,
               const Turn* const  turn)
{
  const Tick     bar   = meter_bar_ticks(chart->meter);
  const unsigned first = (unsigned)(turn->silence / bar) + 1;
  const unsigned last  = (unsigned)(turn->end / bar);
  char           bars[24];
  char           left[48];
  (void)snprintf(bars,
                 sizeof(bars),
                 first == last ? "bar  %3u    " : "bars %3u-%-3u",
                 first,
                 last);
  (void)snprintf(
    left, sizeof(left), "  %s %-8s", bars, turn->by_player ? "you" : "partner");
  Wrap wrap = wrap_begin(stream, 23, left);
  for (Tick start = turn->silence; start < turn->end; start += bar) {
    tell_bar(
      &wrap, chart, start, start < turn->start, start + bar == turn->end);
  }
  wrap_end(&wrap);
}

static bool
is_turn_again(const Turn* const turn, const Turn* const other, const Tick later)
{
  return turn->by_player == other->by_player &&
         turn->silence + later == other->silence &&
         turn->start + later == other->start && turn->end + later == other->end;
}

// How many choruses there are to tell of, before they come again as they were:
// one, two where the turns change hands, or all
static unsigned
choruses_told(const SessionOptions* const options)
{
  const TurnPlan plan   = session_turn_plan(options);
  const Tick     chorus = chart_ticks(options->chart);
  const Tick     end    = chorus * options->choruses;
  for (unsigned period = 1; period <= 2 && period < options->choruses;
       ++period) {
    Turn again = turn_at(plan, 1);
    while (again.start < chorus * period) {
      again = turn_at(plan, again.index + 1);
    }
    Turn turn = turn_at(plan, 1);
    while (again.start < end && is_turn_again(&turn, &again, chorus * period)) {
      turn  = turn_at(plan, turn.index + 1);
      again = turn_at(plan, again.index + 1);
    }
    if (again.start >= end) {
      return period;
    }
  }
  return options->choruses;
}

void
tell_chart(FILE* const stream, const SessionOptions* const options)
{
  const Chart* const chart = options->chart;
  const TurnPlan     plan  = session_turn_plan(options);
  const Turn         first = turn_at(plan, 1);
  char               key[KEY_TEXT_CAPACITY];
  char               meter[METER_TEXT_CAPACITY];
  char               words[256];
  (void)snprintf(words,
                 sizeof(words),
                 "%s, in %s, %s, %s at %.0f; %s, %u bar%s each",
                 chart->title,
                 key_text(chart->key, key),
                 meter_text(chart->meter, meter),
                 options->feel->name,
                 options->tempo_bpm,
                 first.by_player ? "you begin" : "your partner begins",
                 options->bars_per_turn,
                 options->bars_per_turn == 1 ? "" : "s");
  tell_words(stream, 0, words);

  const unsigned told = choruses_told(options);
  const Tick     end  = chart_ticks(chart) * told;
  for (Turn turn = first; turn.start < end;
       turn      = turn_at(plan, turn.index + 1)) {
    tell_turn_bars(stream, chart, &turn);
  }
  if (told < options->choruses) {
    (void)fprintf(
      stream, "  and so on, %u choruses in all\n", options->choruses);
  }
  char opening[REMARK_CAPACITY];
  if (*session_opening(options, opening)) {
    tell_words(stream, 0, opening);
  }
}

// Notes

static unsigned
bar_number(const Chart* const chart, const Tick grid_tick)
{
  const Tick bar = meter_bar_ticks(chart->meter);
  return (unsigned)(tick_floor(grid_tick, bar) / bar + 1);
}

void
tell_notes(FILE* const         stream,
           const Chart* const  chart,
           const Phrase* const phrase)
{
  notes_tell(stream, chart, phrase, 0, phrase->n_notes);
}

// A turn with what it is judged by: the note that a player landed on after the
// line, too
static Phrase
whole_of(const TurnRecord* const record)
{
  const Phrase* const phrase = &record->phrase;
  Phrase              all    = *phrase;
  if (record->turn.by_player && all.landing.is_there &&
      all.n_notes < PHRASE_CAPACITY) {
    HeardNote* const last = &all.notes[all.n_notes++];
    *last                 = facts_last(phrase);
    last->resolution =
      last->role == ROLE_OUTSIDE ? RESOLUTION_LEFT : RESOLUTION_NONE;
  }
  return all;
}

// What was struck in the bar to sing in, to the nearest half beat
static void
tell_early(FILE* const             stream,
           const Chart* const      chart,
           const TurnRecord* const record)
{
  if (record->n_early) {
    const Tick half = meter_beat_ticks(chart->meter) / 2;
    const Tick tick = tick_floor(record->early.tick + half / 2, half);
    char       name[PITCH_TEXT_CAPACITY];
    char       place[NOTES_PLACE_CAPACITY];
    char       words[128];
    (void)snprintf(words,
                   sizeof(words),
                   "In the bar to sing in you struck %s (bar %u, beat %s)%s.",
                   pitch_text(record->early.pitch,
                              chart_spell(chart, tick, record->early.pitch),
                              name),
                   bar_number(chart, tick),
                   notes_place(chart->meter, tick, place),
                   record->n_early > 1 ? ", and more" : "");
    tell_words(stream, 4, words);
  }
}

// Measures

enum { TIMING_WORDS = 128 };

// How a phrase went in time; one note has neither a division nor a spread
static void
write_timing(const Measures* const measures,
             const unsigned        n_written,
             char                  words[TIMING_WORDS])
{
  const double      offset    = (double)measures->offset_ms;
  const char* const way       = offset < 0.0 ? "early" : "late";
  char              ratio[32] = "";
  if (n_written == 1) {
    (void)snprintf(words, TIMING_WORDS, "%.0f ms %s", fabs(offset), way);
    return;
  }
  if (measures->swing_ratio > 0.0F && measures->grid == GRID_SWUNG_EIGHTH) {
    (void)snprintf(
      ratio, sizeof(ratio), " (%.1f : 1)", (double)measures->swing_ratio);
  }
  (void)snprintf(words,
                 TIMING_WORDS,
                 "by %ss%s, %.0f ms %s on average, give or take %.0f",
                 grid_name(measures->grid),
                 ratio,
                 fabs(offset),
                 way,
                 (double)measures->spread_ms);
}

static void
tell_rhythm(FILE* const stream, const Phrase* const phrase)
{
  const Measures* const measures  = &phrase->measures;
  const unsigned        n_written = phrase->n_notes - measures->n_ornaments;
  char                  hand[48]  = "";
  char                  timing[TIMING_WORDS];
  char                  words[256];
  write_timing(measures, n_written, timing);
  if (phrase->n_comping) {
    (void)snprintf(hand,
                   sizeof(hand),
                   "; %u note%s of your own chords",
                   phrase->n_comping,
                   phrase->n_comping == 1 ? "" : "s");
  }
  (void)snprintf(words,
                 sizeof(words),
                 "%u note%s, %s; %.0f %% rest%s",
                 n_written,
                 n_written == 1 ? "" : "s",
                 timing,
                 100.0 * (double)measures->space,
                 hand);
  tell_words(stream, 4, words);
}

static void
tell_target(FILE* const         stream,
            const Chart* const  chart,
            const Phrase* const phrase)
{
  if (phrase->target == PHRASE_NO_TARGET) {
    return;
  }
  const HeardNote* const note = &phrase->notes[phrase->target];
  const Chord* const     chord =
    chart_chord_at(chart, heard_note_chord_tick(note, chart));
  char name[PITCH_TEXT_CAPACITY];
  char symbol[CHORD_TEXT_CAPACITY];
  char place[NOTES_PLACE_CAPACITY];
  char words[160];
  (void)snprintf(words,
                 sizeof(words),
                 "aims at %s (bar %u, beat %s): %s%s%s",
                 note_name(chart, phrase, phrase->target, name),
                 bar_number(chart, note->grid_tick),
                 notes_place(chart->meter, note->grid_tick, place),
                 role_name(note->role),
                 note->role == ROLE_OUTSIDE ? " against " : " of ",
                 chord_text(chord, symbol));
  tell_words(stream, 4, words);
}

static void
tell_player(FILE* const             stream,
            const Chart* const      chart,
            const TurnRecord* const record)
{
  const Phrase* const phrase = &record->phrase;
  tell_early(stream, chart, record);
  if (phrase->n_notes) {
    const Phrase all = whole_of(record);
    tell_notes(stream, chart, &all);
    tell_rhythm(stream, phrase);
    tell_target(stream, chart, phrase);
  } else {
    (void)fprintf(stream, "    silence\n");
  }
  char remark[REMARK_CAPACITY + 2];
  (void)snprintf(remark, sizeof(remark), "\"%s\"", record->remark);
  if (record->remark[0]) {
    tell_words(stream, 4, remark);
  }
  if (record->is_lost) {
    (void)fprintf(stream,
                  "    (lost: the band plays roots until you are back)\n");
  }
  if (record->offers_longer) {
    (void)fprintf(stream,
                  "    (you have a lot to say: longer turns? --bars)\n");
  }
  char moved[CLIMB_TEXT_CAPACITY];
  if (*climb_text(&record->climb, moved)) {
    tell_words(stream, 4, moved);
  }
}

static void
tell_partner(FILE* const             stream,
             const Chart* const      chart,
             const TurnRecord* const record)
{
  tell_notes(stream, chart, &record->phrase);
  tell_words(stream, 4, record->why);
}

// `bars 3-4`, or `bar 3` for a single one
static const char*
name_bars(const Chart* const chart,
          const Turn* const  turn,
          char               name[BARS_NAME])
{
  const Tick n_bars = (turn->end - turn->start) / meter_bar_ticks(chart->meter);
  if (n_bars > 1) {
    (void)snprintf(name,
                   BARS_NAME,
                   "bars %u-%u",
                   turn->first_bar,
                   turn->first_bar + (unsigned)n_bars - 1);
  } else {
    (void)snprintf(name, BARS_NAME, "bar %u", turn->first_bar);
  }
  return name;
}

void
tell_turn(FILE* const             stream,
          const Chart* const      chart,
          const TurnRecord* const record,
          const bool              draws)
{
  const Turn* const turn = &record->turn;
  const char* const name = session_turn_name(record);
  char              bars[BARS_NAME];
  char              head[128];
  (void)snprintf(head,
                 sizeof(head),
                 "Turn %u, %s, %s%s%s",
                 turn->index,
                 name_bars(chart, turn, bars),
                 turn->by_player ? "you" : "partner",
                 *name ? ": " : "",
                 name);
  tell_words(stream, 0, head);
  if (turn->by_player) {
    tell_player(stream, chart, record);
  } else {
    tell_partner(stream, chart, record);
  }
  if (draws) { // Spelled as it is told
    const Phrase all = whole_of(record);
    draw_phrase(stream, chart, &all);
  }
  if (record->asks[0]) { // Of what comes
    tell_words(stream, 0, record->asks);
  }
}

// A conversation is not needed to hear phrases

// Where a note may still be told of, as it was held
static Tick
told_until(const HeardNote* const note)
{
  const Tick written = note->grid_length;
  const Tick held    = note->note.length;
  return note->grid_tick + (written > held ? written : held);
}

// Phrases that meet in a bar are told in one row, so that no bar comes twice
static unsigned
end_of_rows(const Phrase* const phrase, const unsigned first, const Tick bar)
{
  Tick     until = told_until(&phrase->notes[first]);
  unsigned i     = first + 1;
  while (i < phrase->n_notes &&
         (!phrase->notes[i].begins_phrase ||
          tick_floor(phrase->notes[i].grid_tick, bar) <= until)) {
    const Tick end = told_until(&phrase->notes[i++]);
    until          = end > until ? end : until;
  }
  return i;
}

void
tell_phrases(FILE* const             stream,
             const Chart* const      chart,
             const TurnRecord* const record)
{
  const Phrase* const phrase = &record->phrase;
  unsigned            first  = 0;
  char                bars[BARS_NAME];
  (void)fprintf(stream,
                "In %s%s\n",
                name_bars(chart, &record->turn, bars),
                phrase->n_notes ? "" : ", silence");
  while (first < phrase->n_notes) {
    const unsigned last =
      end_of_rows(phrase, first, meter_bar_ticks(chart->meter));
    notes_tell(stream, chart, phrase, first, last);
    first = last;
  }
  if (phrase->n_notes) {
    tell_rhythm(stream, phrase);
    tell_target(stream, chart, phrase);
  }
}

void
tell_summary(FILE* const stream, const Summary* const summary)
{
  const SummaryWords words   = summary_words(summary);
  const char* const  lines[] = {
     words.worked[0],
     words.worked[1],
     words.work_on,
     words.next_time,
  };
  (void)fprintf(stream, "Afterwards\n");
  for (unsigned i = 0; i < sizeof(lines) / sizeof(*lines); ++i) {
    if (lines[i][0]) {
      tell_words(stream, 4, lines[i]);
    }
  }
}
