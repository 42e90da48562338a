#include "responder/tell/draw.h"

#include "core/music/pitch.h"
#include "responder/record/note_name.h"
#include "responder/tell/columns.h"
#include "responder/tell/wrap.h"

#include <stdbool.h>
#include <string.h>

enum {
  MARGIN        = 9, ///< `    Bb4  `
  N_PITCHES     = 128,
  N_CELLS       = 4,
  LINE_CAPACITY = COLUMNS_USUAL + 1,
};

/// Cells a beat: the most with which the turn fits, else the second, or fewer
/// if not even a bar fits. Finer than a cell, notes stand close.
static const struct {
  unsigned simple[N_CELLS];
  unsigned compound[N_CELLS];
} CELLS = {{8, 4, 2, 1}, {12, 6, 3, 1}};

/// Some bars of a phrase that fit into a line.
typedef struct {
  const Chart*  chart;
  const Phrase* phrase;
  Tick          beat;
  Tick          bar;
  unsigned      width; ///< Of a line
  unsigned      cells; ///< A beat
  Tick          lead;  ///< What is drawn of the time before the first bar
  Tick          start;
  Tick          end;
} System;

void
draw_legend(FILE* const stream)
{
  Wrap wrap = wrap_begin(stream, 6, "Roll:");
  wrap_words(&wrap,
             "O root, o chord tone, + scale tone, x outside, ? left hanging, ~ "
             "ornament");
  wrap_end(&wrap);
}

// Where things stand

static unsigned
lead_cells(const System* const system)
{
  return (unsigned)(system->lead * system->cells / system->beat);
}

/// Return the column of a tick in the system; before each bar is a line.
static unsigned
column_of(const System* const system, const Tick tick)
{
  const Tick     since = tick - system->start + system->lead;
  const unsigned cell  = (unsigned)(since * system->cells / system->beat);
  const Tick     bars =
    tick < system->start ? 0 : (tick - system->start) / system->bar + 1;
  return MARGIN + cell + (unsigned)bars;
}

static unsigned
width_of(const System* const system)
{
  return column_of(system, system->end);
}

static bool
begins_before(const System* const system, const HeardNote* const note)
{
  return note->grid_tick < system->start - system->lead;
}

/// Whether a note is to be seen: it begins there, or is held on from before.
static bool
is_in(const System* const system, const HeardNote* const note)
{
  const bool is_held =
    !note->is_ornament && note->grid_tick + note->grid_length > system->start;
  return note->grid_tick < system->end &&
         (!begins_before(system, note) || is_held);
}

static char
shape_of(const HeardNote* const note)
{
  if (note->is_ornament) {
    return '~';
  }
  switch ((Role)note->role) {
    case ROLE_ROOT:
      return 'O';
    case ROLE_CHORD_TONE:
      return 'o';
    case ROLE_SCALE_TONE:
      return '+';
    case ROLE_OUTSIDE:
      break;
  }
  return note->resolution == RESOLUTION_LEFT ? '?' : 'x';
}

// Lines

/// Print a line without the blanks at its end.
static void
print_line(FILE* const stream, char line[LINE_CAPACITY])
{
  size_t n = strlen(line);
  while (n > 0 && line[n - 1] == ' ') {
    line[--n] = '\0';
  }
  (void)fprintf(stream, "%s\n", line);
}

static void
begin_line(const System* const system, char line[LINE_CAPACITY])
{
  memset(line, ' ', system->width);
  line[width_of(system)] = '\0';
  for (Tick tick = system->start; tick <= system->end; tick += system->bar) {
    line[column_of(system, tick) - 1] = '|';
  }
}

static void
put(char* const line, const unsigned column, const char* const words)
{
  memcpy(line + column, words, strlen(words));
}

/// Write the numbers of the bars, and below those of the beats.
static void
draw_ruler(FILE* const stream, const System* const system)
{
  char bars[LINE_CAPACITY];
  char beats[LINE_CAPACITY];
  begin_line(system, bars);
  begin_line(system, beats);
  put(bars, 4, "bar");
  for (Tick tick = system->start; tick < system->end; tick += system->beat) {
    const Tick in_bar = (tick - system->start) % system->bar;
    char       number[24];
    if (in_bar == 0) {
      (void)snprintf(
        number, sizeof(number), "%lld", (long long)(tick / system->bar) + 1);
      put(bars, column_of(system, tick), number);
    }
    (void)snprintf(
      number, sizeof(number), "%lld", (long long)(in_bar / system->beat) + 1);
    put(beats, column_of(system, tick), number);
  }
  print_line(stream, bars);
  print_line(stream, beats);
}

static void
draw_note(const System* const    system,
          const HeardNote* const note,
          char                   line[LINE_CAPACITY])
{
  const bool     is_held = begins_before(system, note);
  const unsigned first =
    column_of(system, is_held ? system->start : note->grid_tick);
  if (note->is_ornament) { // Crushed in just before
    const unsigned before = line[first - 1] == '|' ? first - 2 : first - 1;
    line[before > MARGIN ? before : first] = '~';
    return;
  }
  const Tick     stop = note->grid_tick + note->grid_length;
  const unsigned last =
    column_of(system, (stop < system->end ? stop : system->end) - 1);
  for (unsigned column = first + 1; column <= last; ++column) {
    if (line[column] == ' ' || line[column] == '.') {
      line[column] = '-';
    }
  }
  line[first] = is_held ? '-' : shape_of(note);
}

/// Name a row as its first note is spelled.
static void
name_row(const System* const system, const unsigned pitch, char* const line)
{
  const Phrase* const phrase = system->phrase;
  unsigned            i      = 0;
  while (phrase->notes[i].note.pitch != pitch ||
         !is_in(system, &phrase->notes[i])) {
    ++i;
  }
  char name[PITCH_TEXT_CAPACITY];
  put(line, 4, note_name(system->chart, phrase, i, name));
}

static void
draw_row(FILE* const stream, const System* const system, const unsigned pitch)
{
  const Phrase* const phrase = system->phrase;
  char                line[LINE_CAPACITY];
  begin_line(system, line);
  name_row(system, pitch, line);
  for (Tick tick = system->start; tick < system->end; tick += system->beat) {
    line[column_of(system, tick)] = '.';
  }
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const note = &phrase->notes[i];
    if (note->note.pitch == pitch && is_in(system, note)) {
      draw_note(system, note, line);
    }
  }
  print_line(stream, line);
}

static void
draw_system(FILE* const stream, const System* const system)
{
  const Phrase* const phrase              = system->phrase;
  bool                is_there[N_PITCHES] = {false};
  bool                has_any             = false;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    if (is_in(system, &phrase->notes[i])) {
      is_there[phrase->notes[i].note.pitch] = true;
      has_any                               = true;
    }
  }
  if (has_any) {
    draw_ruler(stream, system);
  }
  for (unsigned pitch = N_PITCHES; pitch-- > 0;) {
    if (is_there[pitch]) {
      draw_row(stream, system, pitch);
    }
  }
}

/// Return how many bars fit into a line.
static unsigned
bars_that_fit(const System* const system)
{
  const unsigned cells = (unsigned)(system->bar / system->beat) * system->cells;
  return (system->width - MARGIN - 1 - lead_cells(system)) / (cells + 1);
}

static void
choose_cells(System* const system, const Tick turn)
{
  const bool            is_compound = meter_is_compound(system->chart->meter);
  const unsigned* const cells = is_compound ? CELLS.compound : CELLS.simple;
  system->cells               = cells[0];
  if ((Tick)bars_that_fit(system) * system->bar >= turn) {
    return;
  }
  for (unsigned i = 1; i < N_CELLS; ++i) {
    system->cells = cells[i];
    if (bars_that_fit(system)) {
      return;
    }
  }
}

void
draw_phrase(FILE* const         stream,
            const Chart* const  chart,
            const Phrase* const phrase)
{
  const unsigned here   = columns_here(stream);
  const Tick     beat   = meter_beat_ticks(chart->meter);
  System         system = {
            .chart  = chart,
            .phrase = phrase,
            .beat   = beat,
            .bar    = meter_bar_ticks(chart->meter),
            .width  = here < COLUMNS_USUAL ? here : COLUMNS_USUAL,
            .lead = phrase->n_notes && phrase->notes[0].grid_tick < phrase->start_tick
                      ? beat / 2
                      : 0,
  };
  choose_cells(&system, phrase->end_tick - phrase->start_tick);
  const Tick most = (Tick)bars_that_fit(&system) * system.bar;
  for (Tick start = phrase->start_tick; start < phrase->end_tick;
       start += most) {
    system.start = start;
    system.end =
      start + most < phrase->end_tick ? start + most : phrase->end_tick;
    draw_system(stream, &system);
    system.lead = 0;
  }
}
