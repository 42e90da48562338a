// barter-reference TEXT DATE FOLDER: writes the manual's pages and what
// completes the command line into a folder, while building.

#include "responder/app/commands.h"
#include "responder/reference/complete.h"
#include "responder/reference/manual.h"

#include <stdio.h>
#include <stdlib.h>

static FILE*
begin(const char* const folder, const char* const name, const char* const end)
{
  char path[1024];
  (void)snprintf(path, sizeof(path), "%s/%s%s", folder, name, end);
  FILE* const stream = fopen(path, "w");
  if (!stream) {
    perror(path);
    exit(EXIT_FAILURE);
  }
  return stream;
}

static void
finish(FILE* const stream)
{
  const int has_failed = ferror(stream);
  if (fclose(stream) || has_failed) {
    perror("barter-reference");
    exit(EXIT_FAILURE);
  }
}

static void
write_shell(const char* const folder,
            const char* const name,
            void (*const write)(FILE* stream))
{
  FILE* const stream = begin(folder, name, "");
  write(stream);
  finish(stream);
}

int
main(const int argc, char** const argv)
{
  if (argc != 4) {
    (void)fputs("Use: barter-reference TEXT DATE FOLDER\n", stderr);
    return EXIT_FAILURE;
  }
  const ManualEdition edition = {argv[2], BARTER_VERSION};
  const char* const   folder  = argv[3];
  FILE* const         text    = fopen(argv[1], "r");
  FILE* const         program = begin(folder, "barter", ".1");
  if (!text || !manual_program(program, &edition, text)) {
    perror(argv[1]);
    return EXIT_FAILURE;
  }
  finish(program);
  (void)fclose(text);
  for (unsigned i = 0; i < N_COMMANDS; ++i) {
    char name[64];
    (void)snprintf(name, sizeof(name), "barter-%s", commands[i]->name);
    FILE* const page = begin(folder, name, ".1");
    manual_command(page, &edition, commands[i]);
    finish(page);
  }
  write_shell(folder, "barter.bash", complete_bash);
  write_shell(folder, "_barter", complete_zsh);
  write_shell(folder, "barter.fish", complete_fish);
  return EXIT_SUCCESS;
}
