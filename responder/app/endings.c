#include "responder/app/endings.h"

#include "responder/app/command.h"

#include <stdbool.h>
#include <string.h>
#include <strings.h>

// What people expect behind them, and how it is had
static const struct {
  const char* ending;
  const char* how;
} known[] = {
  {".mid", "--out writes MIDI"},
  {".midi", "--out writes MIDI"},
  {".wav", "--wav writes sound"},
  {".xml", "--musicxml writes notation"},
  {".musicxml", "--musicxml writes notation"},
  {".mxl", "notation is written unpacked, as .musicxml"},
  {".json", "--report writes JSON"},
  {".pdf", "--score engraves"},
  {".svg", "--score engraves"},
  {".png", "--score engraves"},
  {".abc", "--score writes ABC notation"},
  {".csv", "learner export --csv writes tables"},
  {".mp3", "sound is written as .wav"},
  {".ogg", "sound is written as .wav"},
  {".flac", "sound is written as .wav"},
};

enum { N_KNOWN = sizeof(known) / sizeof(*known) };

// Whether a list as `.mid.midi` has an ending
static bool
has_ending(const char* const list, const char* const ending)
{
  const size_t n = strlen(ending);
  for (const char* at = list; (at = strchr(at, '.')); ++at) {
    if (strncasecmp(at, ending, n) == 0 && (at[n] == '.' || !at[n])) {
      return true;
    }
  }
  return false;
}

int
endings_check(const char* const as,
              const char* const path,
              const char* const what,
              const char* const right)
{
  const char* const slash  = strrchr(path, '/');
  const char* const ending = strrchr(slash ? slash : path, '.');
  if (!ending || has_ending(right, ending)) {
    return EXIT_DONE;
  }
  for (unsigned i = 0; i < N_KNOWN; ++i) {
    if (strcasecmp(ending, known[i].ending) == 0) {
      return command_misuse("%s %.200s: it is to hold %s, not what its name "
                            "says; %s",
                            as,
                            path,
                            what,
                            known[i].how);
    }
  }
  return EXIT_DONE;
}

int
endings_check_all(const Options* const options)
{
  const struct {
    Option      option;
    const char* as;
    const char* path;
    const char* what;
    const char* right;
  } files[] = {
    {OPTION_OUT, "--out", options->out, "MIDI", ".mid.midi.smf"},
    {OPTION_WAV, "--wav", options->wav, "sound", ".wav"},
    {OPTION_REPORT, "--report", options->report, "a report", ".json"},
    {OPTION_MUSICXML,
     "--musicxml",
     options->musicxml,
     "notation as XML",
     ".xml.musicxml"},
    {OPTION_SCORE, "--score", options->score, "a score", ".pdf.svg.png.abc"},
    {OPTION_PICTURE,
     "--picture",
     options->picture,
     "a picture",
     ".svg.pdf.png"},
  };
  int code = EXIT_DONE;
  for (unsigned i = 0; i < sizeof(files) / sizeof(*files) && !code; ++i) {
    if (options_have(options, files[i].option)) {
      code = endings_check(
        files[i].as, files[i].path, files[i].what, files[i].right);
    }
  }
  return code;
}
