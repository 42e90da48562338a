/// @file profiles/progress/progress.h The way come: days, time, and how the
/// playing changed.
///
/// Plain values, worked out from the sums of the sessions; what day it is
/// today is told.

#ifndef PROFILES_PROGRESS_PROGRESS_H
#define PROFILES_PROGRESS_PROGRESS_H

#include "profiles/journal/journal.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
  PROGRESS_SPANS  = 160, ///< The latest that are kept
  PROGRESS_RECENT = 28,  ///< Days of "lately"
};

/// How far apart two missed days must lie for days to count as in a row.
enum { PROGRESS_GAP_DAYS = 7 };

typedef enum { PROGRESS_DAYS, PROGRESS_WEEKS, PROGRESS_MONTHS } ProgressGrain;

/// Sums over all sessions of a day, week or month in which there was practice.
/// Means are of turns of the player's, and NAN if no turn tells.
typedef struct {
  int32_t  first_day; ///< A week's Monday, a month's first
  unsigned days;      ///< On which there was practice
  unsigned sessions;
  int64_t  length_ms;
  int64_t  turns;
  int64_t  judged;
  double   landed;     ///< Share of targets that were a root or chord tone
  double   success;    ///< Share of the turns that were judged
  double   spread_ms;  ///< Spread about the grid
  double   offset_ms;  ///< Lateness
  double   space;      ///< Share with nothing sounding
  double   swing;      ///< Long to short
  double   complexity; ///< 0..100
  bool     has_stand;
  Rung     rung; ///< At the end; of meaning if has_stand
} ProgressSpan;

typedef struct {
  ProgressGrain grain;
  size_t        n_spans;
  ProgressSpan  spans[PROGRESS_SPANS]; ///< By time
} ProgressSpans;

/// The whole of it. Lately is the last PROGRESS_RECENT days, today among them.
typedef struct {
  int32_t  first_day; ///< Of practice; of meaning if `days`
  int32_t  last_day;
  unsigned sessions;
  unsigned days;           ///< On which there was practice
  unsigned days_this_week; ///< The last seven
  unsigned days_lately;
  unsigned days_in_a_row; ///< Of practice, up to now
  unsigned longest_row;   ///< As many as there ever were
  int64_t  length_ms;
  int64_t  length_ms_this_week;
  int64_t  length_ms_lately;
  int64_t  turns;
} Progress;

/**
   Sum up.

   Days of practice are in a row although one is missed, if the next missed one
   lies PROGRESS_GAP_DAYS or more away; two missed days on end break it. Today
   is not missed before it is over.
*/
Progress
progress_of(const JournalTotals* totals, int32_t today);

/// Sum up span by span; only spans with practice are there, the latest
/// PROGRESS_SPANS of them.
void
progress_spans(ProgressSpans*       spans,
               const JournalTotals* totals,
               ProgressGrain        grain);

/// Return the finest grain in which all there is can be told in so many spans,
/// or months.
ProgressGrain
progress_grain(const Progress* progress, unsigned most);

#endif // PROFILES_PROGRESS_PROGRESS_H
