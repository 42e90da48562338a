/// @file responder/app/command.h What every command is made of.

#ifndef RESPONDER_APP_COMMAND_H
#define RESPONDER_APP_COMMAND_H

#include "core/fault.h"
#include "core/settings/faults.h"
#include "core/status.h"
#include "responder/app/options.h"
#include "responder/lesson/notices.h"

/// Exit statuses.
enum {
  EXIT_DONE   = 0,
  EXIT_NO     = 1, ///< A result that says no
  EXIT_USE    = 2, ///< Wrong use, or bad input
  EXIT_SYSTEM = 3, ///< A device or the system failed
};

typedef struct {
  const char* name;
  const char* operands; ///< `TAKE.mid`; empty if it takes none
  const char* summary;  ///< One line
  const char* words;    ///< What the help says beyond the options
  OptionSet   options;
  int (*run)(const Options* options); ///< Returns the exit status
} Command;

extern const Command command_open;
extern const Command command_trade;
extern const Command command_answer;
extern const Command command_hear;
extern const Command command_ideas;
extern const Command command_calibrate;
extern const Command command_charts;
extern const Command command_ports;
extern const Command command_check;
extern const Command command_settings;
extern const Command command_learner;
extern const Command command_progress;
extern const Command command_warmup;
extern const Command command_sheet;
extern const Command command_demo;

/// Put a ? for each control character, in place; return `words`.
char*
command_one_line(char* words);

/// Print `barter: ` and words on standard error: one line, whatever they hold.
__attribute__((format(printf, 1, 2))) void
command_say(const char* format, ...);

/// Print notices on standard error, a line each.
void
command_notice(const Notices* notices);

/// Print a fault as one line on standard error.
/// @return The exit status for it.
int
command_fail(const Fault* fault);

/// Return the exit status of what ended so; a failure's fault is printed.
int
command_end(Status status, const Fault* fault);

/// Print every fault, one a line; return the exit status for the gravest.
int
command_fail_all(const Faults* faults);

/// Print that there is no memory; return EXIT_SYSTEM.
int
command_fail_memory(void);

/// Print one line on standard error: wrong use; return EXIT_USE.
__attribute__((format(printf, 1, 2))) int
command_misuse(const char* format, ...);

#endif // RESPONDER_APP_COMMAND_H
