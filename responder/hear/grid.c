#include "responder/hear/grid.h"

#include "responder/hear/ornament.h"
#include "responder/hear/search.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>

/// Off-beats of a smaller ratio count as even.
static const double EVEN = 1.2;

/// Write each onset's place, and in `grid` whether its beat is swung.
static void
write_places(const HearWork* const work,
             Phrase* const         phrase,
             const Reading* const  reading,
             const Tick            beat)
{
  const bool is_swung = (double)reading->off_beat >= reading_off_beat(EVEN);
  for (unsigned k = 0; k < work->n_onsets; ++k) {
    HeardNote* const      heard = &phrase->notes[work->notes[k]];
    const GridBeat* const cell  = &work->grid[work->beats[k]];
    const unsigned n_slots = reading_slots(reading, cell->chosen, cell->n_held);
    const double   share   = (double)work->slots[k] / (double)n_slots;
    const Grid     grid    = (Grid)reading->divisions[cell->chosen].grid;
    heard->grid_tick       = cell->tick + (Tick)lround(share * (double)beat);
    heard->grid            = (uint8_t)(is_swung ? grid : GRID_EIGHTH);
  }
}

/// The grid of a beat from the places that its notes stand on, straight.
static Grid
grid_of_places(const Phrase* const phrase,
               const unsigned      first,
               const unsigned      end,
               const Tick          beat,
               const bool          is_compound)
{
  Grid finest = GRID_BEAT;
  for (unsigned i = first; i < end; ++i) {
    const Tick tick = phrase->notes[i].grid_tick;
    const Tick off  = tick - tick_floor(tick, beat);
    Grid       grid = GRID_SIXTEENTH;
    if (off == 0) {
      grid = GRID_BEAT;
    } else if (off % TICKS_PER_EIGHTH == 0) {
      grid = GRID_EIGHTH;
    } else if (is_compound ? off % (beat / 2) == 0 : off % (beat / 3) == 0) {
      grid = GRID_TRIPLET;
    }
    finest = grid > finest ? grid : finest;
  }
  return finest;
}

/// Mean share of the beat at which notes written on the half beat sound.
static double
half_beat_share(const Phrase* const phrase, const Tick beat)
{
  double   off   = 0;
  double   on    = 0;
  unsigned n_off = 0;
  unsigned n_on  = 0;
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const HeardNote* const heard = &phrase->notes[i];
    const Tick             late  = heard->note.tick - heard->grid_tick;
    if (heard->is_ornament) {
      continue;
    }
    if (heard->grid_tick % beat == 0) {
      on += (double)late;
      ++n_on;
    } else if (2 * (heard->grid_tick - tick_floor(heard->grid_tick, beat)) ==
               beat) {
      off += (double)late;
      ++n_off;
    }
  }
  const double lag = n_on > 0 ? on / n_on : 0;
  return 0.5 + (n_off > 0 ? (off / n_off - lag) / (double)beat : 0);
}

void
grid_find(Phrase* const            phrase,
          HearWork* const          work,
          const Meter              meter,
          const double             beat_ms,
          const Expectation* const expectation)
{
  if (phrase->n_notes == 0) {
    return;
  }
  const Tick beat  = meter_beat_ticks(meter);
  Finding    found = search_best(work, phrase, meter, beat_ms, expectation);
  phrase->evidence = found.evidence;
  write_places(work, phrase, &found.reading, beat);
  if (ornament_unmark(phrase, beat)) {
    search_again(work, phrase, meter, &found);
    write_places(work, phrase, &found.reading, beat);
  }
}

void
grid_guess_swing(Phrase* const phrase, const Meter meter)
{
  const Tick beat     = meter_beat_ticks(meter);
  const bool is_swung = !meter_is_compound(meter) &&
                        half_beat_share(phrase, beat) >= reading_off_beat(EVEN);
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    phrase->notes[i].grid = is_swung ? GRID_SWUNG_EIGHTH : GRID_EIGHTH;
  }
}

void
grid_name_beats(Phrase* const phrase, const Meter meter)
{
  const Tick beat        = meter_beat_ticks(meter);
  const bool is_compound = meter_is_compound(meter);
  unsigned   first       = 0;
  while (first < phrase->n_notes) {
    const Tick line = tick_floor(phrase->notes[first].grid_tick, beat);
    unsigned   end  = first + 1;
    while (end < phrase->n_notes &&
           tick_floor(phrase->notes[end].grid_tick, beat) == line) {
      ++end;
    }
    const Grid grid = grid_of_places(phrase, first, end, beat, is_compound);
    for (; first < end; ++first) {
      HeardNote* const heard = &phrase->notes[first];
      if (grid != GRID_EIGHTH || heard->grid != GRID_SWUNG_EIGHTH) {
        heard->grid = (uint8_t)grid;
      }
    }
  }
}
