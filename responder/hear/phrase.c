#include "responder/hear/phrase.h"

#include <stddef.h>

#include <assert.h>

Tick
heard_note_chord_tick(const HeardNote* const note, const Chart* const chart)
{
  return note->is_anticipation ? chart_next_change(chart, note->grid_tick)
                               : note->grid_tick;
}

const HeardNote*
phrase_last_written(const Phrase* const phrase)
{
  assert(phrase->n_notes > 0);
  unsigned last = phrase->n_notes - 1;
  while (last > 0 && phrase->notes[last].is_ornament) {
    --last;
  }
  return &phrase->notes[last];
}

const char*
role_name(const Role role)
{
  static const char* const names[] = {
    [ROLE_ROOT]       = "root",
    [ROLE_CHORD_TONE] = "chord tone",
    [ROLE_SCALE_TONE] = "scale tone",
    [ROLE_OUTSIDE]    = "outside",
  };
  assert((unsigned)role <= ROLE_OUTSIDE);
  return names[role];
}

const char*
grid_name(const Grid grid)
{
  static const char* const names[N_GRIDS] = {
    [GRID_BEAT]         = "beat",
    [GRID_EIGHTH]       = "eighth",
    [GRID_SWUNG_EIGHTH] = "swung eighth",
    [GRID_TRIPLET]      = "triplet",
    [GRID_SIXTEENTH]    = "sixteenth",
  };
  assert((unsigned)grid < N_GRIDS);
  return names[grid];
}

const char*
resolution_name(const Resolution resolution)
{
  static const char* const names[] = {
    [RESOLUTION_NONE]   = NULL,
    [RESOLUTION_LED]    = "by step",
    [RESOLUTION_LEFT]   = "left hanging",
    [RESOLUTION_LANDED] = "by the landing",
    [RESOLUTION_AGAIN]  = "said again",
  };
  return names[resolution];
}
