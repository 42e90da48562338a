#include "responder/say/frame.h"

#include "core/music/chord.h"
#include "core/music/spelling.h"
#include "responder/hear/hear.h"
#include "responder/say/weights.h"

#include <math.h>
#include <stddef.h>

enum {
  MIDDLE_C           = 60, // Any C: roles repeat at the octave
  TICKS_IN_4_4       = 4 * TICKS_PER_QUARTER,
  FAMILY_THIRD       = 1U, // Or the second or fourth in its place
  FAMILY_FIFTH       = 2U,
  FAMILY_SEVENTH     = 4U, // Or the sixth
  FAMILY_EVERY       = 7U,
  ORNAMENT_MOVE_RUNG = 2,
};

static unsigned
level_of(const Rung rung, const Dimension dimension)
{
  const unsigned level   = rung.level[dimension];
  const unsigned highest = dimension_rungs(dimension);
  return level < 1 ? 1 : level > highest ? highest : level;
}

/// Return the rung one step easier in notes and rhythm.
static Rung
easier(Rung rung)
{
  for (unsigned d = DIMENSION_NOTES; d <= DIMENSION_RHYTHM; ++d) {
    if (rung.level[d] > 1) {
      --rung.level[d];
    }
  }
  return rung;
}

static unsigned
choose_families(const unsigned chord_tones, Rng* const rng)
{
  const double chance = rng_unit(rng);
  switch (chord_tones) {
    case 0:
    case 1:
      return 0;
    case 2:
      return chance < say_weights.second_tone_is_third ? FAMILY_THIRD
                                                       : FAMILY_FIFTH;
    case 3:
      return FAMILY_THIRD | FAMILY_FIFTH;
    default:
      return FAMILY_EVERY;
  }
}

static unsigned
family_of(const unsigned semitones_above_root)
{
  return semitones_above_root >= 9   ? FAMILY_SEVENTH
         : semitones_above_root >= 6 ? FAMILY_FIFTH
                                     : FAMILY_THIRD;
}

static unsigned
count_onsets(const Frame* const frame)
{
  const double bars  = (double)(frame->end - frame->start) / TICKS_IN_4_4;
  const double most  = (double)frame->rhythm->onsets_per_bar * bars;
  const double share = frame->request->treatment == TREAT_ANSWER
                         ? 1.0
                         : (double)say_weights.sparse_onsets;
  const double count = floor(most * share + 1e-4);
  return count < 1.0 ? 1 : (unsigned)count;
}

static void
open_rung(Frame* const frame, const SayRequest* const request)
{
  const Ladder* const ladder = request->ear.ladder;
  const Rung          rung =
    request->treatment == TREAT_SIMPLER || request->treatment == TREAT_FRAGMENTS
               ? easier(request->rung)
               : request->rung;
  frame->rung     = rung;
  frame->notes    = &ladder->notes[level_of(rung, DIMENSION_NOTES) - 1];
  frame->rhythm   = &ladder->rhythm[level_of(rung, DIMENSION_RHYTHM) - 1];
  frame->ornament = &ladder->ornament[level_of(rung, DIMENSION_ORNAMENT) - 1];
  frame->moves    = ladder->shape[level_of(rung, DIMENSION_SHAPE) - 1].moves;
  if (level_of(rung, DIMENSION_ORNAMENT) >= ORNAMENT_MOVE_RUNG) {
    frame->moves |= (MoveSet)(1U << MOVE_ORNAMENT);
  }
}

static RoleRow
make_row(const Frame* const frame, const Tick tick)
{
  const Chord* const chord = chart_chord_at(frame->chart, tick);
  const Scale        scale = chart_scale_at(frame->chart, tick);
  const unsigned     root =
    spelling_pitch_class(chord_is_silence(chord) ? scale.tonic : chord->root);
  const Tick in_bar =
    (tick % frame->bar + frame->bar) % frame->bar; // Scales go by the bar
  const Tick next_bar = tick - in_bar + frame->bar;
  const Tick change   = chart_next_change(frame->chart, tick);

  RoleRow row = {
    .from = tick, .until = change < next_bar ? change : next_bar, .root = root};
  for (unsigned pc = 0; pc < N_PITCH_CLASSES; ++pc) {
    const Role     role = hear_role(frame->chart, tick, MIDDLE_C + pc);
    const unsigned family =
      family_of((pc + N_PITCH_CLASSES - root) % N_PITCH_CLASSES);
    row.roles[pc] = (uint8_t)role;
    row.bears[pc] = role == ROLE_ROOT || (role == ROLE_CHORD_TONE &&
                                          (frame->families & family) != 0);
  }
  return row;
}

void
frame_open(Frame* const frame, const SayRequest* const request, Rng* const rng)
{
  frame->request = request;
  frame->chart   = request->ear.chart;
  frame->meter   = frame->chart->meter;
  frame->beat    = meter_beat_ticks(frame->meter);
  frame->bar     = meter_bar_ticks(frame->meter);
  frame->start   = request->start;
  frame->end     = request->end;
  frame->n_rows  = 0;
  open_rung(frame, request);
  frame->max_onsets       = count_onsets(frame);
  frame->families         = choose_families(frame->notes->chord_tones, rng);
  frame->must_end_on_root = request->ends_chorus;
}

const RoleRow*
frame_roles(Frame* const frame, const Tick chord_tick)
{
  const unsigned n_kept =
    frame->n_rows < ROLE_ROW_CAPACITY ? frame->n_rows : ROLE_ROW_CAPACITY;
  for (unsigned i = 0; i < n_kept; ++i) {
    const RoleRow* const row = &frame->rows[i];
    if (row->from <= chord_tick && chord_tick < row->until) {
      return row;
    }
  }
  RoleRow* const row = &frame->rows[frame->n_rows++ % ROLE_ROW_CAPACITY];
  *row               = make_row(frame, chord_tick);
  return row;
}

Tick
frame_ticks(const Frame* const frame, const double ms)
{
  const double ticks =
    ms * frame->request->ear.tempo_bpm * TICKS_PER_QUARTER / 60000.0;
  return ticks < 1.0 ? 1 : (Tick)ticks;
}

double
frame_ms(const Frame* const frame, const Tick ticks)
{
  return (double)ticks * 60000.0 /
         (frame->request->ear.tempo_bpm * TICKS_PER_QUARTER);
}

Tick
frame_in_beat(const Frame* const frame, const Tick tick)
{
  return (tick % frame->beat + frame->beat) % frame->beat;
}

FramePlace
frame_place(const Frame* const frame, const Tick tick)
{
  const Tick in_beat = frame_in_beat(frame, tick);
  if (in_beat == 0) {
    return meter_weight(frame->meter, tick) >= -1 ? PLACE_STRONG_BEAT
                                                  : PLACE_BEAT;
  }
  return in_beat % TICKS_PER_EIGHTH == 0 ? PLACE_EIGHTH : PLACE_FINER;
}

int
frame_weight(const Frame* const frame, const Tick tick)
{
  return meter_weight(frame->meter, tick);
}
