#include "core/fault.h"

#include <stdarg.h>
#include <stdio.h>

static Status
fill(Fault* const      fault,
     const Status      status,
     const char* const file,
     const unsigned    line,
     const char* const format,
     va_list           args)
{
  fault->status = status;
  fault->line   = line;
  (void)snprintf(fault->file, sizeof(fault->file), "%s", file ? file : "");
  (void)vsnprintf(fault->text, sizeof(fault->text), format, args);
  return status;
}

Status
fault_set(Fault* const      fault,
          const Status      status,
          const char* const file,
          const unsigned    line,
          const char* const format,
          ...)
{
  va_list args;
  va_start(args, format);
  (void)fill(fault, status, file, line, format, args);
  va_end(args);
  return status;
}

Status
fault_in(Fault* const      fault,
         const Status      status,
         const char* const file,
         const char* const format,
         ...)
{
  va_list args;
  va_start(args, format);
  (void)fill(fault, status, file, 0, format, args);
  va_end(args);
  return status;
}

Status
fault_say(Fault* const      fault,
          const Status      status,
          const char* const format,
          ...)
{
  va_list args;
  va_start(args, format);
  (void)fill(fault, status, NULL, 0, format, args);
  va_end(args);
  return status;
}

Status
fault_memory(Fault* const fault, const char* const file)
{
  return fault_set(
    fault, STATUS_MEMORY, file, 0, "%s", status_text(STATUS_MEMORY));
}

const char*
fault_text(const Fault* const fault, char* const buffer, const size_t size)
{
  if (!fault->file[0]) {
    (void)snprintf(buffer, size, "%s", fault->text);
  } else if (!fault->line) {
    (void)snprintf(buffer, size, "%s: %s", fault->file, fault->text);
  } else {
    (void)snprintf(
      buffer, size, "%s:%u: %s", fault->file, fault->line, fault->text);
  }
  return buffer;
}
