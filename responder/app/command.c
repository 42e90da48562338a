#include "responder/app/command.h"

#include "responder/tell/wrap.h"

#include <stdarg.h>
#include <stdio.h>
#include <unistd.h>

enum { LINE_CAPACITY = 1024 };

char*
command_one_line(char* const words)
{
  for (char* at = words; *at; ++at) {
    const unsigned char byte = (unsigned char)*at;
    *at                      = byte < 0x20 || byte == 0x7F ? '?' : *at;
  }
  return words;
}

void
command_say(const char* const format, ...)
{
  char    words[LINE_CAPACITY];
  va_list args;
  va_start(args, format);
  (void)vsnprintf(words, sizeof(words), format, args);
  va_end(args);
  (void)fflush(stdout); // What was told before it stands before it
  (void)command_one_line(words);
  if (isatty(STDERR_FILENO)) {
    Wrap wrap = wrap_begin(stderr, 0, "");
    wrap_piece(&wrap, "barter:");
    wrap_words(&wrap, words);
    wrap_end(&wrap);
  } else {
    (void)fprintf(stderr, "barter: %s\n", words);
  }
}

void
command_notice(const Notices* const notices)
{
  for (unsigned i = 0; i < notices->n; ++i) {
    command_say("%s", notices->lines[i]);
  }
}

int
command_fail(const Fault* const fault)
{
  char text[FAULT_TEXT_CAPACITY];
  command_say("%s", fault_text(fault, text, sizeof(text)));
  return fault->status == STATUS_SYSTEM || fault->status == STATUS_MEMORY
           ? EXIT_SYSTEM
           : EXIT_USE;
}

int
command_end(const Status status, const Fault* const fault)
{
  return status ? command_fail(fault) : EXIT_DONE;
}

int
command_fail_all(const Faults* const faults)
{
  int code = EXIT_USE;
  for (unsigned i = 0; i < faults->n_faults; ++i) {
    code = command_fail(&faults->faults[i]) == EXIT_SYSTEM ? EXIT_SYSTEM : code;
  }
  if (faults->n_lost) {
    command_say("and %u more", faults->n_lost);
  }
  return code;
}

int
command_fail_memory(void)
{
  command_say("%s", status_text(STATUS_MEMORY));
  return EXIT_SYSTEM;
}

int
command_misuse(const char* const format, ...)
{
  char    words[LINE_CAPACITY];
  va_list args;
  va_start(args, format);
  (void)vsnprintf(words, sizeof(words), format, args);
  va_end(args);
  command_say("%s", words);
  return EXIT_USE;
}
