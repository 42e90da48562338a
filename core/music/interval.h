/// @file core/music/interval.h The step from one written note to another.

#ifndef CORE_MUSIC_INTERVAL_H
#define CORE_MUSIC_INTERVAL_H

#include <stddef.h>
#include <stdint.h>

/// An upward interval. {3, 3} is a minor third, {2, 3} an augmented second.
typedef struct {
  uint8_t number;    ///< 1 unison, 2 second ... 13 thirteenth
  int8_t  semitones; ///< -1 (a diminished unison) .. 22
} Interval;

/// Return the semitones of the major or perfect interval of a number (1 or
/// more): 4 for a third, 14 for a ninth.
int
interval_major(unsigned number);

/// Return which way so many semitones go: -1 down, 1 up, 0 nowhere.
static inline int
interval_way(const int semitones)
{
  return (semitones > 0) - (semitones < 0);
}

#endif // CORE_MUSIC_INTERVAL_H
