#include "core/settings/faults.h"

#include <stdio.h>
#include <string.h>

/// Return where in the list a fault belongs: faults of a file rise by line.
static unsigned
place_of(const Faults* const faults, const Fault* const fault)
{
  unsigned place = faults->n_faults;
  for (; place > 0; --place) {
    const Fault* const before = &faults->faults[place - 1];
    if (before->line <= fault->line || strcmp(before->file, fault->file) != 0) {
      break;
    }
  }
  return place;
}

Status
faults_add_list(Faults* const     faults,
                const Status      status,
                const char* const file,
                const unsigned    line,
                const char* const format,
                va_list           args)
{
  if (faults->n_faults == FAULTS_CAPACITY) {
    ++faults->n_lost;
    return status;
  }

  Fault fault;
  char  text[sizeof(fault.text)];
  (void)vsnprintf(text, sizeof(text), format, args);
  (void)fault_set(&fault, status, file, line, "%s", text);

  const unsigned place = place_of(faults, &fault);
  memmove(&faults->faults[place + 1],
          &faults->faults[place],
          (faults->n_faults - place) * sizeof(Fault));
  faults->faults[place] = fault;
  ++faults->n_faults;
  return status;
}

Status
faults_add(Faults* const     faults,
           const Status      status,
           const char* const file,
           const unsigned    line,
           const char* const format,
           ...)
{
  va_list args;
  va_start(args, format);
  (void)faults_add_list(faults, status, file, line, format, args);
  va_end(args);
  return status;
}

Status
faults_note(Faults* const faults, const Fault* const fault)
{
  return faults_add(
    faults, fault->status, fault->file, fault->line, "%s", fault->text);
}
