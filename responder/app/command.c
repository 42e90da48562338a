#include "responder/app/command.h"

#include <stdarg.h>
#include <stdio.h>

int
command_fail(const Fault* const fault)
{
  char text[FAULT_TEXT_CAPACITY];
  (void)fprintf(stderr, "barter: %s\n", fault_text(fault, text, sizeof(text)));
  return fault->status == STATUS_SYSTEM || fault->status == STATUS_MEMORY
           ? EXIT_SYSTEM
           : EXIT_USE;
}

int
command_fail_all(const Faults* const faults)
{
  int code = EXIT_USE;
  for (unsigned i = 0; i < faults->n_faults; ++i) {
    code = command_fail(&faults->faults[i]) == EXIT_SYSTEM ? EXIT_SYSTEM : code;
  }
  return code;
}

int
command_misuse(const char* const format, ...)
{
  va_list args;
  va_start(args, format);
  (void)fputs("barter: ", stderr);
  (void)vfprintf(stderr, format, args);
  (void)fputc('\n', stderr);
  va_end(args);
  return EXIT_USE;
}
