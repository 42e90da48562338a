#include "responder/tell/screen.h"

#include "core/music/pitch.h"
#include "core/music/spelling.h"

#include <stdarg.h>
#include <string.h>
#include <unistd.h>

enum { SAY_INDENT = 5 }; // Of the rows after the first

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

// A stroke for each beat of the turn, filled up to the present one
static void
add_beats(char              line[SCREEN_LINE],
          const Meter       meter,
          const Turn* const turn,
          const Tick        now)
{
  const Tick beat = meter_beat_ticks(meter);
  for (Tick at = turn->start; at < turn->end; at += beat) {
    const bool is_bar = at % meter_bar_ticks(meter) == 0;
    add(line, "%s%s", is_bar ? "|" : "", at <= now ? "#" : ".");
  }
  add(line, "|");
}

static void
add_chord(char line[SCREEN_LINE], const Chart* const chart, const Tick tick)
{
  const Chord* const chord = chart_chord_at(chart, tick);
  char               text[CHORD_TEXT_CAPACITY];
  add(line, "%s", chord_text(chord, text));
  for (unsigned i = 0; i < chord->n_tones; ++i) {
    char note[SPELLING_TEXT_CAPACITY];
    add(line,
        "%s%s",
        i ? " " : ": ",
        spelling_text(spelling_above(chord->root, chord->tones[i]), note));
  }
}

const char*
screen_beat_text(const SessionOptions* const session,
                 const Tick                  now,
                 char                        line[SCREEN_LINE])
{
  const Chart* const chart = session->chart;
  const Tick         beat  = meter_beat_ticks(chart->meter);
  const Tick         bar   = meter_bar_ticks(chart->meter);
  const Tick         end   = chart_ticks(chart) * session->choruses;
  line[0]                  = '\0';
  if (now >= end) {
    add(line, "the end");
    return line;
  }
  if (now < 0) {
    add(line,
        "count-in %d   first ",
        (int)((tick_floor(now, beat) - tick_floor(now, bar)) / beat) + 1);
    add_chord(line, chart, 0);
    return line;
  }
  const Turn turn = turn_of(session, now);
  const Tick next = chart_next_change(chart, now);
  add(line,
      "%-7s %3lld ",
      turn.by_player ? "YOU" : "partner",
      (long long)(now / bar) + 1);
  add_beats(line, chart->meter, &turn, now);
  add(line, " ");
  add_chord(line, chart, now);
  if (next < end) {
    add(line, " > ");
    add_chord(line, chart, next);
  }
  return line;
}

// Cut between characters, never within one of UTF-8
static int
fitting_length(const char* const line, const int width)
{
  int n_bytes   = 0;
  int n_columns = 0;
  while (line[n_bytes] && n_columns < width) {
    ++n_bytes;
    while (((unsigned char)line[n_bytes] & 0xC0U) == 0x80U) {
      ++n_bytes;
    }
    ++n_columns;
  }
  return n_bytes;
}

// Cut between words, where there are any
static int
row_length(const char* const words, const int width)
{
  const int fitting = fitting_length(words, width);
  int       n_bytes = fitting;
  while (words[fitting] && n_bytes && words[n_bytes] != ' ') {
    --n_bytes;
  }
  return n_bytes ? n_bytes : fitting;
}

Screen
screen_begin(FILE* const stream, const SessionOptions* const session)
{
  return (Screen){.stream      = stream,
                  .session     = session,
                  .is_terminal = isatty(fileno(stream)) != 0,
                  .shown       = INT64_MIN};
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

void
screen_beat(Screen* const screen, const Tick now)
{
  const Meter meter = screen->session->chart->meter;
  const Tick  step =
    screen->is_terminal ? meter_beat_ticks(meter) : meter_bar_ticks(meter);
  const Tick at = tick_floor(now, step);
  char       line[SCREEN_LINE];
  if (at == screen->shown) {
    return;
  }
  screen->shown = at;
  (void)screen_beat_text(screen->session, now, line);
  if (screen->is_terminal) {
    (void)fprintf(screen->stream,
                  "\r%-*.*s",
                  SCREEN_WIDTH,
                  fitting_length(line, SCREEN_WIDTH),
                  line);
    screen->has_line = true;
  } else {
    (void)fprintf(
      screen->stream, "%.*s\n", fitting_length(line, SCREEN_WIDTH), line);
  }
  (void)fflush(screen->stream);
}

void
screen_say(Screen* const screen, const char* const words)
{
  if (screen->has_line) { // Write over it
    (void)fprintf(screen->stream, "\r%-*s\r", SCREEN_WIDTH, "");
    screen->has_line = false;
  }
  int         indent = 0;
  const char* row    = words;
  do {
    const int n_bytes = row_length(row, SCREEN_WIDTH - indent);
    (void)fprintf(screen->stream, "%*s%.*s\n", indent, "", n_bytes, row);
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
    screen_say(screen, "     (Hold your control to stop, or play on.)");
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
    add(line, "you      silence. %s", record->remark);
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
