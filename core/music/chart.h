/// @file core/music/chart.h A form: meter, key, the chords of each bar, scales.
///
/// A chart is read from text (its file is read by the settings room), and goes
/// round for ever: positions before its beginning or after its end wrap.

#ifndef CORE_MUSIC_CHART_H
#define CORE_MUSIC_CHART_H

#include "core/attributes.h"
#include "core/music/chord.h"
#include "core/music/key.h"
#include "core/music/meter.h"
#include "core/music/scale.h"
#include "core/status.h"
#include "core/tick.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
  CHART_TITLE_CAPACITY  = 64,
  CHART_BAR_CAPACITY    = 512,
  CHART_CHANGE_CAPACITY = 1024,
  CHART_FAULT_CAPACITY  = 160,
};

/// A chord and where it begins.
typedef struct {
  Tick  tick;  ///< From the beginning of the form
  Chord chord; ///< Readable, see chord_readable()
  /// Where root and bass stand above the key's tonic, as they were written.
  Interval root;
  Interval bass;
} ChordChange;

/// A chart, about 70 KiB: keep it in place and pass its address.
typedef struct {
  char        title[CHART_TITLE_CAPACITY];
  Meter       meter;
  Key         key;
  unsigned    n_bars;
  unsigned    n_changes;
  ChordChange changes[CHART_CHANGE_CAPACITY];   ///< Rising; each bar begins one
  Scale       scales[CHART_BAR_CAPACITY];       ///< One per bar, readable
  Interval    scale_tonics[CHART_BAR_CAPACITY]; ///< As ChordChange's root
  bool        scale_by_chord[CHART_BAR_CAPACITY]; ///< Ask the chord instead
} Chart;

/**
   Begin a chart of no bars.

   @param title Cut if too long.
*/
void
chart_begin(Chart* chart, const char* title, Meter meter, Key key);

/**
   Add a bar from its text: Roman numerals or chord symbols that share the bar
   evenly, `/` to hold a chord one more beat, `%` for the bar before.

   When there is any `/`, each word is one beat and all the words must fill the
   bar: `Dm7 / / G7`. Beats that cannot be shared evenly go to the first chords:
   three chords in four beats are 2 + 1 + 1, two in three are 2 + 1. `%` stands
   alone in its bar. A new bar asks its chords for the scale.

   @param[out] fault What is wrong and what would be right; written on failure.
   @return STATUS_OK, STATUS_SYNTAX, or STATUS_FULL; the chart is unchanged on
   failure.
*/
MUST_USE Status
chart_add_bar(Chart* chart, const char* text, char fault[CHART_FAULT_CAPACITY]);

/**
   Set the scale of one bar, or of all of them: a kind (`minor blues`, counted
   from the key's tonic), a tonic and a kind (`D dorian`), or `by chord`.

   @param bar 0-based, or CHART_BAR_CAPACITY for every bar there is.
   @return STATUS_OK, or STATUS_SYNTAX; unchanged on failure.
*/
MUST_USE Status
chart_set_scale(Chart* chart, unsigned bar, const char* text);

/// Return the length of the form in ticks.
Tick
chart_ticks(const Chart* chart);

/// Return the chord at a tick; lives as long as the chart.
const Chord*
chart_chord_at(const Chart* chart, Tick tick);

/// Return the next tick after `tick` where the chord changes to another one.
/// With a single chord for the whole form, the tick where the form comes round.
Tick
chart_next_change(const Chart* chart, Tick tick);

/// Return the scale at a tick, asked from the chord where the bar says so;
/// where no chord sounds, that is the key's own.
Scale
chart_scale_at(const Chart* chart, Tick tick);

/// Spell a pitch at a tick: as the chord or its bass has it, else the scale if
/// that takes no double accidental, else the key.
Spelling
chart_spell(const Chart* chart, Tick tick, unsigned pitch);

enum { CHART_NOTHING = 128 }; // In place of a pitch: none follows

/**
   Spell a note of a line as chord, scale and key have it.

   A note of none of these that leads by a semitone to the next one takes the
   letter beside it: D# up to E, Eb down to D; but B down to Bb stays one, not
   Cb. There are no double accidentals.

   @param next Pitch of the note after it, or CHART_NOTHING.
*/
Spelling
chart_spell_leading(const Chart* chart,
                    Tick         tick,
                    unsigned     pitch,
                    unsigned     next);

/**
   Move a chart to another key, chords and scales with it.

   Only the tonic counts: a minor chart stays minor. A key of more than seven
   accidentals becomes the one that sounds the same (key_readable()). Chords and
   scales stay readable, and moving on from key to key changes no spelling: back
   home everything is as it was.
*/
void
chart_transpose(Chart* chart, Spelling tonic);

/**
   Open room in a chart: after every `bars` bars stand the same bars again, so
   that an answer sounds over the same chords as its call.

   A last group of fewer bars is doubled as it is.

   @param bars 1 or more.
   @return STATUS_OK, or STATUS_FULL with the chart unchanged.
*/
MUST_USE Status
chart_make_room(Chart* chart, unsigned bars);

/**
   Make a chart of some bars of another, going round after its end.

   @param[out] part Not the chart itself.
   @param first 0-based, of any chorus.
   @param n_bars 1..CHART_BAR_CAPACITY
   @return STATUS_OK, or STATUS_FULL with `part` unfinished.
*/
MUST_USE Status
chart_part(Chart* part, const Chart* chart, unsigned first, unsigned n_bars);

#endif // CORE_MUSIC_CHART_H
