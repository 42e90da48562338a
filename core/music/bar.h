/// @file core/music/bar.h The text of one bar of a chart, read.

#ifndef CORE_MUSIC_BAR_H
#define CORE_MUSIC_BAR_H

#include "core/attributes.h"
#include "core/music/chart.h"
#include "core/music/chord.h"
#include "core/music/key.h"
#include "core/music/meter.h"
#include "core/status.h"

#include <stdbool.h>

/// The chords of a bar and how many beats each has.
typedef struct {
  unsigned n_chords;
  Chord    chords[METER_BEATS_PER_BAR_MAX];
  unsigned beats[METER_BEATS_PER_BAR_MAX];
} Bar;

/// Whether a text says to play the bar before again: `%`, alone.
bool
bar_is_repeat(const char* text);

/**
   Read a bar that is no repeat, by the rules of chart_add_bar().

   @param[out] bar Written on success only.
   @param key What numerals are counted from.
   @param n_beats Beats in the bar, 1..METER_BEATS_PER_BAR_MAX.
   @param[out] fault What is wrong and what would be right; written on failure.
   @return STATUS_OK or STATUS_SYNTAX.
*/
MUST_USE Status
bar_read(Bar*        bar,
         Key         key,
         unsigned    n_beats,
         const char* text,
         char        fault[CHART_FAULT_CAPACITY]);

#endif // CORE_MUSIC_BAR_H
