/// @file core/midi/smf_sort.h Sort what the tracks of a file have left in one
/// list: a few runs, each in order of time.

#ifndef CORE_MIDI_SMF_SORT_H
#define CORE_MIDI_SMF_SORT_H

#include <stdbool.h>
#include <stddef.h>

enum { SMF_RECORD_SIZE = 16 };

/// Return whether records are in order of their ticks.
bool
smf_is_sorted(const void* records, size_t n);

/**
   Sort records by tick, equals in the order they have.

   @param records Each of SMF_RECORD_SIZE bytes that begin with a Tick.
   @param room For `n / 2` records; unused, and may be NULL, if they are sorted.
*/
void
smf_sort(void* records, size_t n, void* room);

#endif // CORE_MIDI_SMF_SORT_H
