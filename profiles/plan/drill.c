#include "profiles/plan/drill.h"

#include "profiles/plan/left_hand.h"

// How drills are made; common practice, no source.
static const double onset_chance = 0.6; // Of an eighth or beat that may begin
static const double triplet_chance =
  0.25; // Of a beat, where triplets are known
static const Tick crushed_ticks = 60;

static const DrillRow rows[N_DRILLS] = {
  [DRILL_SCALE_RIGHT] = {.name     = "Scale, right hand",
                         .words    = "Up and down, then from the top; evenly. "
                                     "The figures are fingers, 1 the thumb.",
                         .tells    = DRILL_TELLS_RUN,
                         .is_scale = true},
  [DRILL_SCALE_LEFT]  = {.name     = "Scale, left hand",
                         .words    = "The same below.",
                         .tells    = DRILL_TELLS_RUN,
                         .is_scale = true,
                         .is_left  = true},
  [DRILL_CHORD_TONES] = {.name      = "Chord tones",
                         .words     = "Of each chord of the form in turn.",
                         .tells     = DRILL_TELLS_RUN,
                         .by_rounds = true},
  [DRILL_RHYTHM]      = {.name  = "One note, a rhythm",
                         .words = "The root alone; the rhythm",
                         .tells = DRILL_TELLS_PLACES,
                         .bars  = 1},
  [DRILL_LANDING]     = {.name      = "Landing on a chord tone",
                         .words     = "Let the last note stand: it is a chord "
                                          "tone.",
                         .bars      = 2,
                         .by_rounds = true},
  [DRILL_QUESTION]    = {.name  = "Question and answer",
                         .words = "The same rhythm twice; the second time it "
                                     "ends at home.",
                         .bars  = 2},
  [DRILL_CRUSHED]     = {.name      = "Crushed notes",
                         .words     = "Let the short note fall into the long one.",
                         .bars      = 2,
                         .by_rounds = true},
  [DRILL_LEFT_CHORDS] = {.name      = "Chords, left hand",
                         .words     = "Each chord near the one before; move "
                                      "only the fingers that must.",
                         .tells     = DRILL_TELLS_CHORD,
                         .bars      = 2,
                         .by_rounds = true,
                         .is_left   = true},
};

enum { EIGHTH = TICKS_PER_QUARTER / 2, ONSETS_CAPACITY = 16 };

static const RhythmRung*
rhythm_rung(const DrillRoom* const room)
{
  return &room->ladder->rhythm[room->rhythm - 1];
}

static Tick
bar_ticks(const DrillRoom* const room)
{
  return meter_bar_ticks(room->chart->meter);
}

/// Whoever plays on the beat alone plays scales in quarters.
static Tick
step_ticks(const DrillRoom* const room)
{
  return rhythm_rung(room)->eighths ? EIGHTH : TICKS_PER_QUARTER;
}

/// Return the lowest pitch of a class from a pitch up.
static unsigned
pitch_from(const unsigned lowest, const Spelling spelling)
{
  return lowest + (spelling_pitch_class(spelling) + 12 - lowest % 12) % 12;
}

static void
add(Drill* const   drill,
    const Tick     tick,
    const Tick     length,
    const unsigned pitch,
    const unsigned finger)
{
  if (drill->n_notes < DRILL_CAPACITY && pitch < 128) {
    drill->notes[drill->n_notes++] =
      (DrillNote){tick, length, (uint8_t)pitch, (uint8_t)finger};
  }
}

// Runs

/// Lay out the scale of the form's beginning for an octave.
static unsigned
scale_pitches(const DrillRoom* const room,
              const unsigned         lowest,
              uint8_t                pitches[FINGERING_CAPACITY])
{
  const Scale           scale   = chart_scale_at(room->chart, 0);
  const unsigned        tonic   = pitch_from(lowest, scale.tonic);
  unsigned              n       = 0;
  const Interval* const degrees = scale_degrees(scale.kind, &n);
  for (unsigned i = 0; i < n; ++i) {
    pitches[i] = (uint8_t)(tonic + (unsigned)degrees[i].semitones);
  }
  pitches[n] = (uint8_t)(tonic + 12);
  return n + 1;
}

static unsigned
left_hand_lowest(const DrillRoom* const room)
{
  return room->split >= 24 ? room->split - 24 : 0;
}

/// Lay out a chord's weighty tones for an octave.
static unsigned
chord_pitches(const DrillRoom* const room,
              const Chord* const     chord,
              uint8_t                pitches[FINGERING_CAPACITY])
{
  const unsigned root = pitch_from(room->lowest, chord->root);
  unsigned       n    = 0;
  for (unsigned above = 0; above <= 12; ++above) {
    if (chord_has_core_tone(chord, root + above)) {
      pitches[n++] = (uint8_t)(root + above);
    }
  }
  if (n == 0) { // Without a chord the tonic is home
    pitches[n++] = (uint8_t)pitch_from(room->lowest, room->chart->key.tonic);
  }
  return n;
}

/// Play a run up and down, the top once; by turns from the top.
static void
play_run(Drill* const         drill,
         const uint8_t* const pitches,
         const unsigned       n,
         const Hand           hand,
         const Tick           step,
         const bool           from_top)
{
  uint8_t fingers[FINGERING_CAPACITY];
  fingering_find(hand, pitches, n, fingers);
  for (unsigned i = 0; i < 2 * n - 1; ++i) {
    const unsigned up = i < n ? i : 2 * n - 2 - i;
    const unsigned at = from_top ? n - 1 - up : up;
    add(drill, i * step, step, pitches[at], fingers[at]);
  }
}

static unsigned
bars_of_run(const DrillRoom* const room, const unsigned n)
{
  const Tick bar   = bar_ticks(room);
  const Tick ticks = (Tick)(2 * n - 1) * step_ticks(room);
  return (unsigned)((ticks + bar - 1) / bar);
}

// Chords of the form

static bool
is_among(const Chart* const chart, const unsigned n, const Chord* const chord)
{
  for (unsigned i = 0; i < n; ++i) {
    if (chord_equals(&chart->changes[i].chord, chord)) {
      return true;
    }
  }
  return false;
}

/// Return a chord of the form, each once, then from the beginning again.
static Chord
chord_of_round(const Chart* const chart, const unsigned round)
{
  unsigned different = 0;
  for (unsigned turn = 0; turn < 2; ++turn) {
    unsigned n = 0;
    for (unsigned i = 0; i < chart->n_changes; ++i) {
      const Chord* const chord = &chart->changes[i].chord;
      if (!chord_is_silence(chord) && !is_among(chart, i, chord)) {
        if (turn && n == round % different) {
          return *chord;
        }
        ++n;
      }
    }
    different = n ? n : 1;
  }
  return chart->changes[0].chord;
}

// Rhythms

/// Return how many notes may begin in a bar; at least one.
static unsigned
most_onsets(const DrillRoom* const room)
{
  const double in_four  = (double)rhythm_rung(room)->onsets_per_bar;
  const double quarters = (double)bar_ticks(room) / (double)TICKS_PER_QUARTER;
  const double most     = in_four * quarters / 4.0;
  return most < 1.0               ? 1
         : most > ONSETS_CAPACITY ? ONSETS_CAPACITY
                                  : (unsigned)most;
}

/// Draw a bar of onsets that begins on its first beat and ends in a rest;
/// return how many. A beat of a compound meter is in three by nature.
static unsigned
draw_rhythm(const DrillRoom* const room,
            Rng* const             rng,
            Tick                   onsets[ONSETS_CAPACITY])
{
  const RhythmRung* const rung     = rhythm_rung(room);
  const Meter             meter    = room->chart->meter;
  const bool              compound = meter_is_compound(meter);
  const bool     threes = rung->triplets || (compound && rung->eighths);
  const Tick     beat   = meter_beat_ticks(meter);
  const Tick     off    = compound ? 2 * beat / 3 : beat / 2;
  const unsigned most   = most_onsets(room);
  unsigned       n      = 0;
  for (Tick tick = 0; tick < bar_ticks(room) - beat && n < most; tick += beat) {
    const bool on_beat  = tick == 0 || rng_unit(rng) < onset_chance;
    const bool in_three = threes && rng_unit(rng) < triplet_chance;
    const bool off_beat = rung->eighths && rng_unit(rng) < onset_chance &&
                          (on_beat || rung->off_beats);
    if (on_beat) {
      onsets[n++] = tick;
    }
    if (in_three && on_beat && n + 2 <= most) {
      onsets[n++] = tick + beat / 3;
      onsets[n++] = tick + 2 * beat / 3;
    } else if (off_beat && n < most) {
      onsets[n++] = tick + off;
    }
  }
  return n;
}

static Tick
length_at(const Tick* const onsets, const unsigned n, const unsigned i)
{
  const Tick next = i + 1 < n ? onsets[i + 1] : onsets[i] + EIGHTH;
  return (next - onsets[i]) * 4 / 5;
}

static void
play_rhythm(Drill* const drill, const DrillRoom* const room, Rng* const rng)
{
  Tick           onsets[ONSETS_CAPACITY];
  const unsigned n     = draw_rhythm(room, rng, onsets);
  const unsigned pitch = pitch_from(room->lowest, drill->chord.root);
  for (unsigned i = 0; i < n; ++i) {
    add(drill, onsets[i], length_at(onsets, n, i), pitch, 0);
  }
}

/// Lay out the chord tones that the rung of notes has: the third and the
/// seventh come before the fifth, without which a chord is still known.
static unsigned
known_pitches(const DrillRoom* const room,
              const Chord* const     chord,
              uint8_t                pitches[FINGERING_CAPACITY])
{
  enum { LEAST_FIFTH = 6, MOST_FIFTH = 8, OCTAVE_ABOVE = 12 };
  const unsigned most = room->ladder->notes[room->notes - 1].chord_tones;
  unsigned       n    = chord_pitches(room, chord, pitches);
  if (n > 1 && pitches[n - 1] - pitches[0] == OCTAVE_ABOVE) {
    --n; // The root again
  }
  for (unsigned i = 0; n > most && i < n; ++i) {
    const int above = pitches[i] - pitches[0];
    if (above >= LEAST_FIFTH && above <= MOST_FIFTH) {
      for (unsigned k = i; k + 1 < n; ++k) {
        pitches[k] = pitches[k + 1];
      }
      --n;
    }
  }
  return n < most ? n : most;
}

/// A rhythm on tones of the chord, then again with its end on the root.
static void
play_question(Drill* const drill, const DrillRoom* const room, Rng* const rng)
{
  Tick           onsets[ONSETS_CAPACITY];
  uint8_t        tones[FINGERING_CAPACITY];
  const unsigned n       = draw_rhythm(room, rng, onsets);
  const unsigned n_tones = known_pitches(room, &drill->chord, tones);
  for (unsigned bar = 0; bar < 2; ++bar) {
    for (unsigned i = 0; i < n; ++i) {
      const bool     is_home = bar == 1 && i + 1 == n;
      const unsigned tone    = is_home ? 0 : 1 + (i + bar) % 2;
      add(drill,
          bar * bar_ticks(room) + onsets[i],
          length_at(onsets, n, i),
          tones[tone < n_tones ? tone : 0],
          0);
    }
  }
}

// Landings

/// Up to three tones of the chord that end on one, held; another each round.
static void
play_landing(Drill* const           drill,
             const DrillRoom* const room,
             const unsigned         round)
{
  uint8_t        tones[FINGERING_CAPACITY];
  const unsigned n    = chord_pitches(room, &drill->chord, tones);
  const Tick     beat = meter_beat_ticks(room->chart->meter);
  for (unsigned i = most_onsets(room) < 2 ? 1 : 0; i < 3; ++i) {
    const bool lands = i == 2;
    add(drill,
        lands ? bar_ticks(room) : i * beat,
        lands ? 2 * beat : beat * 4 / 5,
        tones[(round + 2 - i) % n],
        0);
  }
}

static void
play_crushed(Drill* const drill, const DrillRoom* const room)
{
  uint8_t        tones[FINGERING_CAPACITY];
  const unsigned n      = chord_pitches(room, &drill->chord, tones);
  const Tick     beat   = meter_beat_ticks(room->chart->meter);
  const unsigned in_bar = meter_beats_per_bar(room->chart->meter);
  const unsigned most = most_onsets(room) < in_bar ? most_onsets(room) : in_bar;
  for (unsigned i = 0; i < n && i + 1 < 2 * most; ++i) {
    const Tick tick = i / most * bar_ticks(room) + i % most * beat;
    add(drill, tick, crushed_ticks, tones[i] - 1U, 0);
    add(drill, tick + crushed_ticks, beat * 3 / 4, tones[i], 0);
  }
}

/// The chord struck and held, twice.
static void
play_left_chords(Drill* const drill, const DrillRoom* const room)
{
  HandShape          shapes[CHART_CHANGE_CAPACITY];
  const Chart* const chart  = room->chart;
  unsigned           change = 0;
  left_hand_shapes(chart, shapes);
  while (change + 1 < chart->n_changes &&
         !chord_equals(&chart->changes[change].chord, &drill->chord)) {
    ++change;
  }
  const HandShape* const shape = &shapes[change];
  for (unsigned time = 0; time < 2; ++time) {
    for (unsigned i = 0; i < shape->n; ++i) {
      add(drill,
          time * bar_ticks(room),
          bar_ticks(room) - EIGHTH,
          shape->pitches[i],
          shape->fingers[i]);
    }
  }
}

const DrillRow*
drill_row(const DrillKind kind)
{
  return &rows[kind];
}

unsigned
drill_bars(const DrillKind kind, const DrillRoom* const room)
{
  const DrillRow* const row = &rows[kind];
  uint8_t               pitches[FINGERING_CAPACITY];
  return row->bars ? row->bars
         : row->is_scale
           ? bars_of_run(room, scale_pitches(room, room->lowest, pitches))
           : bars_of_run(room, 5);
}

void
drill_make(Drill* const           drill,
           const DrillKind        kind,
           const DrillRoom* const room,
           const unsigned         round,
           Rng* const             rng)
{
  const Tick     step  = step_ticks(room);
  const unsigned chord = rows[kind].by_rounds ? round : 0;
  uint8_t        pitches[FINGERING_CAPACITY];
  unsigned       n = 0;
  *drill           = (Drill){.chord = chord_of_round(room->chart, chord)};
  switch (kind) {
    case DRILL_SCALE_RIGHT:
      n = scale_pitches(room, room->lowest, pitches);
      play_run(drill, pitches, n, HAND_RIGHT, step, round % 2);
      break;
    case DRILL_SCALE_LEFT:
      n = scale_pitches(room, left_hand_lowest(room), pitches);
      play_run(drill, pitches, n, HAND_LEFT, step, round % 2);
      break;
    case DRILL_CHORD_TONES:
      n = chord_pitches(room, &drill->chord, pitches);
      play_run(drill, pitches, n, HAND_RIGHT, step, false);
      break;
    case DRILL_RHYTHM:
      play_rhythm(drill, room, rng);
      break;
    case DRILL_LANDING:
      play_landing(drill, room, round);
      break;
    case DRILL_QUESTION:
      play_question(drill, room, rng);
      break;
    case DRILL_CRUSHED:
      play_crushed(drill, room);
      break;
    case DRILL_LEFT_CHORDS:
      play_left_chords(drill, room);
      break;
  }
}
