/// @file core/files/file.h Whole files: read at once, and written so that no
/// half of one ever stands in the place of a good one.
///
/// Threads: any; a FileSaving belongs to one.

#ifndef CORE_FILES_FILE_H
#define CORE_FILES_FILE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { FILE_PATH_CAPACITY = 1024 };

/// Who may read a new file.
typedef enum {
  FILE_OPEN,    ///< Everybody, as far as the umask lets them
  FILE_PRIVATE, ///< Its owner alone: what is about a person
} FilePrivacy;

/// A file being written beside its place.
typedef struct {
  FILE* stream; ///< To write to
  int   error;  ///< Of the first write that failed, where its writer looked
  char  path[FILE_PATH_CAPACITY];
  char  part[FILE_PATH_CAPACITY]; ///< Empty if the place is no plain file
} FileSaving;

/**
   Begin to write a file.

   What is there under the path stays until file_end(). A path that is there and
   no plain file (a device, a pipe) is written to as it is; a symbolic link
   stays, and what it names is replaced.

   @param[out] saving Written on success; give it to file_end() or
   file_abandon().
   @return STATUS_OK, or STATUS_SYSTEM with the fault written.
*/
MUST_USE Status
file_begin(FileSaving* saving,
           const char* path,
           FilePrivacy privacy,
           Fault*      fault);

/**
   Put what was written in its place, once it is on the disk.

   @return STATUS_OK; STATUS_SYSTEM with the fault written, and what was there
   before is there still.
*/
MUST_USE Status
file_end(FileSaving* saving, Fault* fault);

/// Leave everything as it was.
void
file_abandon(FileSaving* saving);

/// Write a file of `size` bytes, as file_begin() and file_end() do.
MUST_USE Status
file_save(const char* path,
          const void* bytes,
          size_t      size,
          FilePrivacy privacy,
          Fault*      fault);

/**
   Read a whole file; a NUL is put behind it.

   @param most The most bytes it may have.
   @param[out] bytes Owned by the caller: free(). Written on success only.
   @return STATUS_OK; STATUS_MISSING if there is none, STATUS_RANGE if it is a
   directory or the like, STATUS_FULL if it is larger, STATUS_MEMORY or
   STATUS_SYSTEM, with the fault written.
*/
MUST_USE Status
file_load(const char* path,
          size_t      most,
          char**      bytes,
          size_t*     size,
          Fault*      fault);

/// Fill in what the system refused, and why, by `errno`; return STATUS_SYSTEM.
/// @param file NULL if it is none.
/// @param what `cannot be read`
Status
file_fault(Fault* fault, const char* file, const char* what);

#endif // CORE_FILES_FILE_H
