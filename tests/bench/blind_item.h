/// @file tests/bench/blind_item.h A call and its answer as a blind reader sees
/// them.

#ifndef TESTS_BENCH_BLIND_ITEM_H
#define TESTS_BENCH_BLIND_ITEM_H

#include <jansson.h>

enum { BLIND_WORDS = 8192 };

typedef struct {
  char text[BLIND_WORDS]; ///< What is read; empty at first
  char key[160];          ///< Who it was
} BlindItem;

/// A member of an object that is an integer, else 0.
long
blind_number(const json_t* object, const char* name);

/// Write the chords of a report's first two turns, the notes of the first, and
/// those of its answer that are given.
void
blind_item_write(BlindItem*    item,
                 const json_t* report,
                 const json_t* answer,
                 const char*   level);

/// The notes of the second of a report's turns that are whole phrases: not what
/// runs on from the first turn, nor what is played up to the last line. The
/// caller releases them.
json_t*
blind_whole_phrases(const json_t* turns);

#endif // TESTS_BENCH_BLIND_ITEM_H
