/// @file tests/bench/form_print.h Whole conversations over the blues: form,
/// endings, and the band beneath.

#ifndef TESTS_BENCH_FORM_PRINT_H
#define TESTS_BENCH_FORM_PRINT_H

#include "said.h"

/// Hold conversations with the program, and print what they come to; takes are
/// written into a folder. Return whether every must is met.
bool
form_print(Asked asked, const char* folder);

#endif // TESTS_BENCH_FORM_PRINT_H
