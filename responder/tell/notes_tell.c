#include "responder/tell/notes_tell.h"

#include "responder/record/note_name.h"
#include "responder/tell/columns.h"
#include "responder/tell/tell.h"

#include <stdbool.h>
#include <string.h>

enum {
  INDENT     = 14, ///< `    bar   1:  `
  BETWEEN    = 2,  ///< Columns, at least
  CELL_TEXT  = 96,
  NOTES_LINE = 4 * COLUMNS_USUAL + CELL_TEXT,
  LEAST_REST = TICKS_PER_EIGHTH,

  PART_CAPACITY = 8,
};

void
notes_tell_legend(FILE* const stream)
{
  tell_words(
    stream,
    0,
    "Notes: [C4] root, E4 chord tone, (D4) scale tone, <F#4> outside "
    "and led home, <F#4?> outside and left hanging, ~D#4 ornament; "
    "\"-\" holds on, \".\" rests. Above them the beats: 2& is the half "
    "of beat two, 2e and 2a its quarters, 2\u2153 a third on, 2.43 between.");
}

// Places

// Parts of a beat as players count them; a finer or odder one is told in
// hundredths
static const struct {
  unsigned    part;
  unsigned    parts;
  const char* text;
} beat_parts[] = {
  {0, 1, ""},
  {1, 2, "&"},
  {1, 4, "e"},
  {3, 4, "a"},
  {1, 3, "\u2153"},
  {2, 3, "\u2154"},
  {1, 6, "\u2159"},
  {5, 6, "\u215A"},
  {1, 8, "\u215B"},
  {3, 8, "\u215C"},
  {5, 8, "\u215D"},
  {7, 8, "\u215E"},
  {1, 5, "\u2155"},
  {2, 5, "\u2156"},
  {3, 5, "\u2157"},
  {4, 5, "\u2158"},
};

static const char*
part_text(const Tick within, const Tick beat, char hundredths[PART_CAPACITY])
{
  for (unsigned i = 0; i < sizeof(beat_parts) / sizeof(*beat_parts); ++i) {
    if (within == beat * beat_parts[i].part / beat_parts[i].parts) {
      return beat_parts[i].text;
    }
  }
  (void)snprintf(
    hundredths, PART_CAPACITY, ".%02u", (unsigned)(100 * within / beat) % 100U);
  return hundredths;
}

// What is counted: beats, and in compound meters their eighths
static Tick
count_of(const Meter meter)
{
  return meter_is_compound(meter) ? TICKS_PER_EIGHTH : meter_beat_ticks(meter);
}

const char*
notes_place(const Meter meter,
            const Tick  grid_tick,
            char        place[NOTES_PLACE_CAPACITY])
{
  const Tick beat   = count_of(meter);
  const Tick bar    = meter_bar_ticks(meter);
  const Tick in_bar = grid_tick - tick_floor(grid_tick, bar);
  const int  number = (int)(in_bar / beat) + 1;
  char       hundredths[PART_CAPACITY];
  (void)snprintf(place,
                 NOTES_PLACE_CAPACITY,
                 "%d%s",
                 number,
                 part_text(in_bar % beat, beat, hundredths));
  return place;
}

// Names

static const char*
role_format(const HeardNote* const note)
{
  if (note->is_ornament) {
    return "~%s";
  }
  switch ((Role)note->role) {
    case ROLE_ROOT:
      return "[%s]";
    case ROLE_CHORD_TONE:
      return "%s";
    case ROLE_SCALE_TONE:
      return "(%s)";
    case ROLE_OUTSIDE:
      break;
  }
  return note->resolution == RESOLUTION_LEFT ? "<%s?>" : "<%s>";
}

// Lines

/// Bars in the making.
typedef struct {
  FILE*         stream;
  const Chart*  chart;
  const Phrase* phrase;
  unsigned      next; ///< The note that comes next
  unsigned      end;  ///< ... of those up to this one
  Tick          stop; ///< Where the one before stops sounding,
  Tick          held; ///< ... or one before that, under it
  unsigned      width;
  unsigned      column;
  char          beats[NOTES_LINE];
  char          notes[NOTES_LINE];
} Bars;

static void
put_line(FILE* const stream, char line[NOTES_LINE])
{
  size_t n = strlen(line);
  while (n && line[n - 1] == ' ') {
    line[--n] = '\0';
  }
  (void)fprintf(stream, "%s\n", line);
}

static void
begin_lines(Bars* const bars, const char* const left)
{
  (void)snprintf(bars->beats, NOTES_LINE, "%-*s", INDENT, left);
  (void)snprintf(bars->notes, NOTES_LINE, "%-*s", INDENT, "");
  bars->column = INDENT;
}

static void
end_lines(Bars* const bars)
{
  put_line(bars->stream, bars->beats);
  put_line(bars->stream, bars->notes);
}

/// Add a text and blanks up to a width.
static void
fill(char line[NOTES_LINE], const char* const text, const unsigned width)
{
  const size_t   n     = strlen(line);
  const unsigned taken = columns_of(text, strlen(text));
  (void)snprintf(
    line + n, NOTES_LINE - n, "%s%*s", text, (int)(width - taken), "");
}

static void
add_cell(Bars* const bars, const char* const place, const char* const text)
{
  const unsigned above = columns_of(place, strlen(place));
  const unsigned below = columns_of(text, strlen(text));
  const unsigned width = above > below ? above : below;
  if (bars->column > INDENT && bars->column + width > bars->width) {
    end_lines(bars);
    begin_lines(bars, "");
  }
  fill(bars->beats, place, width + BETWEEN);
  fill(bars->notes, text, width + BETWEEN);
  bars->column += width + BETWEEN;
}

// Notes

static unsigned
unit_of(const HeardNote* const note)
{
  switch ((Grid)note->grid) {
    case GRID_TRIPLET:
      return TICKS_PER_QUARTER / 3;
    case GRID_SIXTEENTH:
      return TICKS_PER_QUARTER / 4;
    case GRID_BEAT:
    case GRID_EIGHTH:
    case GRID_SWUNG_EIGHTH:
      break;
  }
  return TICKS_PER_EIGHTH;
}

/// Return where the written notes go on after some of them.
static Tick
next_onset(const Bars* const bars, unsigned i)
{
  while (i < bars->end && bars->phrase->notes[i].is_ornament) {
    ++i;
  }
  return i < bars->end ? bars->phrase->notes[i].grid_tick : INT64_MAX;
}

/// Return where a note stops, as it is written: a rest is an eighth or more.
static Tick
stop_of(const Bars* const bars, const unsigned i)
{
  const HeardNote* const note = &bars->phrase->notes[i];
  const Tick             unit = unit_of(note);
  const Tick             n    = (note->grid_length + unit / 2) / unit;
  const Tick             stop = note->grid_tick + (n > 0 ? n : 1) * unit;
  const Tick             next = next_onset(bars, i + 1);
  return next == INT64_MAX || next - stop >= LEAST_REST ? stop : next;
}

/// Return where a note stops sounding under those that come after it.
static Tick
held_until(const HeardNote* const note)
{
  const unsigned unit = unit_of(note);
  return note->grid_tick + (note->note.length + unit / 2) / unit * unit;
}

/// Add what begins at a tick, crushed notes before what they decorate.
static void
add_notes(Bars* const bars, const Tick tick, char text[CELL_TEXT])
{
  size_t n = 0;
  while (bars->next < bars->end &&
         bars->phrase->notes[bars->next].grid_tick <= tick) {
    const HeardNote* const note = &bars->phrase->notes[bars->next];
    char                   name[PITCH_TEXT_CAPACITY];
    (void)note_name(bars->chart, bars->phrase, bars->next, name);
    if (n + sizeof(name) + 4 > CELL_TEXT) {
      return; // The rest in a cell of its own
    }
    n += (size_t)snprintf(text + n, CELL_TEXT - n, "%s", n ? " " : "");
    n += (size_t)snprintf(text + n, CELL_TEXT - n, role_format(note), name);
    if (!note->is_ornament) {
      bars->held =
        held_until(note) > bars->held ? held_until(note) : bars->held;
      bars->stop = stop_of(bars, bars->next);
      bars->stop = bars->held > bars->stop ? bars->held : bars->stop;
    }
    ++bars->next;
  }
}

static void
add_moment(Bars* const bars, const Tick tick)
{
  char place[NOTES_PLACE_CAPACITY];
  char text[CELL_TEXT] = "";
  add_notes(bars, tick, text);
  if (!text[0]) {
    (void)snprintf(text, sizeof(text), "%s", bars->stop > tick ? "-" : ".");
  }
  add_cell(bars, notes_place(bars->chart->meter, tick, place), text);
}

/// Return what comes after a tick: a beat, a note, or the end of one.
static Tick
next_moment(const Bars* const bars, const Tick tick)
{
  const Tick beat = count_of(bars->chart->meter);
  Tick       next = tick_floor(tick, beat) + beat;
  if (bars->next < bars->end) {
    next = tick_least(next, bars->phrase->notes[bars->next].grid_tick);
  }
  return bars->stop > tick ? tick_least(next, bars->stop) : next;
}

static void
add_bar(Bars* const bars, const Tick start)
{
  const Tick end = start + meter_bar_ticks(bars->chart->meter);
  char       left[32];
  (void)snprintf(left,
                 sizeof(left),
                 "    bar %3lld:",
                 (long long)(start / (end - start)) + 1);
  begin_lines(bars, left);
  for (Tick tick = start; tick < end;) {
    add_moment(bars, tick);
    const Tick next = next_moment(bars, tick);
    tick = next > tick ? next : tick; // What found no room comes again
  }
  end_lines(bars);
}

void
notes_tell(FILE* const         stream,
           const Chart* const  chart,
           const Phrase* const phrase,
           const unsigned      first,
           const unsigned      end)
{
  const unsigned here = columns_here(stream);
  const Tick     bar  = meter_bar_ticks(chart->meter);
  Bars           bars = {.stream = stream,
                         .chart  = chart,
                         .phrase = phrase,
                         .next   = first,
                         .end    = end,
                         .stop   = INT64_MIN,
                         .held   = INT64_MIN,
                         .width  = here < COLUMNS_USUAL ? here : COLUMNS_USUAL};
  if (first == end) {
    return;
  }
  for (Tick start = tick_floor(phrase->notes[first].grid_tick, bar);
       bars.next < end || bars.stop > start;
       start += bar) {
    add_bar(&bars, start);
  }
}
