#include "responder/tell/screen.h"

#include "core/music/pitch.h"
#include "core/music/spelling.h"
#include "responder/tell/columns.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum {
  SAY_INDENT     = 5,  ///< Of the rows after the first
  STRUCK_COLUMNS = 12, ///< Kept free for what is struck, if anything is
};

// ECMA-48, erase in line: from here to its end
#define CLEAR_REST "\033[K"

// ... in page, to its end; and how to go rows up
#define CLEAR_BELOW "\033[J"
#define ROWS_UP "\033[%uA"

// Words into a line, as far as they fit

__attribute__((format(printf, 2, 3))) static void
add(char line[SCREEN_LINE], const char* const format, ...)
{
  const size_t n = strlen(line);
  va_list      args;
  va_start(args, format);
  (void)vsnprintf(line + n, SCREEN_LINE - n, format, args);
  va_end(args);
}

static Turn
turn_of(const SessionOptions* const session, const Tick now)
{
  const TurnPlan plan = session_turn_plan(session);
  Turn           turn = turn_at(plan, 1);
  while (turn.end <= now) {
    turn = turn_at(plan, turn.index + 1);
  }
  return turn;
}

// A stroke for each beat of the turn, filled up to the present one; where room
// is short, of the bar alone
static void
add_beats(char              line[SCREEN_LINE],
          const Meter       meter,
          const Turn* const turn,
          const Tick        now,
          const bool        is_short)
{
  const Tick beat = meter_beat_ticks(meter);
  const Tick bar  = meter_bar_ticks(meter);
  const Tick from = is_short ? tick_floor(now, bar) : turn->silence;
  const Tick to   = is_short ? from + bar : turn->end;
  for (Tick at = from; at < to; at += beat) {
    add(line, "%s%s", at % bar == 0 ? "|" : "", at <= now ? "#" : ".");
  }
  add(line, "|");
}

static void
add_chord(char               line[SCREEN_LINE],
          const Chart* const chart,
          const Tick         tick,
          const bool         with_tones)
{
  const Chord* const chord = chart_chord_at(chart, tick);
  char               text[CHORD_TEXT_CAPACITY];
  add(line, "%s", chord_text(chord, text));
  for (unsigned i = 0; with_tones && i < chord->n_tones; ++i) {
    char note[SPELLING_TEXT_CAPACITY];
    add(line,
        "%s%s",
        i ? " " : ": ",
        spelling_text(spelling_above(chord->root, chord->tones[i]), note));
  }
}

// How much is told, the most first
typedef enum {
  ALL_TONES,
  TONES_NOW,
  CHORDS,
  CHORD_NOW,
  N_DETAILS,
} Detail;

static void
add_count_in(const Screen* const screen,
             const Tick          now,
             const Detail        detail,
             char                line[SCREEN_LINE])
{
  const Chart* const chart = screen->session->chart;
  const Tick         beat  = meter_beat_ticks(chart->meter);
  const Tick         at    = now < screen->first ? screen->first : now;
  const Tick         in    = at - tick_floor(at, meter_bar_ticks(chart->meter));
  add(line, "count-in %d   first ", (int)(in / beat) + 1);
  add_chord(line, chart, 0, detail < CHORDS);
}

static void
add_place(const Screen* const screen,
          const Tick          now,
          const Detail        detail,
          char                line[SCREEN_LINE])
{
  const SessionOptions* const session = screen->session;
  const Chart* const          chart   = session->chart;
  const Tick                  bar     = meter_bar_ticks(chart->meter);
  const Tick                  end     = chart_ticks(chart) * session->choruses;
  const Turn                  turn    = turn_of(session, now);
  const Tick                  next    = chart_next_change(chart, now);
  add(line,
      "%-7s %3lld ",
      now < turn.start ? "sing"
      : turn.by_player ? "YOU"
                       : "partner",
      (long long)(now / bar) + 1);
  add_beats(line, chart->meter, &turn, now, detail >= CHORDS);
  add(line, " ");
  add_chord(line, chart, now, detail <= TONES_NOW);
  if (next < end && detail < CHORD_NOW) {
    add(line, " > ");
    add_chord(line, chart, next, detail == ALL_TONES);
  }
}

static void
add_all(const Screen* const screen,
        const Tick          now,
        const Detail        detail,
        char                line[SCREEN_LINE])
{
  const SessionOptions* const session = screen->session;
  const Tick end = chart_ticks(session->chart) * session->choruses;
  // Where there is no best phrase it is over with the closing bar
  const Meter meter = session->chart->meter;
  const Tick  again = end + meter_bar_ticks(meter) + meter_beat_ticks(meter);
  line[0]           = '\0';
  if (session->plays_back && now >= again) {
    add(line, "the end; your best phrase once more");
  } else if (now >= end) {
    add(line, screen->has_next ? "done" : "the end");
  } else if (now < 0) {
    add_count_in(screen, now, detail, line);
  } else {
    add_place(screen, now, detail, line);
  }
}

// The last notes of the turn, as many as fit
static void
add_struck(const Screen* const screen,
           const unsigned      columns,
           char                line[SCREEN_LINE])
{
  const Chart* const chart = screen->session->chart;
  char               names[SCREEN_STRUCK * (PITCH_TEXT_CAPACITY + 1)] = "";
  size_t             begin[SCREEN_STRUCK + 1];
  size_t             n     = 0;
  unsigned           first = 0;
  for (unsigned i = 0; i < screen->n_struck; ++i) {
    const HeardKey* const key = &screen->struck[i];
    char                  name[PITCH_TEXT_CAPACITY];
    begin[i] = n;
    n += (size_t)snprintf(
      names + n,
      sizeof(names) - n,
      " %s",
      pitch_text(key->pitch, chart_spell(chart, key->tick, key->pitch), name));
  }
  const unsigned taken = columns_of(line, strlen(line)) + 1;
  const unsigned room  = taken < columns ? columns - taken : 0;
  while (first < screen->n_struck && n - begin[first] > room) {
    ++first;
  }
  if (first < screen->n_struck) {
    add(line, " %s", names + begin[first]);
  }
}

const char*
screen_line(const Screen* const screen,
            const Tick          now,
            const unsigned      columns,
            char                line[SCREEN_LINE])
{
  const bool has_struck = screen->n_struck && now >= 0 &&
                          turn_of(screen->session, now).index == screen->turn;
  const unsigned kept   = has_struck ? STRUCK_COLUMNS : 0;
  Detail         detail = ALL_TONES;
  add_all(screen, now, detail, line);
  while (columns_of(line, strlen(line)) + kept > columns &&
         ++detail < N_DETAILS) {
    add_all(screen, now, detail, line);
  }
  if (has_struck) {
    add_struck(screen, columns, line);
  }
  line[columns_fit(line, columns)] = '\0';
  return line;
}

// Writing

// Whether a line can be written over
static bool
is_terminal(FILE* const stream)
{
  const char* const kind = getenv("TERM");
  return isatty(fileno(stream)) && kind && kind[0] && strcmp(kind, "dumb") != 0;
}

Screen
screen_begin(FILE* const                 stream,
             const SessionOptions* const session,
             const Tick                  first)
{
  return (Screen){.stream      = stream,
                  .session     = session,
                  .is_terminal = is_terminal(stream),
                  .shown       = INT64_MIN,
                  .first       = first};
}

void
screen_end(Screen* const screen)
{
  if (screen->has_line) {
    (void)fputc('\n', screen->stream);
    (void)fflush(screen->stream);
    screen->has_line = false;
  }
}

// Goes to where the line of beats begins: one that was written in a wider
// window has become several rows, which are taken away
static void
return_to_line(Screen* const screen, const unsigned columns)
{
  const unsigned width     = columns + 1; // The last column stays free
  const bool     is_longer = screen->has_line && screen->taken > width;
  if (is_longer) {
    (void)fprintf(screen->stream, ROWS_UP, (screen->taken - 1) / width);
  }
  (void)fprintf(screen->stream, "\r%s", is_longer ? CLEAR_BELOW : "");
}

void
screen_beat(Screen* const screen, const Tick now)
{
  const Tick at =
    tick_floor(now, meter_beat_ticks(screen->session->chart->meter));
  const unsigned columns = columns_here(screen->stream);
  char           line[SCREEN_LINE];
  if (!screen->is_terminal ||
      (at == screen->shown && columns == screen->columns)) {
    return;
  }
  return_to_line(screen, columns);
  (void)fprintf(
    screen->stream, "%s" CLEAR_REST, screen_line(screen, now, columns, line));
  (void)fflush(screen->stream);
  screen->shown    = at;
  screen->columns  = columns;
  screen->taken    = columns_of(line, strlen(line));
  screen->has_line = true;
}

void
screen_key(Screen* const screen, const HeardKey key)
{
  const unsigned turn =
    key.tick < 0 ? 1 : turn_of(screen->session, key.tick).index;
  if (!key.velocity) {
    return;
  }
  if (turn != screen->turn) {
    screen->turn     = turn;
    screen->n_struck = 0;
  }
  if (screen->n_struck == SCREEN_STRUCK) {
    memmove(screen->struck,
            screen->struck + 1,
            (SCREEN_STRUCK - 1) * sizeof(*screen->struck));
    --screen->n_struck;
  }
  screen->struck[screen->n_struck++] = key;
  screen->shown                      = INT64_MIN;
}

// Cut between words, where there are any
static int
row_length(const char* const words, const unsigned columns)
{
  const int fitting = (int)columns_fit(words, columns);
  int       n_bytes = fitting;
  while (words[fitting] && n_bytes && words[n_bytes] != ' ') {
    --n_bytes;
  }
  return n_bytes ? n_bytes : fitting;
}

void
screen_say(Screen* const screen, const char* const words)
{
  const unsigned here = columns_here(screen->stream);
  if (screen->has_line) { // Write over it
    return_to_line(screen, here);
    (void)fputs(CLEAR_REST, screen->stream);
    screen->has_line = false;
  }
  const unsigned columns = here < COLUMNS_USUAL ? here : COLUMNS_USUAL;
  unsigned       indent  = 0;
  const char*    row     = words;
  do {
    const int n_bytes = row_length(row, columns - indent);
    (void)fprintf(screen->stream, "%*s%.*s\n", (int)indent, "", n_bytes, row);
    row += n_bytes + (row[n_bytes] == ' ');
    indent = SAY_INDENT;
  } while (*row);
  (void)fflush(screen->stream);
  screen->shown = INT64_MIN;
}

// Turns

static void
add_target(char                line[SCREEN_LINE],
           const Chart* const  chart,
           const Phrase* const phrase)
{
  if (phrase->target == PHRASE_NO_TARGET) {
    return;
  }
  const HeardNote* const note = &phrase->notes[phrase->target];
  char                   name[PITCH_TEXT_CAPACITY];
  add(line,
      " to %s",
      pitch_text(note->note.pitch,
                 chart_spell(chart, note->grid_tick, note->note.pitch),
                 name));
}

static void
say_more(Screen* const screen, const TurnRecord* const record)
{
  if (record->asks[0]) {
    char line[SCREEN_LINE] = "     ";
    add(line, "%s", record->asks);
    screen_say(screen, line);
  }
  if (record->is_lost) {
    screen_say(screen, "     The band plays roots until you are back.");
  }
  if (record->offers_longer) {
    screen_say(screen, "     You have a lot to say: longer turns? (--bars)");
  }
  if (record->asks_to_stop) {
    screen_say(screen, "     q or your control held leaves; or play on.");
  }
}

void
screen_turn(Screen* const screen, const TurnRecord* const record)
{
  const Phrase* const phrase            = &record->phrase;
  char                line[SCREEN_LINE] = "";
  add(line, "%3u ", record->turn.index);
  if (!record->turn.by_player) {
    add(line, "partner  %s", record->why);
  } else if (!phrase->n_notes) {
    add(line, "you      silence");
    if (record->remark[0]) {
      add(line, ". %s", record->remark);
    }
  } else {
    add(line,
        "you      %u note%s",
        phrase->n_notes,
        phrase->n_notes == 1 ? "" : "s");
    add_target(line, screen->session->chart, phrase);
    add(line, ". %s", record->remark);
  }
  screen_say(screen, line);
  say_more(screen, record);
}
