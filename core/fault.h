/// @file core/fault.h What a loader found wrong, and where.
///
/// Prints as `config/swing.cfg:12: tempo 900 is outside 30..300 bpm`: the
/// place, the value, and what would be right.

#ifndef CORE_FAULT_H
#define CORE_FAULT_H

#include "core/status.h"

#include <stddef.h>

typedef struct {
  Status   status;
  char     file[256]; ///< Empty if the fault lies in no file
  unsigned line;      ///< 1-based; 0 if there is none
  char     text[200];
} Fault;

/// Enough for any fault in print.
enum { FAULT_TEXT_CAPACITY = 512 };

/**
   Fill in a fault; a text too long for it is cut.

   @return `status`, so that a loader can `return fault_set(...)`.
*/
__attribute__((format(printf, 5, 6))) Status
fault_set(Fault*      fault,
          Status      status,
          const char* file,
          unsigned    line,
          const char* format,
          ...);

/// Fill in a fault of a file as a whole; return `status`.
__attribute__((format(printf, 4, 5))) Status
fault_in(Fault*      fault,
         Status      status,
         const char* file,
         const char* format,
         ...);

/// Fill in a fault that lies in no file; return `status`.
__attribute__((format(printf, 3, 4))) Status
fault_say(Fault* fault, Status status, const char* format, ...);

/// Fill in that memory has run out; return STATUS_MEMORY.
Status
fault_memory(Fault* fault, const char* file);

/// Write `FILE:LINE: TEXT` (the parts that there are) and return `buffer`.
const char*
fault_text(const Fault* fault, char* buffer, size_t size);

#endif // CORE_FAULT_H
