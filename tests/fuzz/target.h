/// @file tests/fuzz/target.h What libFuzzer and the replay call.

#ifndef TESTS_FUZZ_TARGET_H
#define TESTS_FUZZ_TARGET_H

#include <stddef.h>
#include <stdint.h>

/// Try one input; abort if an invariant does not hold. Always returns 0.
int
LLVMFuzzerTestOneInput(const uint8_t* data, size_t size);

#endif // TESTS_FUZZ_TARGET_H
