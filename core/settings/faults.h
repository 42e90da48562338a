/// @file core/settings/faults.h All that is wrong with a file, not just the
/// first of it.

#ifndef CORE_SETTINGS_FAULTS_H
#define CORE_SETTINGS_FAULTS_H

#include "core/fault.h"
#include "core/status.h"

#include <stdarg.h>

enum { FAULTS_CAPACITY = 32 };

/// A list of faults; a zeroed one is empty. About 16 KiB.
typedef struct {
  unsigned n_faults;
  unsigned n_lost; ///< Found when the list was full
  Fault    faults[FAULTS_CAPACITY];
} Faults;

/**
   Note a fault, in front of those of the same file that lie on later lines; a
   full list only counts it.

   @param status Not STATUS_OK.
   @param line 1-based, 0 if the fault lies on no line.
   @param format As for printf(): what is wrong; what would be right.
   @return `status`, so that a loader can `return faults_add(...)`.
*/
__attribute__((format(printf, 5, 6))) Status
faults_add(Faults*     faults,
           Status      status,
           const char* file,
           unsigned    line,
           const char* format,
           ...);

/// As faults_add(), with the arguments already gathered.
__attribute__((format(printf, 5, 0))) Status
faults_add_list(Faults*     faults,
                Status      status,
                const char* file,
                unsigned    line,
                const char* format,
                va_list     args);

/// As faults_add(), with a fault found elsewhere.
Status
faults_note(Faults* faults, const Fault* fault);

#endif // CORE_SETTINGS_FAULTS_H
