#include "responder/say/frame.h"

#include "core/music/chord.h"
#include "core/music/spelling.h"
#include "responder/hear/hear.h"
#include "responder/say/weights.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

enum {
  MIDDLE_C           = 60, // Any C: roles repeat at the octave
  TICKS_IN_4_4       = 4 * TICKS_PER_QUARTER,
  FAMILY_THIRD       = 1U, // Or the second or fourth in its place
  FAMILY_FIFTH       = 2U,
  FAMILY_SEVENTH     = 4U, // Or the sixth
  FAMILY_EVERY       = 7U,
  ORNAMENT_MOVE_RUNG = 2,
  FEW_TONES          = 2,
  DOMINANT           = 1U << 4 | 1U << 10, ///< Bits of a chord's tones
};

static unsigned
level_of(const Rung rung, const Dimension dimension)
{
  const unsigned level   = rung.level[dimension];
  const unsigned highest = dimension_rungs(dimension);
  return level < 1 ? 1 : level > highest ? highest : level;
}

/// Little of one leaves room for more of the other: with one note or two the
/// rhythm has one rung more than asked.
static unsigned
rhythm_level(const Rung rung, const NotesRung* const notes)
{
  const unsigned asked = level_of(rung, DIMENSION_RHYTHM);
  return notes->chord_tones <= FEW_TONES &&
             asked < dimension_rungs(DIMENSION_RHYTHM)
           ? asked + 1
           : asked;
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
    frame_is_piece(frame) ? easier(request->rung) : request->rung;
  frame->rung     = rung;
  frame->notes    = &ladder->notes[level_of(rung, DIMENSION_NOTES) - 1];
  frame->own      = ladder->rhythm[rhythm_level(rung, frame->notes) - 1];
  frame->rhythm   = &frame->own;
  frame->ornament = &ladder->ornament[level_of(rung, DIMENSION_ORNAMENT) - 1];
  frame->moves    = ladder->shape[level_of(rung, DIMENSION_SHAPE) - 1].moves;
  // No note off the beat without halves of it, no groups across without both
  frame->own.off_beats &= frame->own.eighths || frame->own.sixteenths;
  frame->own.cross_rhythm &= frame->own.off_beats;
  if (level_of(rung, DIMENSION_ORNAMENT) >= ORNAMENT_MOVE_RUNG &&
      frame->ornament->crushed_share > 0.0F) {
    frame->moves |= (MoveSet)(1U << MOVE_ORNAMENT);
  }
}

/// Return the first of some semitones above the root that a chord has, the
/// last of them if none.
static uint8_t
tone_of(const Chord* const chord, const uint8_t* const tones, const unsigned n)
{
  unsigned i = 0;
  while (i + 1 < n && !(chord->core_mask >> tones[i] & 1U)) {
    ++i;
  }
  return tones[i];
}

static void
name_tones(RoleRow* const row, const Chord* const chord)
{
  static const uint8_t thirds[]   = {4, 3, 5, 2, 4};
  static const uint8_t fifths[]   = {7, 6, 8, 7};
  static const uint8_t sevenths[] = {10, 11, 9, 9};
  row->third                      = tone_of(chord, thirds, sizeof(thirds));
  row->fifth                      = tone_of(chord, fifths, sizeof(fifths));
  row->seventh                    = tone_of(chord, sevenths, sizeof(sevenths));
  const bool major                = row->third == 4;
  row->is_dominant                = major && (chord->core_mask >> 10 & 1U);
  row->is_major                   = major && !row->is_dominant;
}

/// Return which guide tones of the answer's first chord the call has.
static unsigned
guides_called(const Frame* const frame)
{
  const Chord* const chord = chart_chord_at(frame->chart, frame->start);
  if (chord_is_silence(chord)) {
    return 0;
  }
  RoleRow row = {.root = (uint8_t)spelling_pitch_class(chord->root)};
  name_tones(&row, chord);
  const unsigned third   = (unsigned)(row.root + row.third) % N_PITCH_CLASSES;
  const unsigned seventh = (unsigned)(row.root + row.seventh) % N_PITCH_CLASSES;
  return (frame->called >> third & 1U ? FAMILY_THIRD : 0U) |
         (frame->called >> seventh & 1U ? FAMILY_SEVENTH : 0U);
}

/// A second tone beside the root is the guide tone that the call has not.
static unsigned
choose_families(const Frame* const frame, Rng* const rng)
{
  const double   chance = rng_unit(rng);
  const unsigned called = guides_called(frame);
  switch (frame->notes->chord_tones) {
    case 0:
    case 1:
      return 0;
    case 2:
      return called == FAMILY_THIRD     ? FAMILY_SEVENTH
             : called == FAMILY_SEVENTH ? FAMILY_THIRD
             : chance < (double)say_weights.second_tone_is_third
               ? FAMILY_THIRD
               : FAMILY_SEVENTH;
    case 3:
      return FAMILY_THIRD | (chance < (double)say_weights.third_tone_is_seventh
                               ? FAMILY_SEVENTH
                               : FAMILY_FIFTH);
    default:
      return FAMILY_EVERY;
  }
}

/// Whether a note above a dominant chord of a blues is of its palette.
static bool
is_blue(const Frame* const frame, const RoleRow* const row, const unsigned pc)
{
  enum { THIRD = 3, FIFTH = 6 };
  const unsigned degree = role_row_degree(row, pc);
  return frame->is_blues && row->is_dominant &&
         (degree == THIRD || degree == FIFTH);
}

/// Return the notes that lead from one tone of a chord to the next: of its own
/// scale and, where all its tones are the key's, of the key.
static unsigned
classes_over(const Frame* const   frame,
             const RoleRow* const row,
             const Chord* const   chord)
{
  const unsigned key   = key_pitch_classes(frame->chart->key);
  unsigned       tones = 0;
  for (unsigned pc = 0; pc < N_PITCH_CLASSES; ++pc) {
    tones |= row->roles[pc] <= ROLE_CHORD_TONE ? 1U << pc : 0U;
  }
  const bool in_key = (tones & ~key) == 0;
  return (in_key ? key : 0U) |
         (chord_is_silence(chord)
            ? key
            : scale_pitch_classes(scale_for_chord(chord)));
}

/// A scale laid over a whole form has notes that are foreign to some of its
/// chords.
static void
find_own(RoleRow* const row, const Frame* const frame, const Chord* const chord)
{
  const unsigned classes = classes_over(frame, row, chord);
  for (unsigned pc = 0; pc < N_PITCH_CLASSES; ++pc) {
    row->own[pc] = classes >> pc & 1U;
    if (row->roles[pc] == ROLE_SCALE_TONE && !row->own[pc] &&
        !is_blue(frame, row, pc)) {
      row->roles[pc]   = ROLE_OUTSIDE;
      row->foreign[pc] = true;
    }
  }
}

static RoleRow
make_row(const Frame* const frame, const Tick tick)
{
  const Chord* const chord = chart_chord_at(frame->chart, tick);
  const Scale        scale = chart_scale_at(frame->chart, tick);
  const unsigned     root =
    spelling_pitch_class(chord_is_silence(chord) ? scale.tonic : chord->root);
  const Tick next_bar = // Scales go by the bar
    tick_floor(tick, frame->bar) + frame->bar;
  const Tick change = chart_next_change(frame->chart, tick);

  RoleRow row = {.from  = tick,
                 .until = change < next_bar ? change : next_bar,
                 .root  = (uint8_t)root};
  name_tones(&row, chord);
  for (unsigned pc = 0; pc < N_PITCH_CLASSES; ++pc) {
    const Role     role = hear_role(frame->chart, tick, MIDDLE_C + pc);
    const unsigned family =
      family_of((pc + N_PITCH_CLASSES - root) % N_PITCH_CLASSES);
    row.roles[pc]    = (uint8_t)role;
    const bool given = (frame->families & family) != 0 ||
                       (frame->families != 0 && frame->called >> pc & 1U);
    row.bears[pc] = role == ROLE_ROOT || (role == ROLE_CHORD_TONE && given);
  }
  find_own(&row, frame, chord);
  return row;
}

/// Whether the form is a blues: its scale says so, or the tonic and the fourth
/// degree both bear dominant sevenths.
static bool
is_blues(const Frame* const frame)
{
  bool one  = false;
  bool four = false;
  for (unsigned i = 0; i < frame->chart->n_changes; ++i) {
    const Chord* const chord    = &frame->chart->changes[i].chord;
    const unsigned     root     = spelling_pitch_class(chord->root);
    const bool         dominant = (chord->core_mask & DOMINANT) == DOMINANT;
    one                         = one || (dominant && root == frame->tonic);
    four = four || (dominant && root == (frame->tonic + 5) % N_PITCH_CLASSES);
  }
  const Scale scale = chart_scale_at(frame->chart, frame->start);
  return (one && four) || strstr(scale_kind_name(scale.kind), "blues") != NULL;
}

/// Return how far the notes rung goes beyond chord tones.
static double
freedom_of(const NotesRung* const notes)
{
  const double most  = say_weights.scale_freest;
  const double scale = say_weights.scale_freedom * (double)notes->scale_share;
  return notes->outside_share > 0.0F ? 1.0 : scale < most ? scale : most;
}

/// Return the pitch classes that the player used: at two tones and more they
/// are given to the partner, too.
static unsigned
classes_called(const SayRequest* const request)
{
  unsigned classes = 0;
  for (unsigned i = 0; i < request->call->n_notes; ++i) {
    const HeardNote* const note = &request->call->notes[i];
    classes |=
      note->is_ornament ? 0U : 1U << note->note.pitch % N_PITCH_CLASSES;
  }
  return classes;
}

/// Lay what the answer may fill: after silence half of the turn and the bar
/// that its last note stands in; after more silence two bars.
static void
lay_stretch(Frame* const frame)
{
  const bool closes = frame->request->ends_piece;
  const Tick last   = closes ? frame->end - frame->bar : frame->end;
  const Tick half   = (last - frame->start) / (2 * frame->bar) * frame->bar;
  const Tick length =
    frame->request->treatment == TREAT_FRAGMENTS || half < frame->bar
      ? frame->bar
      : half;
  frame->from  = frame->start;
  frame->until = frame->end;
  if (!frame_is_piece(frame)) {
    return;
  }
  if (!closes) {
    const Tick until = tick_floor(frame->start, frame->bar) + length;
    frame->until     = tick_least(until + frame->bar, frame->end);
  } else if (last - length > frame->start) {
    frame->from = last - length;
  }
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
  lay_stretch(frame);
  frame->half =
    frame->bar % (2 * frame->beat) == 0 ? frame->bar / 2 : frame->bar;
  frame->off =
    meter_is_compound(frame->meter) ? 2 * frame->beat / 3 : frame->beat / 2;
  frame->tonic    = spelling_pitch_class(frame->chart->key.tonic);
  frame->is_blues = is_blues(frame);
  open_rung(frame, request);
  frame->freedom          = freedom_of(frame->notes);
  frame->max_onsets       = count_onsets(frame);
  frame->called           = classes_called(request);
  frame->families         = choose_families(frame, rng);
  frame->must_end_on_root = request->ends_piece;
  frame->must_end_open    = request->ends_chorus && !request->ends_piece &&
                         frame->notes->chord_tones > 1;
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
  return tick - tick_floor(tick, frame->beat);
}

static bool
has_onset(const Tick* const onsets, const unsigned n, const Tick tick)
{
  unsigned i = 0;
  while (i < n && onsets[i] != tick) {
    ++i;
  }
  return i < n;
}

bool
frame_leans(const Frame* const frame,
            const Tick         tick,
            const Tick* const  onsets,
            const unsigned     n)
{
  const Tick in   = frame_in_beat(frame, tick);
  const Tick beat = tick - in;
  return in != 0 && (!has_onset(onsets, n, beat) ||
                     !has_onset(onsets, n, beat + frame->beat));
}

bool
frame_allows(const Frame* const frame, const Tick tick)
{
  const Tick in       = frame_in_beat(frame, tick);
  const bool compound = meter_is_compound(frame->meter);
  return in == 0 || (frame->rhythm->eighths && in % TICKS_PER_EIGHTH == 0) ||
         (frame->rhythm->triplets && !compound && in * 3 % frame->beat == 0) ||
         (frame->rhythm->sixteenths && in % (TICKS_PER_EIGHTH / 2) == 0);
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
