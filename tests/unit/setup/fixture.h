/// @file tests/unit/setup/fixture.h A session of the shipped files, and playing
/// made by chance.

#ifndef TESTS_UNIT_SETUP_FIXTURE_H
#define TESTS_UNIT_SETUP_FIXTURE_H

#include "core/rng.h"
#include "responder/session/hearing.h"
#include "responder/setup/setup.h"

#include <stddef.h>

enum { FIXTURE_PATH_CAPACITY = 256 };

/// Look for charts and feels in the shipped folder only, for a person who has
/// no files of their own.
void
fixture_places(void);

/// Return choices that are complete: the blues in fours, two choruses.
Choices
fixture_choices(void);

/// Load them; a fault fails the test.
void
fixture_load(Setup* setup, const Choices* choices);

/**
   Make playing by chance: lines and chords, rests, notes that touch, some that
   begin early. No key is struck while it is down.

   @param keys Room for `most`.
   @return How many, rising by tick; every key that goes down comes up.
*/
size_t
fixture_keys(HeardKey* keys, size_t most, Rng* rng, Tick from, Tick to);

/// Write a path for a file of this test process; the file is not made.
void
fixture_path(char path[FIXTURE_PATH_CAPACITY], const char* name);

#endif // TESTS_UNIT_SETUP_FIXTURE_H
