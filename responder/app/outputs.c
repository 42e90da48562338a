#include "responder/app/outputs.h"

#include "responder/app/command.h"

#include <string.h>
#include <sys/stat.h>

enum { N_OUTPUTS = 4 };

typedef struct {
  const char* option;
  const char* path; ///< NULL if it was not given
} Output;

// A file goes by several names: by links, by ./ before it
static bool
is_same(const char* const a, const char* const b)
{
  struct stat about_a;
  struct stat about_b;
  if (stat(a, &about_a) || stat(b, &about_b)) {
    return strcmp(a, b) == 0;
  }
  return S_ISREG(about_a.st_mode) && about_a.st_dev == about_b.st_dev &&
         about_a.st_ino == about_b.st_ino;
}

static int
is_apart(const Output* const output,
         const char* const   source,
         const Output* const others,
         const unsigned      n_others)
{
  if (source && is_same(output->path, source)) {
    return command_misuse("%s %s would take the place of what was played; "
                          "name another file",
                          output->option,
                          output->path);
  }
  for (unsigned i = 0; i < n_others; ++i) {
    if (others[i].path && is_same(output->path, others[i].path)) {
      return command_misuse("%s and %s name one file, %s; name two",
                            others[i].option,
                            output->option,
                            output->path);
    }
  }
  return EXIT_DONE;
}

int
outputs_apart(const char* const source, const Options* const options)
{
  const bool reports =
    options_have(options, OPTION_REPORT) && strcmp(options->report, "-") != 0;
  const Output outputs[N_OUTPUTS] = {
    {"--out", options_have(options, OPTION_OUT) ? options->out : NULL},
    {"--wav", options_have(options, OPTION_WAV) ? options->wav : NULL},
    {"--report", reports ? options->report : NULL},
    {"--musicxml",
     options_have(options, OPTION_MUSICXML) ? options->musicxml : NULL},
  };
  int code = EXIT_DONE;
  for (unsigned i = 0; i < N_OUTPUTS && !code; ++i) {
    code =
      outputs[i].path ? is_apart(&outputs[i], source, outputs, i) : EXIT_DONE;
  }
  return code;
}
