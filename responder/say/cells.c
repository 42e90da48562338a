#include "responder/say/rhythm.h"
#include "responder/say/weights.h"

#include <math.h>

enum {
  SIXTEENTH      = TICKS_PER_QUARTER / 4,
  TRIPLET_EIGHTH = TICKS_PER_QUARTER / 3,
  N_CELLS        = 14,
  CELL_CAPACITY  = 4,
  CROSS_GROUP    = 3 * TICKS_PER_EIGHTH,
};

/// What a beat may hold: onsets, and what the rung must allow for them.
typedef struct {
  int8_t  n_onsets;
  int16_t onsets[CELL_CAPACITY]; // Ticks into the beat
  bool    is_compound;           // For beats of three eighths
  bool    needs_eighths;
  bool    needs_off_beats;
  bool    needs_triplets;
  bool    needs_sixteenths;
  float   weight;
} Cell;

// Weights by ear, near the shares of beats with 0..4 onsets in jazz solos
// (.23 .25 .32 .10 .10; corpus of 419 solos).
static const Cell cells[N_CELLS] = {
  {0, {0}, false, false, false, false, false, 0.22F},
  {1, {0}, false, false, false, false, false, 0.26F},
  {2, {0, 480}, false, true, false, false, false, 0.32F},
  {1, {480}, false, true, true, false, false, 0.12F},
  {3, {0, 320, 640}, false, true, false, true, false, 0.10F},
  {2, {0, 640}, false, true, true, true, false, 0.03F},
  {3, {0, 480, 720}, false, true, false, false, true, 0.06F},
  {3, {0, 240, 480}, false, true, false, false, true, 0.06F},
  {4, {0, 240, 480, 720}, false, true, false, false, true, 0.04F},
  {0, {0}, true, false, false, false, false, 0.20F},
  {1, {0}, true, false, false, false, false, 0.25F},
  {2, {0, 960}, true, true, false, false, false, 0.25F},
  {3, {0, 480, 960}, true, true, false, false, false, 0.25F},
  {2, {480, 960}, true, true, true, false, false, 0.08F},
};

/// Whether notes so close together are still unhurried at the tempo.
static bool
is_easy(const Frame* const frame, const Tick apart)
{
  return frame_ms(frame, apart) >= say_weights.unhurried_ms;
}

static bool
is_allowed(const Cell* const cell, const Frame* const frame)
{
  const RhythmRung* const rung = frame->rhythm;
  return cell->is_compound == meter_is_compound(frame->meter) &&
         (!cell->needs_eighths || rung->eighths) &&
         (!cell->needs_off_beats || rung->off_beats) &&
         (!cell->needs_triplets ||
          (rung->triplets && is_easy(frame, TRIPLET_EIGHTH))) &&
         (!cell->needs_sixteenths ||
          (rung->sixteenths && is_easy(frame, SIXTEENTH)));
}

static const Cell*
draw_cell(const Frame* const frame, const double density, Rng* const rng)
{
  float weights[N_CELLS];
  for (unsigned i = 0; i < N_CELLS; ++i) {
    const double off = fabs(cells[i].n_onsets - density);
    weights[i] =
      is_allowed(&cells[i], frame)
        ? cells[i].weight * (float)exp(-off * (double)say_weights.cell_density)
        : 0.0F;
  }
  return &cells[rng_pick(rng, weights, N_CELLS)];
}

static void
put(Sketch* const sketch, SketchNote model, const Tick tick, const Tick until)
{
  model.tick   = tick;
  model.length = 0;
  if (tick < until) {
    sketch_insert(sketch, model); // One that is there already may stay
  }
}

/// Lay a cell on every beat, now and then the one of two beats before.
static void
lay_cells(Sketch* const      sketch,
          const Frame* const frame,
          const Tick         from,
          const Tick         until,
          const double       density,
          const SketchNote   model,
          Rng* const         rng)
{
  const Cell* before[2] = {NULL, NULL};
  for (Tick beat = from; beat < until; beat += frame->beat) {
    const bool again =
      before[1] != NULL && rng_unit(rng) < (double)say_weights.cell_again;
    const Cell* const cell = again ? before[1] : draw_cell(frame, density, rng);
    for (int i = 0; i < cell->n_onsets; ++i) {
      put(sketch, model, beat + cell->onsets[i], until);
    }
    before[1] = before[0];
    before[0] = cell;
  }
}

/// Lay the same group again and again, three eighths long: it runs across beats
/// and bars.
static void
lay_cross(Sketch* const    sketch,
          const Tick       from,
          const Tick       until,
          const SketchNote model,
          Rng* const       rng)
{
  const bool has_pair = rng_unit(rng) < 0.6;
  for (Tick tick = from; tick < until; tick += CROSS_GROUP) {
    put(sketch, model, tick, until);
    if (has_pair) {
      put(sketch, model, tick + TICKS_PER_EIGHTH, until);
    }
  }
}

/// Give the notes of a stretch their lengths: to the next, or a beat.
static void
lengthen(Sketch* const      sketch,
         const Frame* const frame,
         const Tick         from,
         const Tick         until)
{
  for (unsigned i = 0; i < sketch->n_notes; ++i) {
    SketchNote* const note = &sketch->notes[i];
    if (note->tick < from || note->tick >= until) {
      continue;
    }
    const bool is_last = i + 1 == sketch->n_notes;
    const Tick slot =
      (is_last ? until : sketch->notes[i + 1].tick) - note->tick;
    note->length = slot < frame->beat ? slot : frame->beat;
  }
}

void
rhythm_draw(Sketch* const      sketch,
            const Frame* const frame,
            const Tick         from,
            const Tick         until,
            const unsigned     n_notes,
            const SketchNote   model,
            Rng* const         rng)
{
  const double beats    = (double)(until - from) / (double)frame->beat;
  const double density  = (double)n_notes / fmax(beats, 1.0);
  const bool   is_cross = frame->rhythm->cross_rhythm &&
                        !meter_is_compound(frame->meter) &&
                        until - from >= 2 * CROSS_GROUP && density <= 2.0 &&
                        rng_unit(rng) < (double)say_weights.cross_chance;
  if (is_cross) {
    lay_cross(sketch, from, until, model, rng);
  } else {
    lay_cells(sketch, frame, from, until, density, model, rng);
  }
  lengthen(sketch, frame, from, until);
}
