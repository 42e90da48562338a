#include "responder/app/outputs.h"

#include "core/files/file.h"
#include "core/settings/places.h"
#include "core/sound/soundfont.h"
#include "responder/app/command.h"
#include "responder/app/endings.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { N_OUTPUTS = 6 };

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
check_apart(const Output* const output,
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

// The files that are asked for, by kind
static void
list_outputs(Output outputs[N_OUTPUTS], const Options* const options)
{
  const bool reports =
    options_have(options, OPTION_REPORT) && strcmp(options->report, "-") != 0;
  const Output all[N_OUTPUTS] = {
    {"--out", options_have(options, OPTION_OUT) ? options->out : NULL},
    {"--wav", options_have(options, OPTION_WAV) ? options->wav : NULL},
    {"--report", reports ? options->report : NULL},
    {"--musicxml",
     options_have(options, OPTION_MUSICXML) ? options->musicxml : NULL},
    {"--score", options_have(options, OPTION_SCORE) ? options->score : NULL},
    {"--picture",
     options_have(options, OPTION_PICTURE) ? options->picture : NULL},
  };
  memcpy(outputs, all, sizeof(all));
}

static int
check_all_apart(const char* const source, const Options* const options)
{
  Output outputs[N_OUTPUTS];
  int    code = EXIT_DONE;
  list_outputs(outputs, options);
  for (unsigned i = 0; i < N_OUTPUTS && !code; ++i) {
    code = outputs[i].path ? check_apart(&outputs[i], source, outputs, i)
                           : EXIT_DONE;
  }
  return code ? code : endings_check_all(options);
}

static int
check_folder(const char* const path)
{
  const char* const slash = strrchr(path, '/');
  char              folder[PLACE_PATH_CAPACITY];
  struct stat       about;
  Fault             fault;
  if (!slash || slash == path) {
    return EXIT_DONE;
  }
  (void)snprintf(folder, sizeof(folder), "%.*s", (int)(slash - path), path);
  if (stat(folder, &about) == 0) {
    return EXIT_DONE;
  }
  (void)file_fault(&fault, path, "cannot be written");
  return command_fail(&fault);
}

/// Make sure that every file has a folder to lie in, and sound a sound font.
static int
check_places(const Options* const options)
{
  char   path[SOUNDFONT_PATH_CAPACITY];
  Output outputs[N_OUTPUTS];
  Fault  fault;
  int    code = EXIT_DONE;
  list_outputs(outputs, options);
  for (unsigned i = 0; i < N_OUTPUTS && !code; ++i) {
    code = outputs[i].path ? check_folder(outputs[i].path) : EXIT_DONE;
  }
  if (!code && options_have(options, OPTION_WAV) &&
      options_have(options, OPTION_SOUNDFONT) &&
      soundfont_find((SoundFont){options->soundfont, ""}, path, &fault)) {
    code = command_fail(&fault);
  }
  return code;
}

int
outputs_check(const char* const    source,
              const Options* const options,
              const OptionSet      made)
{
  const int apart = check_all_apart(source, options);
  Options   rest  = *options;
  rest.given &= ~made;
  return apart ? apart : check_places(&rest);
}

FILE*
outputs_stream(const Options* const options)
{
  return options_have(options, OPTION_REPORT) &&
             strcmp(options->report, "-") == 0
           ? stderr
           : stdout;
}

static Status
write_to_standard_output(const char* const text, Fault* const fault)
{
  return fputs(text, stdout) >= 0 && fputc('\n', stdout) >= 0 &&
             fflush(stdout) == 0
           ? STATUS_OK
           : file_fault(
               fault, NULL, "the report cannot be written to standard output");
}

Status
outputs_report(char* const       text,
               const char* const path,
               const FilePrivacy privacy,
               Fault* const      fault)
{
  if (!text) {
    return fault_say(fault, STATUS_MEMORY, "there is no memory for the report");
  }
  const Status status = strcmp(path, "-") == 0
                          ? write_to_standard_output(text, fault)
                          : file_save(path, text, strlen(text), privacy, fault);
  free(text);
  return status;
}

bool
outputs_show(void* const nothing, const double done)
{
  (void)nothing;
  if (isatty(STDERR_FILENO)) {
    (void)fprintf(
      stderr, done < 1.0 ? "\r%3.0f %%" : "\r     \r", 100.0 * done);
  }
  return true;
}
