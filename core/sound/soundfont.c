#include "core/sound/soundfont.h"

#include <errno.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

// Debian has the first two, Arch and Fedora the last.
static const char* const folders[] = {"sounds/sf3", "sounds/sf2", "soundfonts"};

/// A part of a text.
typedef struct {
  const char* at;
  size_t      length;
} Name;

/// Look under one data directory.
static bool
find_under(const Name base, const Name name, char* const path)
{
  for (size_t i = 0; i < sizeof(folders) / sizeof(*folders); ++i) {
    char      tried[SOUNDFONT_PATH_CAPACITY];
    const int n_written = snprintf(tried,
                                   sizeof(tried),
                                   "%.*s/%s/%.*s",
                                   (int)base.length,
                                   base.at,
                                   folders[i],
                                   (int)name.length,
                                   name.at);
    if (n_written < (int)sizeof(tried) && !access(tried, R_OK)) {
      memcpy(path, tried, (size_t)n_written + 1U);
      return true;
    }
  }
  return false;
}

/// Look under each of several data directories, divided by colons.
static bool
find_among(const char* bases, const Name name, char* const path)
{
  while (*bases) {
    const size_t length = strcspn(bases, ":");
    if (length && find_under((Name){bases, length}, name, path)) {
      return true;
    }
    bases += length + (bases[length] == ':');
  }
  return false;
}

/// Look under the user's own data directory.
static bool
find_at_home(const Name name, char* const path)
{
  const char* const data = getenv("XDG_DATA_HOME");
  if (data && *data) {
    return find_under((Name){data, strlen(data)}, name, path);
  }

  const char* const home = getenv("HOME");
  char              base[SOUNDFONT_PATH_CAPACITY];
  const int         length =
    snprintf(base, sizeof(base), "%s/.local/share", home ? home : "");
  return length < (int)sizeof(base) &&
         find_under((Name){base, (size_t)length}, name, path);
}

static uint32_t
u32_of(const unsigned char* const bytes)
{
  return bytes[0] | (uint32_t)bytes[1] << 8 | (uint32_t)bytes[2] << 16 |
         (uint32_t)bytes[3] << 24;
}

// SoundFont Technical Specification 2.04, section 4: "RIFF", the size of what
// follows, "sfbk".
Status
soundfont_check(const char* const path, Fault* const fault)
{
  FILE* const file = fopen(path, "rb");
  if (!file) {
    return fault_in(fault,
                    STATUS_MISSING,
                    path,
                    "cannot be opened (%s); a sound font is a file like "
                    "TimGM6mb.sf2, package timgm6mb-soundfont",
                    strerror(errno));
  }

  unsigned char head[12] = {0};
  const bool    is_font  = fread(head, 1, sizeof(head), file) == 12 &&
                       !memcmp(head, "RIFF", 4) && !memcmp(head + 8, "sfbk", 4);
  const bool is_whole = is_font && !fseek(file, 0, SEEK_END) &&
                        ftell(file) >= (long)u32_of(head + 4) + 8L;
  (void)fclose(file);

  return is_whole ? STATUS_OK
         : is_font
           ? fault_in(fault, STATUS_SYNTAX, path, "the file was cut short")
           : fault_in(fault,
                      STATUS_SYNTAX,
                      path,
                      "not a sound font in the format SoundFont 2");
}

static bool
find_first(const char* names, char* const path)
{
  const char* bases = getenv("XDG_DATA_DIRS");
  if (!bases || !*bases) {
    bases = "/usr/local/share:/usr/share";
  }
  while (*names) {
    const Name name = {names, strcspn(names, ", ")};
    if (name.length &&
        (find_at_home(name, path) || find_among(bases, name, path))) {
      return true;
    }
    names += name.length + (names[name.length] != '\0');
  }
  return false;
}

Status
soundfont_find(const SoundFont font, char* const path, Fault* const fault)
{
  if (!font.path && find_first(font.names, path)) {
    return soundfont_check(path, fault);
  }
  if (!font.path) {
    return fault_say(fault,
                     STATUS_MISSING,
                     "no sound font here of %s; install the package "
                     "musescore-general-soundfont-small or "
                     "timgm6mb-soundfont, or name one with --soundfont FILE",
                     font.names);
  }
  const Status status = soundfont_check(font.path, fault);
  if (!status) {
    (void)snprintf(path, SOUNDFONT_PATH_CAPACITY, "%s", font.path);
  }
  return status;
}
