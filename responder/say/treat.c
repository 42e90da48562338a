#include "responder/say/treat.h"

#include "core/music/interval.h"
#include "responder/say/weights.h"

#include <math.h>
#include <stdlib.h>

enum {
  OCTAVE     = 12,
  THIRD_MOST = 4,
  SIZE_SLACK = 2, // Semitones: what the chords may bend an interval by
};

// What a phrase must keep to be called itself; the chords take the remainder
static const double MOSTLY = 0.8;

MoveSet
treat_moves(void)
{
  return (MoveSet)(1U << MOVE_NEW_NOTES | 1U << MOVE_SEQUENCE |
                   1U << MOVE_QUESTION_AND_ANSWER | 1U << MOVE_FRAGMENT |
                   1U << MOVE_TURN_OVER | 1U << MOVE_SHIFT);
}

Planting
treat_planting(const Cell* const  cell,
               const Move         move,
               const Frame* const frame,
               Rng* const         rng)
{
  const CellWeights* const w = &say_weights.cell;
  const float often = frame_is_plain(frame) ? w->twice_plain : w->twice_free;
  const bool  room  = 2 * cell->n_notes < frame->max_onsets &&
                    frame->request->departs_from == NULL; // For what is new
  const bool twice = rng_unit(rng) < (double)often;
  const bool motto = prompt_is_motto(cell, frame);
  const bool riff  = prompt_is_riff(cell) || motto;
  const bool opens = frame->rhythm->off_beats ||
                     frame_in_beat(frame, cell->at) == 0; // No pick-up
  return (Planting){
    .cell = cell,
    .twice =
      (room && (twice || riff)) || (move == MOVE_FRAGMENT && !cell->is_own),
    .at_start  = (motto && opens) || move == MOVE_QUESTION_AND_ANSWER,
    .displaced = move == MOVE_SHIFT,
    .riffed    = riff,
  };
}

/// Return the interval that a move asks for where the cell has one.
static int
interval_of(const Cell* const cell,
            const Move        move,
            const unsigned    plant,
            const unsigned    nth)
{
  const int  interval = cell->intervals[nth];
  const bool is_end   = nth + 1 == cell->n_notes;
  return move == MOVE_TURN_OVER ||
             (move == MOVE_QUESTION_AND_ANSWER && plant == 1 && is_end)
           ? -interval
           : interval;
}

void
treat_wish(Draft* const       draft,
           const Frame* const frame,
           const Cell* const  cell,
           const Move         move)
{
  const CellWeights* const w = &say_weights.cell;
  const float fall  = frame_is_plain(frame) ? w->fall_plain : w->fall_free;
  const bool  motto = prompt_is_motto(cell, frame);
  const bool  comes_back =
    motto && cell->twice &&
    (move == MOVE_FRAGMENT || move == MOVE_QUESTION_AND_ANSWER);
  for (unsigned i = 0; i < draft->n_notes; ++i) {
    DraftNote* const note = &draft->notes[i];
    if (note->plant != NO_PLANT && note->nth == 0 && comes_back) {
      note->pitch      = cell->first_pitch;
      note->pitch_fall = w->riff_pitch;
    }
    if (i > 0 && draft_is_planted_on(note) && !draft_is_said(note) &&
        note[-1].nth + 1 == note->nth) {
      note->interval = (int16_t)interval_of(cell, move, note->plant, note->nth);
      const bool  leaps   = abs(note->interval) > THIRD_MOST;
      const float usual   = move == MOVE_NEW_NOTES ? w->fall_rhythm : fall;
      note->interval_fall = leaps ? fminf(usual, w->fall_leap) : usual;
    }
  }
}

/// Whether a planting goes up and down as the move asks.
static bool
goes_along(const Draft* const   draft,
           const Cell* const    cell,
           const Move           move,
           const unsigned       plant,
           const uint8_t* const line)
{
  for (unsigned i = 1; i < draft->n_notes; ++i) {
    const DraftNote* const note = &draft->notes[i];
    if (note->plant == plant && note->nth > 0 &&
        interval_way(line[i] - line[i - 1]) !=
          interval_way(interval_of(cell, move, plant, note->nth))) {
      return false;
    }
  }
  return true;
}

bool
treat_holds(const Draft* const   draft,
            const Frame* const   frame,
            const Cell* const    cell,
            const Move           move,
            const uint8_t* const line)
{
  const unsigned first = draft_plant_begin(draft, 0);
  const unsigned again = draft_plant_begin(draft, 1);
  bool           along = first < draft->n_notes;
  for (unsigned plant = 0; plant < draft_times_planted(draft); ++plant) {
    along = along && goes_along(draft, cell, move, plant, line);
  }
  switch (move) {
    case MOVE_NEW_NOTES:
      return frame_is_plain(frame) && !frame_is_piece(frame)
               ? along
               : first < draft->n_notes;
    case MOVE_SEQUENCE:
      return along && line[first] % OCTAVE != cell->first_pitch % OCTAVE &&
             (again == draft->n_notes || line[first] != line[again]);
    case MOVE_FRAGMENT:
      return (along || treat_is_rhythm(frame, move)) && again < draft->n_notes;
    case MOVE_QUESTION_AND_ANSWER: {
      const DraftNote* const last = &draft->notes[draft->n_notes - 1];
      return along && first == 0 &&
             line[draft->n_notes - 1] % OCTAVE == last->chord.root;
    }
    case MOVE_SHIFT:
      return along && (draft->notes[first].tick - frame->start - cell->at) %
                          frame->bar !=
                        0;
    default:
      return along;
  }
}

/// Return the place of the source's note at a tick; n_notes if there is none.
static unsigned
place_at(const Source* const source, const Tick tick)
{
  unsigned i = 0;
  while (i < source->n_notes && source->ticks[i] != tick) {
    ++i;
  }
  return i;
}

/// Whether the notes come as far apart as the first ones of the source.
static bool
has_gaps_of(const Draft* const draft, const Source* const source)
{
  bool has = true;
  for (unsigned i = 1; i < draft->n_notes && i < source->n_notes; ++i) {
    has = has && draft->notes[i].tick - draft->notes[i - 1].tick ==
                   source->ticks[i] - source->ticks[i - 1];
  }
  return has;
}

/// Whether the notes are those of the phrase that the words speak of: all but a
/// few at the end, or some of them, each in its place. In a new rhythm only the
/// last may be missing, and one distance at least is another.
static bool
is_of(const Draft* const     draft,
      const Source* const    source,
      const MoveFacts* const facts,
      const Tick             start)
{
  const unsigned n     = draft->n_notes;
  const bool     plain = facts->move == MOVE_REPEAT && facts->is_simplified;
  const bool     whole =
    (facts->move == MOVE_REPEAT && !plain) || facts->move == MOVE_ORNAMENT;
  if (facts->move == MOVE_NEW_RHYTHM) {
    return n <= source->n_notes && n + 1 >= source->n_notes &&
           !has_gaps_of(draft, source);
  }
  for (unsigned i = 0; i < n; ++i) {
    const unsigned place = place_at(source, draft->notes[i].tick - start);
    if ((whole && place != i) ||
        (facts->move == MOVE_THIN_OUT && place == source->n_notes)) {
      return false;
    }
  }
  return !whole || n + 2 >= source->n_notes;
}

bool
treat_keeps_shape(const Draft* const     draft,
                  const Frame* const     frame,
                  const Source* const    source,
                  const MoveFacts* const facts,
                  const uint8_t* const   line)
{
  const bool in_order = facts->move == MOVE_NEW_RHYTHM;
  const int  way      = facts->move == MOVE_TURN_OVER ? -1 : 1;
  const Tick start    = frame->start + facts->shift;
  unsigned   n        = 0;
  unsigned   n_along  = 0;
  unsigned   n_sized  = 0;
  for (unsigned i = 1; i < draft->n_notes; ++i) {
    const Tick     from = draft->notes[i - 1].tick - start;
    const Tick     to   = draft->notes[i].tick - start;
    const unsigned a    = in_order ? i - 1 : place_at(source, from);
    const unsigned b    = in_order ? i : place_at(source, to);
    if (a < source->n_notes && b < source->n_notes) {
      const int asks = way * (source->pitches[b] - source->pitches[a]);
      const int is   = line[i] - line[i - 1];
      ++n;
      n_along += interval_way(is) == interval_way(asks) ? 1 : 0;
      n_sized += abs(abs(is) - abs(asks)) <= SIZE_SLACK ? 1 : 0;
    }
  }
  const bool sized = facts->move != MOVE_SEQUENCE || n_sized >= MOSTLY * n;
  return n_along == n && sized && is_of(draft, source, facts, start);
}
