/// @file tests/bench/said_words.h Whether what is said of an answer is true of
/// its notes, by interval and onset arithmetic.

#ifndef TESTS_BENCH_SAID_WORDS_H
#define TESTS_BENCH_SAID_WORDS_H

#include "said.h"

/// How many sentences can be judged.
enum { N_WORDS = 20 };

/// Return which sentence an answer was given; N_WORDS if it is none of those.
unsigned
words_find(const Said* answer);

/// Return some words of a sentence.
const char*
words_name(unsigned words);

/// Whether a sentence is true of a call and its answer.
bool
words_are_true(unsigned words, const Pair* pair);

#endif // TESTS_BENCH_SAID_WORDS_H
