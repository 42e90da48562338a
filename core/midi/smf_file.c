#include "core/midi/smf_file.h"

#include "core/midi/smf_memory.h"

#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static Status
system_fault(Fault* const      fault,
             const char* const path,
             const char* const what,
             const int         error)
{
  return fault_set(
    fault, STATUS_SYSTEM, path, 0, "%s: %s", what, strerror(error));
}

// Look before opening: to open a pipe would wait for its writer.
static Status
file_size(const char* const path, size_t* const size, Fault* const fault)
{
  struct stat about;
  if (stat(path, &about)) {
    return errno == ENOENT || errno == ENOTDIR
             ? fault_set(
                 fault, STATUS_MISSING, path, 0, "there is no such file")
             : system_fault(fault, path, "cannot be looked at", errno);
  }
  if (!S_ISREG(about.st_mode)) {
    return fault_set(fault,
                     STATUS_RANGE,
                     path,
                     0,
                     "is %s; a MIDI file would be right",
                     S_ISDIR(about.st_mode) ? "a directory" : "no plain file");
  }
  if (about.st_size <= 0) {
    return fault_set(
      fault, STATUS_RANGE, path, 0, "is empty; a MIDI file would be right");
  }
  if ((uintmax_t)about.st_size > SMF_FILE_LIMIT) {
    return fault_set(fault,
                     STATUS_RANGE,
                     path,
                     0,
                     "has %jd bytes; %zu are the most that is read",
                     (intmax_t)about.st_size,
                     SMF_FILE_LIMIT);
  }
  *size = (size_t)about.st_size;
  return STATUS_OK;
}

static Status
read_bytes(const char* const path,
           uint8_t* const    bytes,
           size_t* const     size,
           Fault* const      fault)
{
  FILE* const file = fopen(path, "rb");
  if (!file) {
    return system_fault(fault, path, "cannot be opened", errno);
  }

  const size_t n      = fread(bytes, 1, *size, file);
  const bool   failed = ferror(file) != 0;
  const int    error  = errno;
  (void)fclose(file);
  if (failed || !n) {
    return system_fault(fault, path, "cannot be read", failed ? error : EIO);
  }
  *size = n; // Fewer if it has shrunk meanwhile
  return STATUS_OK;
}

Status
smf_file_read(const char* const path,
              uint8_t** const   bytes,
              size_t* const     size,
              Fault* const      fault)
{
  size_t       n     = 0;
  const Status found = file_size(path, &n, fault);
  if (found) {
    return found;
  }

  uint8_t* const memory = smf_memory(n);
  if (!memory) {
    return fault_set(
      fault, STATUS_MEMORY, path, 0, "no memory for its %zu bytes", n);
  }

  const Status status = read_bytes(path, memory, &n, fault);
  if (status) {
    free(memory);
    return status;
  }
  *bytes = memory;
  *size  = n;
  return STATUS_OK;
}
