/// @file core/musicxml/musicxml.h A conversation on paper as MusicXML 4.0 (W3C
/// Community Group Final Report, 2021).
///
/// Two parts and more, each on one staff or two; chord symbols over the first.
/// Off-beats are written even, and swing is said once. libxml2 writes the
/// letters.

#ifndef CORE_MUSICXML_MUSICXML_H
#define CORE_MUSICXML_MUSICXML_H

#include "core/attributes.h"
#include "core/music/chart.h"
#include "core/notation/written.h"
#include "core/status.h"
#include "core/tick.h"

#include <stdbool.h>
#include <stddef.h>

enum { SCORE_STAVES = 2 };

/// Words over a part, at or after the beginning of its first measure.
typedef struct {
  Tick        tick;
  const char* words; ///< UTF-8
} ScoreLabel;

/// One staff; it may be empty.
typedef struct {
  const WrittenNote* notes;
  const Column*      columns; ///< Of written_columns()
  size_t             n_columns;
} ScoreStaff;

typedef struct {
  const char*       name;
  const ScoreLabel* labels; ///< Rising
  size_t            n_labels;
  ScoreStaff        staves[SCORE_STAVES]; ///< The lower one shows if it holds
                                          ///< anything
} ScorePart;

/// What is to be written; everything it points to is the caller's.
typedef struct {
  const char*      title;
  const char*      software;    ///< What writes it: name and version
  const Chart*     chart;       ///< Goes round as often as there are bars
  double           tempo_bpm;   ///< Quarters a minute
  double           swing_ratio; ///< 1: straight
  Tick             pick_up; ///< Before bar 1: whole beats, less than a bar; 0
  unsigned         n_bars;
  bool             marks_choruses; ///< A double bar at the end of each
  const ScorePart* parts;
  unsigned         n_parts;
} Score;

/**
   Write a score.

   Pitches below C0, which the format has no octave for, are written in the
   lowest one.

   @param[out] bytes Owned by the caller: free(). Written on success only.
   @return STATUS_OK or STATUS_MEMORY.
*/
MUST_USE Status
musicxml_bytes(const Score* score, char** bytes, size_t* size);

#endif // CORE_MUSICXML_MUSICXML_H
