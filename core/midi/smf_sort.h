/// @file core/midi/smf_sort.h Sort what the tracks of a file have left in one
/// list: a few runs, each in order of time.

#ifndef CORE_MIDI_SMF_SORT_H
#define CORE_MIDI_SMF_SORT_H

#include <stddef.h>

enum { SMF_RECORD_SIZE = 16 };

/**
   Sort records by tick, equals in the order they have.

   @param records Each of SMF_RECORD_SIZE bytes that begin with a Tick.
   @param room For `n / 2` records.
*/
void
smf_sort(void* records, size_t n, void* room);

#endif // CORE_MIDI_SMF_SORT_H
