#include "responder/hear/roles.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>

enum {
  STEP = 2 ///< The widest step that resolves, in semitones
};

/// The pitch classes of the scale asked for last: notes in a row share one.
typedef struct {
  bool     is_known;
  Scale    scale;
  uint16_t classes;
} ScaleAtHand;

static uint16_t
classes_of(ScaleAtHand* const at_hand, const Scale scale)
{
  if (!at_hand->is_known || at_hand->scale.kind != scale.kind ||
      at_hand->scale.tonic.letter != scale.tonic.letter ||
      at_hand->scale.tonic.alter != scale.tonic.alter) {
    *at_hand = (ScaleAtHand){true, scale, scale_pitch_classes(scale)};
  }
  return at_hand->classes;
}

static bool
has_class(const uint16_t classes, const unsigned pitch_class)
{
  return (unsigned)classes >> pitch_class & 1U;
}

/// Whether a pitch is in the scale, or a ninth or above that the chord names:
/// colour, at home but without weight.
static bool
is_at_home(const Chart* const chart,
           const Chord* const chord,
           const Tick         tick,
           const unsigned     pitch,
           ScaleAtHand* const at_hand)
{
  const unsigned root = spelling_pitch_class(chord->root);
  return (!chord_is_silence(chord) &&
          has_class(chord->all_mask, (pitch % 12U + 12U - root) % 12U)) ||
         has_class(classes_of(at_hand, chart_scale_at(chart, tick)),
                   pitch % 12U);
}

static Role
role_at(const Chart* const chart,
        const Tick         tick,
        const unsigned     pitch,
        ScaleAtHand* const at_hand)
{
  const Chord* const chord = chart_chord_at(chart, tick);
  if (chord_is_silence(chord)) {
    // Without a chord the scale's tonic stands for the root
    const Scale scale = chart_scale_at(chart, tick);
    if (pitch % 12U == spelling_pitch_class(scale.tonic)) {
      return ROLE_ROOT;
    }
  } else if (chord_has_root(chord, pitch)) {
    return ROLE_ROOT;
  } else if (chord_has_core_tone(chord, pitch)) {
    return ROLE_CHORD_TONE;
  }
  return is_at_home(chart, chord, tick, pitch, at_hand) ? ROLE_SCALE_TONE
                                                        : ROLE_OUTSIDE;
}

Tick
roles_chord_tick(const Chart* const chart,
                 const Tick         grid_tick,
                 const Tick         length,
                 const Tick         next_tick)
{
  const Tick change  = chart_next_change(chart, grid_tick);
  const bool is_near = change - grid_tick <= meter_beat_ticks(chart->meter) / 2;
  const bool is_held = grid_tick + length > change && next_tick > change;
  return is_near && is_held ? change : grid_tick;
}

Role
roles_of(const Chart* const chart, const Tick chord_tick, const unsigned pitch)
{
  ScaleAtHand at_hand = {.is_known = false};
  return role_at(chart, chord_tick, pitch, &at_hand);
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
           const Tick         next_tick,
           ScaleAtHand* const at_hand)
{
  const unsigned pitch   = heard->note.pitch;
  const Tick     at      = heard->grid_tick;
  const Tick     change  = chart_next_change(chart, at);
  const Role     now     = role_at(chart, at, pitch, at_hand);
  heard->role            = (uint8_t)now;
  heard->is_anticipation = false;
  if (change - at > meter_beat_ticks(chart->meter) / 2 || next_tick < change) {
    return;
  }
  const bool is_held = at + heard->grid_length > change && next_tick > change;
  const Role coming  = role_at(chart, change, pitch, at_hand);
  if (is_held || (!bears_weight(now) && bears_weight(coming))) {
    heard->role            = (uint8_t)coming;
    heard->is_anticipation = true;
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
roles_judge(Phrase* const phrase, const Chart* const chart)
{
  const Tick       beat_ticks = meter_beat_ticks(chart->meter);
  const HeardNote* next       = NULL; // Of the melody, ornaments left out
  ScaleAtHand      at_hand    = {.is_known = false};
  for (unsigned i = phrase->n_notes; i-- > 0;) {
    HeardNote* const heard = &phrase->notes[i];
    judge_role(heard, chart, next ? next->grid_tick : INT64_MAX, &at_hand);
    heard->resolution = RESOLUTION_NONE;
    if (!bears_weight(heard->role)) {
      heard->resolution = next && is_led(heard, next, beat_ticks)
                            ? RESOLUTION_LED
                            : RESOLUTION_LEFT;
    }
    next = heard->is_ornament ? next : heard;
  }
}
