#include "responder/hear/roles.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

enum {
  STEP = 2, ///< The widest step that resolves, in semitones
  // Semitones above the root
  NINTH       = 2,
  MAJOR_THIRD = 4,
  SIXTH       = 9,
  SEVENTH     = 10,
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

static unsigned
above_root(const Chord* const chord, const unsigned pitch)
{
  return (pitch % 12U + 12U - spelling_pitch_class(chord->root)) % 12U;
}

/// Whether a chord is a dominant seventh of a blues.
static bool
is_blues_dominant(const Chart* const chart,
                  const Chord* const chord,
                  const Tick         tick)
{
  return !chord_is_silence(chord) && has_class(chord->all_mask, MAJOR_THIRD) &&
         has_class(chord->all_mask, SEVENTH) &&
         strstr(scale_kind_name(chart_scale_at(chart, tick).kind), "blues");
}

/// Whether a pitch is the sixth or ninth of a blues dominant that has no other:
/// colour of the blues palette, though its scale may be without (common
/// practice, no source).
static bool
is_blues_colour(const Chart* const chart,
                const Chord* const chord,
                const Tick         tick,
                const unsigned     pitch)
{
  const unsigned above    = above_root(chord, pitch);
  const bool     is_sixth = above == SIXTH && !has_class(chord->all_mask, 8);
  const bool     is_ninth = above == NINTH && !has_class(chord->all_mask, 1) &&
                        !has_class(chord->all_mask, 3);
  return (is_sixth || is_ninth) && is_blues_dominant(chart, chord, tick);
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
  return (!chord_is_silence(chord) &&
          has_class(chord->all_mask, above_root(chord, pitch))) ||
         is_blues_colour(chart, chord, tick, pitch) ||
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
/// beat belongs to the chord that comes if it is a tone of that one only, or is
/// held into it; but one at home there and outside the next is only held over.
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
  const bool is_held   = at + heard->grid_length > change && next_tick > change;
  const Role coming    = role_at(chart, change, pitch, at_hand);
  const bool is_pushed = !bears_weight(now) && bears_weight(coming);
  const bool is_over   = now != ROLE_OUTSIDE && coming == ROLE_OUTSIDE;
  if (is_pushed || (is_held && !is_over)) {
    heard->role            = (uint8_t)coming;
    heard->is_anticipation = true;
  }
}

/// Whether a note is the sixth of a blues that goes up to the root: its classic
/// ending.
static bool
is_sixth_to_root(const Chart* const     chart,
                 const HeardNote* const heard,
                 const HeardNote* const next)
{
  const Tick         tick  = heard_note_chord_tick(heard, chart);
  const Chord* const chord = chart_chord_at(chart, tick);
  return next->role == ROLE_ROOT &&
         next->note.pitch == heard->note.pitch + 12 - SIXTH &&
         is_blues_dominant(chart, chord, tick) &&
         above_root(chord, heard->note.pitch) == SIXTH;
}

/// Whether a note that bears no weight is led home by the one that follows: a
/// step, within a beat or as soon as it ends.
static bool
is_led(const Chart* const     chart,
       const HeardNote* const heard,
       const HeardNote* const next,
       const Tick             beat_ticks)
{
  const Tick gap = next->grid_tick - heard->grid_tick;
  const Tick most =
    heard->grid_length > beat_ticks ? heard->grid_length : beat_ticks;
  return bears_weight(next->role) && gap <= most &&
         (abs(next->note.pitch - heard->note.pitch) <= STEP ||
          is_sixth_to_root(chart, heard, next));
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
      heard->resolution = next && is_led(chart, heard, next, beat_ticks)
                            ? RESOLUTION_LED
                            : RESOLUTION_LEFT;
    }
    next = heard->is_ornament ? next : heard;
  }
}

/// Whether the same note outside came before on the same place of its bar.
static bool
is_said_again(const Phrase* const phrase, const unsigned i, const Tick bar)
{
  const HeardNote* const heard = &phrase->notes[i];
  for (unsigned k = 0; k < i; ++k) {
    const HeardNote* const before = &phrase->notes[k];
    if (before->role == ROLE_OUTSIDE && !before->is_ornament &&
        before->note.pitch == heard->note.pitch &&
        before->grid_tick != heard->grid_tick &&
        (heard->grid_tick - before->grid_tick) % bar == 0) {
      return heard->role == ROLE_OUTSIDE && !heard->is_ornament;
    }
  }
  return false;
}

void
roles_forgive(Phrase* const phrase, const Meter meter)
{
  const Tick bar     = meter_bar_ticks(meter);
  bool       is_end  = true; // No note of the phrase at hand has come yet
  bool       is_root = false;
  for (unsigned i = phrase->n_notes; i-- > 0;) {
    HeardNote* const heard = &phrase->notes[i];
    if (is_end && !heard->is_ornament) {
      is_root = heard->role == ROLE_ROOT;
      is_end  = false;
    }
    if (heard->resolution == RESOLUTION_LEFT) {
      heard->resolution = is_root                         ? RESOLUTION_LANDED
                          : is_said_again(phrase, i, bar) ? RESOLUTION_AGAIN
                                                          : RESOLUTION_LEFT;
    }
    is_end = is_end || heard->begins_phrase;
  }
}
