/// @file core/engrave/child.h Another program, given a text and asked for one.

#ifndef CORE_ENGRAVE_CHILD_H
#define CORE_ENGRAVE_CHILD_H

#include "core/attributes.h"
#include "core/status.h"

#include <stddef.h>

enum { CHILD_OUTPUT = 32 * 1024 * 1024 }; ///< Bytes that a child may print

/**
   Run a program of the PATH: `input` is its standard input, what it prints
   comes back; its standard error is not shown. It inherits nothing else, and is
   ended when it takes longer or prints more than is allowed.

   @param words Its name first, NULL last.
   @param seconds How long it may take.
   @param[out] output Owned by the caller: free(). Written on success only; NUL
   stands behind its `size` bytes.
   @return STATUS_OK; STATUS_MISSING if there is no such program; STATUS_FULL if
   it was ended; STATUS_SYNTAX if it failed by its own word; STATUS_MEMORY;
   STATUS_SYSTEM.
*/
MUST_USE Status
child_run(const char* const* words,
          unsigned           seconds,
          const char*        input,
          size_t             n_input,
          char**             output,
          size_t*            size);

#endif // CORE_ENGRAVE_CHILD_H
