#include "core/sound/soundfont.h"

#include <errno.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char file_name[] = "TimGM6mb.sf2";

// Debian has the first, Arch and Fedora the second.
static const char* const folders[] = {"sounds/sf2", "soundfonts"};

/// Look under one data directory, the first `length` characters of `base`.
static bool
find_under(const char* const base, const size_t length, char* const path)
{
  for (size_t i = 0; i < sizeof(folders) / sizeof(*folders); ++i) {
    char      tried[SOUNDFONT_PATH_CAPACITY];
    const int n_written = snprintf(tried,
                                   sizeof(tried),
                                   "%.*s/%s/%s",
                                   (int)length,
                                   base,
                                   folders[i],
                                   file_name);
    if (n_written < (int)sizeof(tried) && !access(tried, R_OK)) {
      memcpy(path, tried, (size_t)n_written + 1U);
      return true;
    }
  }
  return false;
}

/// Look under each of several data directories, divided by colons.
static bool
find_among(const char* bases, char* const path)
{
  while (*bases) {
    const size_t length = strcspn(bases, ":");
    if (length && find_under(bases, length, path)) {
      return true;
    }
    bases += length + (bases[length] == ':');
  }
  return false;
}

/// Look under the user's own data directory.
static bool
find_at_home(char* const path)
{
  const char* const data = getenv("XDG_DATA_HOME");
  if (data && *data) {
    return find_under(data, strlen(data), path);
  }

  const char* const home = getenv("HOME");
  char              base[SOUNDFONT_PATH_CAPACITY];
  const int         length =
    snprintf(base, sizeof(base), "%s/.local/share", home ? home : "");
  return length < (int)sizeof(base) && find_under(base, (size_t)length, path);
}

Status
soundfont_find(char* const path, Fault* const fault)
{
  const char* bases = getenv("XDG_DATA_DIRS");
  if (!bases || !*bases) {
    bases = "/usr/local/share:/usr/share";
  }

  if (find_at_home(path) || find_among(bases, path)) {
    return STATUS_OK;
  }
  return fault_set(fault,
                   STATUS_MISSING,
                   file_name,
                   0,
                   "no such sound font here; install the package "
                   "timgm6mb-soundfont or name one with --soundfont FILE.sf2");
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
    return fault_set(fault,
                     STATUS_MISSING,
                     path,
                     0,
                     "cannot be opened (%s); a sound font is a file like %s, "
                     "package timgm6mb-soundfont",
                     strerror(errno),
                     file_name);
  }

  unsigned char head[12] = {0};
  const bool    is_font  = fread(head, 1, sizeof(head), file) == 12 &&
                       !memcmp(head, "RIFF", 4) && !memcmp(head + 8, "sfbk", 4);
  const bool is_whole = is_font && !fseek(file, 0, SEEK_END) &&
                        ftell(file) >= (long)u32_of(head + 4) + 8L;
  (void)fclose(file);

  return is_whole ? STATUS_OK
         : is_font
           ? fault_set(fault, STATUS_SYNTAX, path, 0, "the file was cut short")
           : fault_set(fault,
                       STATUS_SYNTAX,
                       path,
                       0,
                       "not a sound font in the format SoundFont 2");
}
