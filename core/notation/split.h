/// @file core/notation/split.h Lengths as note values that show the beat.
///
/// The rules are those that handbooks of notation agree on (common practice): a
/// note does not hide a stronger beat than the one it begins on, but for the
/// usual syncopations; rests hide none.

#ifndef CORE_NOTATION_SPLIT_H
#define CORE_NOTATION_SPLIT_H

#include "core/music/meter.h"
#include "core/notation/value.h"

/**
   Return where the first note value of a note ends; the rest is tied to it.

   @param start,end Moments from the beginning of the bar, outside of tuplets;
   0 <= start < end <= the bar.
   @return Above `start`, at most `end`; the length up to there is a value.
*/
Moment
split_note(Meter meter, Moment start, Moment end);

/// Return the same for a rest.
Moment
split_rest(Meter meter, Moment start, Moment end);

#endif // CORE_NOTATION_SPLIT_H
