#include "core/settings/nearest.h"
#include "responder/app/commands.h"

#include <locale.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int
show_help(void)
{
  (void)puts("barter: trade bars with a partner who listens\n\n"
             "Use: barter COMMAND [OPTIONS]\n");
  for (unsigned i = 0; i < N_COMMANDS; ++i) {
    (void)printf("  %-9s %s\n", commands[i]->name, commands[i]->summary);
  }
  (void)puts("\n  barter help COMMAND tells more; barter version the version");
  return EXIT_DONE;
}

static int
show_command_help(const Command* const command)
{
  (void)printf("Use: barter %s%s%s [OPTIONS]\n\n%s\n\n",
               command->name,
               command->operands[0] ? " " : "",
               command->operands,
               command->words);
  options_help(command->options | OPTION_BIT(OPTION_HELP), stdout);
  return EXIT_DONE;
}

static int
unknown_command(const char* const word)
{
  const char* names[N_COMMANDS];
  for (unsigned i = 0; i < N_COMMANDS; ++i) {
    names[i] = commands[i]->name;
  }
  const char* const near = nearest_word(word, names, N_COMMANDS);
  return command_misuse("there is no command %s; %s%s",
                        word,
                        near ? "did you mean " : "barter --help lists them",
                        near ? near : "");
}

static const Command*
find_command(const char* const word)
{
  for (unsigned i = 0; i < N_COMMANDS; ++i) {
    if (strcmp(word, commands[i]->name) == 0) {
      return commands[i];
    }
  }
  return NULL;
}

static int
help_with(const int argc, char** const argv)
{
  if (argc < 3) {
    return show_help();
  }
  if (strcmp(argv[2], "help") == 0 || strcmp(argv[2], "version") == 0) {
    return show_help();
  }
  const Command* const command = find_command(argv[2]);
  return command ? show_command_help(command) : unknown_command(argv[2]);
}

static bool
is_one_of(const char* const word,
          const char* const name,
          const char* const option,
          const char* const letter)
{
  return strcmp(word, name) == 0 || strcmp(word, option) == 0 ||
         strcmp(word, letter) == 0;
}

// What could not be printed is not done
static int
finish(const int code)
{
  const bool is_printed = fflush(stdout) == 0 && !ferror(stdout);
  if (is_printed || code == EXIT_SYSTEM) {
    return code;
  }
  command_say("standard output cannot be written");
  return EXIT_SYSTEM;
}

static int
run_command(const Command* const command, const int argc, char** const argv)
{
  Options options;
  Fault   fault;
  if (options_parse(&options,
                    command->options | OPTION_BIT(OPTION_HELP),
                    argc,
                    argv,
                    &fault)) {
    return command_fail(&fault);
  }
  return options_have(&options, OPTION_HELP) ? show_command_help(command)
                                             : command->run(&options);
}

// Whether there is a screen for a browser
static bool
has_display(void)
{
  const char* const x       = getenv("DISPLAY");
  const char* const wayland = getenv("WAYLAND_DISPLAY");
  return (x && x[0]) || (wayland && wayland[0]);
}

static int
run_words(const int argc, char** const argv)
{
  if (argc < 2 && has_display()) {
    return run_command(&command_open, argc, argv);
  }
  if (argc < 2) {
    (void)show_help();
    return EXIT_USE;
  }
  const char* const word = argv[1];
  if (is_one_of(word, "help", "--help", "-h")) {
    return help_with(argc, argv);
  }
  if (is_one_of(word, "version", "--version", "-V")) {
    (void)puts("barter " BARTER_VERSION "\nbuilt with\n  " BARTER_BUILT_WITH);
    return EXIT_DONE;
  }
  const Command* const command = find_command(word);
  return command ? run_command(command, argc - 1, argv + 1)
                 : unknown_command(word);
}

int
main(int argc, char** argv)
{
  // Names are UTF-8, whatever language the system speaks
  (void)setlocale(LC_CTYPE, "C.UTF-8");
  return finish(run_words(argc, argv));
}
