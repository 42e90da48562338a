#include "responder/hear/harmony.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>

enum {
  STEP = 2 ///< The widest step that resolves, in semitones
};

Tick
harmony_chord_tick(const Chart* const chart,
                   const Tick         grid_tick,
                   const Tick         length,
                   const Tick         next_tick)
{
  const Tick change  = chart_next_change(chart, grid_tick);
  const bool is_near = change - grid_tick <= meter_beat_ticks(chart->meter) / 2;
  const bool is_held = grid_tick + length > change && next_tick > change;
  return is_near && is_held ? change : grid_tick;
}

static bool
has_class(const unsigned classes, const unsigned pitch_class)
{
  return classes >> pitch_class & 1U;
}

/// The role in a place without a chord: the scale's tonic stands for a root.
static Role
role_in_scale(const Scale scale, const unsigned pitch)
{
  if (pitch % 12U == spelling_pitch_class(scale.tonic)) {
    return ROLE_ROOT;
  }
  return has_class(scale_pitch_classes(scale), pitch % 12U) ? ROLE_SCALE_TONE
                                                            : ROLE_OUTSIDE;
}

Role
harmony_role(const Chart* const chart,
             const Tick         chord_tick,
             const unsigned     pitch)
{
  const Chord* const chord = chart_chord_at(chart, chord_tick);
  if (chord_is_silence(chord)) {
    return role_in_scale(chart_scale_at(chart, chord_tick), pitch);
  }
  if (chord_has_root(chord, pitch)) {
    return ROLE_ROOT;
  }
  if (chord_has_core_tone(chord, pitch)) {
    return ROLE_CHORD_TONE;
  }
  // A ninth or above that the chord names is colour: at home, without weight
  const unsigned root  = spelling_pitch_class(chord->root);
  const unsigned above = (pitch + 12U - root) % 12U;
  const Scale    scale = chart_scale_at(chart, chord_tick);
  if (has_class(chord->all_mask, above) ||
      has_class(scale_pitch_classes(scale), pitch % 12U)) {
    return ROLE_SCALE_TONE;
  }
  return ROLE_OUTSIDE;
}

static bool
bears_weight(const unsigned role)
{
  return role == ROLE_ROOT || role == ROLE_CHORD_TONE;
}

/// Give a note its chord and role. The last note before a change within half a
/// beat belongs to the chord that comes if it is held into it, or is a tone of
/// that one only.
static void
judge_role(HeardNote* const   heard,
           const Chart* const chart,
           const Tick         next_tick)
{
  const unsigned pitch = heard->note.pitch;
  const Tick     at    = heard->grid_tick;
  const Tick     chord =
    harmony_chord_tick(chart, at, heard->grid_length, next_tick);
  heard->role            = (uint8_t)harmony_role(chart, chord, pitch);
  heard->is_anticipation = chord != at;

  const Tick change = chart_next_change(chart, at);
  if (chord == at && !bears_weight(heard->role) && next_tick >= change &&
      change - at <= meter_beat_ticks(chart->meter) / 2) {
    const Role role = harmony_role(chart, change, pitch);
    if (bears_weight(role)) {
      heard->role            = (uint8_t)role;
      heard->is_anticipation = true;
    }
  }
}

/// Whether a note that bears no weight is led home by the one that follows: a
/// step, within a beat or as soon as it ends.
static bool
is_led(const HeardNote* const heard,
       const HeardNote* const next,
       const Tick             beat_ticks)
{
  const Tick gap = next->grid_tick - heard->grid_tick;
  const Tick most =
    heard->grid_length > beat_ticks ? heard->grid_length : beat_ticks;
  return bears_weight(next->role) && gap <= most &&
         abs(next->note.pitch - heard->note.pitch) <= STEP;
}

void
harmony_judge(Phrase* const phrase, const Chart* const chart)
{
  const Tick       beat_ticks = meter_beat_ticks(chart->meter);
  const HeardNote* next       = NULL; // Of the melody, ornaments left out
  for (unsigned i = phrase->n_notes; i-- > 0;) {
    HeardNote* const heard = &phrase->notes[i];
    judge_role(heard, chart, next ? next->grid_tick : INT64_MAX);
    if (bears_weight(heard->role)) {
      heard->resolution = RESOLUTION_NONE;
    } else {
      heard->resolution = next && is_led(heard, next, beat_ticks)
                            ? RESOLUTION_LED
                            : RESOLUTION_LEFT;
    }
    next = heard->is_ornament ? next : heard;
  }
}
