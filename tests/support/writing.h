/// @file tests/support/writing.h A text that grows as it is written.

#ifndef TESTS_SUPPORT_WRITING_H
#define TESTS_SUPPORT_WRITING_H

#include <stddef.h>

typedef struct {
  char*  text;
  size_t capacity;
  size_t n; ///< Bytes so far
} Writing;

/// Write at the end, as printf() does; what has no room is a fault of the test.
__attribute__((format(printf, 2, 3))) void
put(Writing* writing, const char* format, ...);

#endif // TESTS_SUPPORT_WRITING_H
