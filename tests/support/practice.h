/// @file tests/support/practice.h Practice made up by chance, and a folder of
/// its own for a test.

#ifndef TESTS_SUPPORT_PRACTICE_H
#define TESTS_SUPPORT_PRACTICE_H

#include "core/rng.h"
#include "profiles/journal/journal.h"

enum { PRACTICE_PATH_CAPACITY = 512 };

/// Make an empty folder for a test; the program ends if it cannot.
/// @param[out] folder Its path.
void
practice_folder(char folder[PRACTICE_PATH_CAPACITY]);

/// Remove it with all that is in it.
void
practice_remove(const char* folder);

/// Write FOLDER/NAME; return `path`.
const char*
practice_path(char        path[PRACTICE_PATH_CAPACITY],
              const char* folder,
              const char* name);

/// Draw a session whose every field may be anything that is allowed.
JournalSession
practice_session(Rng* rng);

/// Draw a turn whose every field may be anything that is allowed, but its
/// number.
JournalTurn
practice_turn(Rng* rng, int32_t number);

/// Open a journal, or end the program.
Journal*
practice_open(const char* path);

/// Write `n_sessions` with up to `turns_max` turns each.
void
practice_fill(Journal* journal,
              Rng*     rng,
              unsigned n_sessions,
              unsigned turns_max);

#endif // TESTS_SUPPORT_PRACTICE_H
