#include "responder/hear/ornament.h"

#include <stdbool.h>
#include <stdlib.h>

/// What an ornament may be at most. Chosen so that fast notes are none: one
/// jazz interval in ten is under 74 ms, one in four under 100 ms (computed from
/// the Weimar Jazz Database 1.2); crushed notes keep a fixed length of about
/// 40-120 ms (Timmers et al. 2002; figures from memory).
static const struct {
  double   ms;        ///< From one onset to the next
  double   share;     ///< ... beside the interval that follows the main note
  double   beside;    ///< ... beside the interval before the ornament
  int      semitones; ///< From the main note
  unsigned in_a_row;  ///< Notes of a turn or a double approach
  double   slide_ms;  ///< Each of two that go one way (common practice)
} MOST = {80, 1.0 / 3.0, 0.55, 2, 3, 50};

/// How long until the next onset, or until the last note ends.
static Tick
gap_after(const Phrase* const phrase, const unsigned i)
{
  const Note* const note = &phrase->notes[i].note;
  return i + 1 < phrase->n_notes ? phrase->notes[i + 1].note.tick - note->tick
                                 : note->length;
}

/// Whether a note could lead, with those after it, into a main note that so
/// much time follows.
static bool
is_crushed(const Phrase* const phrase,
           const unsigned      i,
           const Note* const   main,
           const Tick          main_gap,
           const double        ms_per_tick)
{
  const double gap = (double)gap_after(phrase, i);
  const int    far = abs(main->pitch - phrase->notes[i].note.pitch);
  return gap * ms_per_tick <= MOST.ms && gap <= MOST.share * (double)main_gap &&
         far <= MOST.semitones;
}

/// Whether a note is part of a run: what comes before it is as short.
static bool
is_in_run(const Phrase* const phrase, const unsigned i)
{
  return i > 0 && MOST.beside * (double)gap_after(phrase, i - 1) <
                    (double)gap_after(phrase, i);
}

/// Whether two notes go on in one direction to the main one, too slowly for a
/// slide: they are its pick-up.
static bool
is_pick_up(const Phrase* const phrase,
           const unsigned      main,
           const double        ms_per_tick)
{
  const HeardNote* const note   = &phrase->notes[main];
  const int              first  = note[-1].note.pitch - note[-2].note.pitch;
  const int              second = note->note.pitch - note[-1].note.pitch;
  const Tick slower = gap_after(phrase, main - 2) > gap_after(phrase, main - 1)
                        ? gap_after(phrase, main - 2)
                        : gap_after(phrase, main - 1);
  return first * second > 0 && (double)slower * ms_per_tick > MOST.slide_ms;
}

/// Return how many notes before a main note are its ornament.
static unsigned
ornaments_of(const Phrase* const phrase,
             const unsigned      main,
             const double        ms_per_tick)
{
  const Note* const note = &phrase->notes[main].note;
  const Tick        gap  = gap_after(phrase, main);
  unsigned          n    = 0;
  while (n < main && n < MOST.in_a_row &&
         is_crushed(phrase, main - n - 1, note, gap, ms_per_tick)) {
    ++n;
  }
  // The note next to the main one is never the same, and no run leads in
  const bool is_plain =
    n > 0 && (phrase->notes[main - 1].note.pitch == note->pitch ||
              is_in_run(phrase, main - n) ||
              (n == 2 && is_pick_up(phrase, main, ms_per_tick)));
  return is_plain ? 0 : n;
}

void
ornament_mark(Phrase* const phrase, const double ms_per_tick)
{
  for (unsigned i = 1; i < phrase->n_notes; ++i) {
    const unsigned n =
      phrase->notes[i].is_ornament ? 0 : ornaments_of(phrase, i, ms_per_tick);
    for (unsigned k = 1; k <= n; ++k) {
      phrase->notes[i - k].is_ornament = true;
    }
  }
}

bool
ornament_unmark(Phrase* const phrase, const Tick beat_ticks)
{
  bool was_marked  = false;
  bool is_off_grid = false; // The main note of the ornaments at hand
  for (unsigned i = phrase->n_notes; i-- > 0;) {
    HeardNote* const heard = &phrase->notes[i];
    if (!heard->is_ornament) {
      const Tick at = heard->grid_tick;
      is_off_grid   = at % (beat_ticks / 2) != 0 && at % (beat_ticks / 3) != 0;
    } else if (is_off_grid) {
      heard->is_ornament = false;
      was_marked         = true;
    }
  }
  return was_marked;
}

void
ornament_place(Phrase* const phrase)
{
  for (unsigned i = phrase->n_notes; i-- > 0;) {
    HeardNote* const heard = &phrase->notes[i];
    if (heard->is_ornament && i + 1 < phrase->n_notes) {
      heard->grid_tick = heard[1].grid_tick;
      heard->grid      = heard[1].grid;
    }
  }
}
