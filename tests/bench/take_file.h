/// @file tests/bench/take_file.h A take that a bench made, as a MIDI file.

#ifndef TESTS_BENCH_TAKE_FILE_H
#define TESTS_BENCH_TAKE_FILE_H

#include "core/midi/smf.h"

#include <jansson.h>

#include <stdbool.h>
#include <stddef.h>

/// Write a take of one player; false, told on standard error, if it fails.
bool
take_write(const char*    path,
           const SmfNote* notes,
           size_t         n_notes,
           double         tempo_bpm);

/// Copy the notes of a four and of what its player did next, out of an object
/// of fours.json; return how many.
size_t
take_four(SmfNote* notes, size_t most, const json_t* four);

#endif // TESTS_BENCH_TAKE_FILE_H
