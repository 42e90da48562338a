#include "responder/say/prompt.h"

#include "core/music/interval.h"
#include "responder/say/weights.h"

#include <math.h>
#include <stdlib.h>

static const Tick IN_HALVES[4][3] = {
  {0, 1, 3},
  {0, 1, 2},
  {0, 2, 3},
  {0, 2, 4},
};
static const int8_t OWN_INTERVALS[4][3] = {
  {0, 3, -3},
  {0, -2, -3},
  {0, 3, 2},
  {0, -3, 5},
};
enum { N_OWN = 4 };

/// Whether a rest or a long note parts a note from the one before.
static bool
parts(const Source* const source, const Frame* const frame, const unsigned i)
{
  const Tick gap    = source->ticks[i] - source->ticks[i - 1];
  const Tick before = i > 1 ? source->ticks[i - 1] - source->ticks[i - 2] : gap;
  return (gap >= 2 * frame->beat && (gap > before || gap > 2 * frame->beat)) ||
         gap - source->lengths[i - 1] >= frame->beat - frame->beat / 16;
}

static unsigned
end_of_phrase(const Source* const source,
              const Frame* const  frame,
              const unsigned      first)
{
  unsigned end = first + 1;
  while (end < source->n_notes && !parts(source, frame, end)) {
    ++end;
  }
  return end;
}

static bool
is_same(const Source* const source,
        const unsigned      a,
        const unsigned      b,
        const unsigned      n)
{
  for (unsigned i = 1; i < n; ++i) {
    if (source->ticks[a + i] - source->ticks[a + i - 1] !=
          source->ticks[b + i] - source->ticks[b + i - 1] ||
        interval_way(source->pitches[a + i] - source->pitches[a + i - 1]) !=
          interval_way(source->pitches[b + i] - source->pitches[b + i - 1])) {
      return false;
    }
  }
  return true;
}

static bool
comes_twice(const Source* const source, const unsigned first, const unsigned n)
{
  for (unsigned i = 0; i + n <= source->n_notes; ++i) {
    if (i != first && is_same(source, i, first, n)) {
      return true;
    }
  }
  return false;
}

/// Whether every note of a cell stands where the rung lets one stand.
static bool
is_allowed(const Frame* const frame, const Cell* const cell)
{
  for (unsigned i = 0; i < cell->n_notes; ++i) {
    const Tick at = cell->at + cell->offsets[i];
    if (!frame_allows(frame, frame->start + at)) {
      return false;
    }
    const Tick gap =
      i > 0 ? cell->offsets[i] - cell->offsets[i - 1] : frame->beat;
    const bool quick =
      gap < frame->beat - frame->off &&
      frame_ms(frame, gap) < (double)say_weights.plan.quickest_ms;
    if (quick) {
      return false;
    }
  }
  return true;
}

/// Return how little to be expected a step of a cell is, in bits: what is alike
/// in many calls tells none from another.
static float
surprise(const Frame* const frame, const Cell* const cell, const unsigned i)
{
  const CellWeights* const w   = &say_weights.cell;
  const Tick               gap = cell->offsets[i] - cell->offsets[i - 1];
  const Tick last = i > 1 ? cell->offsets[i - 1] - cell->offsets[i - 2] : gap;
  const int  size = abs(cell->intervals[i]);
  return w->step + (gap != frame->off && gap != frame->beat ? w->odd : 0.0F) +
         (gap != last ? w->mixed : 0.0F) + (size >= 5 ? w->leap : 0.0F) +
         (size == 0 ? w->repeat : 0.0F);
}

static float
weigh(const Frame* const frame, const Cell* const cell)
{
  const CellWeights* const w    = &say_weights.cell;
  float                    bits = 0.0F;
  for (unsigned i = 1; i < cell->n_notes; ++i) {
    bits += surprise(frame, cell, i);
  }
  return powf(bits, w->telling) * (cell->begins ? w->begins : 1.0F) *
         (cell->ends ? w->ends : 1.0F) * (cell->twice ? w->twice : 1.0F) *
         (prompt_is_riff(cell)           ? w->riff
          : prompt_is_motto(cell, frame) ? w->motto
                                         : 1.0F);
}

/// Whether the call has such a cell already, from before.
static bool
is_known(const Prompt* const call, const Cell* const cell)
{
  for (unsigned i = 0; i < call->n_cells; ++i) {
    const Cell* const other = &call->cells[i];
    bool              same  = other->n_notes == cell->n_notes;
    for (unsigned k = 1; same && k < cell->n_notes; ++k) {
      same = other->offsets[k] == cell->offsets[k] &&
             other->intervals[k] == cell->intervals[k];
    }
    if (same) {
      return true;
    }
  }
  return false;
}

/// Whether an off-beat among some notes leans.
static bool
leans(const Source* const source,
      const Frame* const  frame,
      const unsigned      first,
      const unsigned      n)
{
  bool does = false;
  for (unsigned i = first; i < first + n; ++i) {
    does = does ||
           frame_leans(frame, source->ticks[i], source->ticks, source->n_notes);
  }
  return does;
}

static void
add_cell(Prompt* const      call,
         const Frame* const frame,
         const unsigned     first,
         const unsigned     n,
         const bool         begins,
         const bool         ends)
{
  const Source* const source = call->source;
  const Tick          at     = source->ticks[first];
  const Tick          span   = source->ticks[first + n - 1] - at;
  const Tick most = frame_is_piece(frame) ? 3 * frame->beat : frame->bar;
  if (call->n_cells == CELL_CAPACITY || span > most || span < frame->beat / 2) {
    return;
  }
  Cell cell = {.n_notes     = n,
               .at          = at,
               .first_pitch = source->pitches[first],
               .last_length = source->lengths[first + n - 1],
               .begins      = begins,
               .ends        = ends};
  for (unsigned i = 1; i < n && i < CELL_NOTES; ++i) {
    cell.offsets[i] = source->ticks[first + i] - at;
    cell.intervals[i] =
      (int8_t)(source->pitches[first + i] - source->pitches[first + i - 1]);
  }
  if (is_allowed(frame, &cell) && !is_known(call, &cell)) {
    cell.twice                   = n > 2 && comes_twice(source, first, n);
    cell.leans                   = leans(source, frame, first, n);
    call->is_riff                = call->is_riff || prompt_is_riff(&cell);
    call->weights[call->n_cells] = weigh(frame, &cell);
    call->cells[call->n_cells++] = cell;
  }
}

static void
find_cells(Prompt* const call, const Frame* const frame)
{
  const Source* const source = call->source;
  for (unsigned first = 0; first < source->n_notes;) {
    const unsigned end = end_of_phrase(source, frame, first);
    for (unsigned n = CELL_LEAST; n <= CELL_NOTES; ++n) {
      for (unsigned i = first; i + n <= end; ++i) {
        add_cell(call, frame, i, n, i == first, i + n == end);
      }
    }
    first = end;
  }
}

/// Whether one pitch comes three times running.
static bool
stays(const Source* const source)
{
  for (unsigned i = 2; i < source->n_notes; ++i) {
    if (source->pitches[i] == source->pitches[i - 1] &&
        source->pitches[i] == source->pitches[i - 2]) {
      return true;
    }
  }
  return false;
}

/// Whether the call begins again, at the same place of a later bar, as it
/// began.
static bool
begins_again(const Source* const source, const Frame* const frame)
{
  for (unsigned i = 2; i + 2 <= source->n_notes; ++i) {
    if ((source->ticks[i] - source->ticks[0]) % frame->bar == 0 &&
        source->pitches[i] == source->pitches[0] && is_same(source, 0, i, 2)) {
      return true;
    }
  }
  return false;
}

// Common practice, no source
static void
take_own_cells(Prompt* const call, const Frame* const frame)
{
  const bool halves = frame->rhythm->eighths;
  call->n_cells     = 0;
  for (unsigned i = 0; i < N_OWN; ++i) {
    const bool leans = IN_HALVES[i][2] % 2 != 0;
    if (leans && halves && !frame->rhythm->off_beats) {
      continue;
    }
    Cell cell = {.n_notes = 3, .at = 0, .is_own = true, .first_pitch = 0};
    for (unsigned k = 1; k < 3; ++k) {
      const Tick n = IN_HALVES[i][k];
      const Tick half =
        halves ? n / 2 * frame->beat + n % 2 * frame->off : n * frame->beat;
      cell.offsets[k]   = half;
      cell.intervals[k] = OWN_INTERVALS[i][k];
    }
    cell.last_length             = frame->off;
    call->weights[call->n_cells] = 1.0F;
    call->cells[call->n_cells++] = cell;
  }
}

static bool
is_fine(const Source* const source, const Frame* const frame)
{
  unsigned n = 0;
  for (unsigned i = 1; i < source->n_notes; ++i) {
    const Tick gap = source->ticks[i] - source->ticks[i - 1];
    n += gap < frame->beat - frame->off ? 1 : 0;
  }
  return 2 * n > source->n_notes;
}

bool
prompt_is_fine(const Cell* const cell, const Frame* const frame)
{
  for (unsigned i = 0; i < cell->n_notes; ++i) {
    const Tick at = frame_in_beat(frame, cell->at + cell->offsets[i]);
    if (at != 0 && at != frame->off) {
      return true;
    }
  }
  return false;
}

void
prompt_open(Prompt* const call, Frame* const frame, const Source* const source)
{
  const unsigned n = source->n_notes;
  *call            = (Prompt){.source = source, .is_open = true};
  call->mean_pitch =
    n > 0 ? source_mean_pitch(source)
          : (int)(frame->request->lowest + frame->request->highest) / 2;
  call->last_pitch = n > 0 ? source->pitches[n - 1] : call->mean_pitch;
  call->room       = frame->bar;
  call->stays      = stays(source);
  call->is_riff    = begins_again(source, frame);
  call->is_fine    = is_fine(source, frame);
  for (unsigned i = 0; i < n && !source->is_idea; ++i) {
    const unsigned pc = source->pitches[i] % N_PITCH_CLASSES;
    const RoleRow  row =
      *frame_roles(frame, frame->request->call->start_tick + source->ticks[i]);
    call->classes |= (uint16_t)(1U << pc);
    call->blues |= (uint16_t)(row.roles[pc] > ROLE_CHORD_TONE ? 1U << pc : 0U);
  }
  if (n > 0) {
    const Phrase* const phrase = frame->request->call;
    const Tick          turn   = phrase->end_tick > phrase->start_tick
                                   ? phrase->end_tick - phrase->start_tick
                                   : frame->end - frame->start;
    const Tick          at     = source->ticks[n - 1];
    const RoleRow       row    = *frame_roles(frame, phrase->start_tick + at);
    const unsigned      last   = source->pitches[n - 1] % N_PITCH_CLASSES;
    call->is_open              = last != row.root && last != frame->tonic;
    call->room                 = turn - at - source->lengths[n - 1];
    call->per_bar              = n * (double)frame->bar / (double)turn;
  }
  find_cells(call, frame);
  if (call->n_cells == 0) {
    take_own_cells(call, frame); // What it says again still counts
  }
}

void
prompt_take_own(Prompt* const call, const Frame* const frame)
{
  take_own_cells(call, frame);
  call->is_riff = false;
}

const Cell*
prompt_choose_cell(const Prompt* const call,
                   const Tick          longest,
                   const unsigned      most,
                   Rng* const          rng)
{
  float weights[CELL_CAPACITY];
  float total = 0.0F;
  for (unsigned i = 0; i < call->n_cells; ++i) {
    const Cell* const cell = &call->cells[i];
    const bool fits = prompt_span(cell) <= longest && cell->n_notes <= most;
    weights[i]      = fits ? call->weights[i] : 0.0F;
    total += weights[i];
  }
  return &call->cells[rng_pick(
    rng, total > 0.0F ? weights : call->weights, call->n_cells)];
}
