// Make the seeds of fuzz_smf: `make_smf_seeds FOLDER`. Small files, each with
// another feature of the format or another kind of damage; the worked examples
// are those of Standard MIDI Files 1.0, RP-001.

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HEAD "4D 54 68 64 00 00 00 06 "
#define ONE HEAD "00 00 00 01 00 60 4D 54 72 6B 00 00 00 "

static const struct {
  const char* name;
  const char* hex;
} seeds[] = {
  {"format-0.mid",
   ONE "3B 00 FF 58 04 04 02 18 08 00 FF 51 03 07 A1 20 00 C0 05 00 C1 2E 00 "
       "C2 46 00 92 30 60 00 3C 60 60 91 43 40 60 90 4C 20 81 40 82 30 40 00 "
       "3C 40 00 81 43 40 00 80 4C 40 00 FF 2F 00"},
  {"format-1.mid",
   HEAD "00 01 00 04 00 60 4D 54 72 6B 00 00 00 14 00 FF 58 04 04 02 18 08 00 "
        "FF 51 03 07 A1 20 83 00 FF 2F 00 4D 54 72 6B 00 00 00 10 00 C0 05 81 "
        "40 90 4C 20 81 40 4C 00 00 FF 2F 00 4D 54 72 6B 00 00 00 0F 00 C1 2E "
        "60 91 43 40 82 20 43 00 00 FF 2F 00 4D 54 72 6B 00 00 00 15 00 C2 46 "
        "00 92 30 60 00 3C 60 83 00 30 00 00 3C 00 00 FF 2F 00"},
  {"frames.mid",
   HEAD "00 00 00 01 E2 50 4D 54 72 6B 00 00 00 0C 00 90 3C 40 60 80 3C 40 00 "
        "FF 2F 00"},
  {"texts-key-offset.mid",
   ONE "34 00 FF 03 06 70 6C 61 79 65 72 00 FF 59 02 FD 00 00 FF 54 05 61 00 "
       "00 00 00 00 FF 01 02 68 69 60 FF 06 01 6D 00 FF 7F 02 01 02 00 FF 00 "
       "02 00 01 00 FF 2F 00"},
  {"sysex.mid",
   ONE "1B 00 F0 03 43 12 00 81 48 F7 06 43 12 00 43 12 00 64 F7 04 43 12 00 "
       "F7 00 FF 2F 00"},
  {"every-message.mid",
   ONE "1E 00 80 3C 40 00 90 3C 40 00 A0 3C 40 00 B0 40 7F 00 C0 05 00 D0 40 "
       "00 E0 00 40 00 FF 2F 00"},
  {"same-key-twice.mid",
   ONE "12 00 90 3C 11 30 3C 22 18 3C 00 30 80 3C 40 00 FF 2F 00"},
  {"riff.mid",
   "52 49 46 46 2A 00 00 00 52 4D 49 44 64 61 74 61 22 00 00 00 " ONE
   "0C 00 90 3C 40 60 80 3C 40 00 FF 2F 00"},
  {"long-header.mid",
   "4D 54 68 64 00 00 00 08 00 00 00 01 00 60 01 02 4D 54 72 6B 00 00 00 04 "
   "00 FF 2F 00"},
  {"alien-chunk.mid",
   HEAD "00 00 00 01 00 60 58 59 5A 20 00 00 00 02 01 02 4D 54 72 6B 00 00 00 "
        "04 00 FF 2F 00"},
  {"longest-time.mid", ONE "0A FF FF FF 7F C0 05 00 FF 2F 00"},
  {"no-end.mid", ONE "07 00 90 3C 40 60 3C 00"},
  {"running-after-meta.mid",
   ONE "0F 00 90 3C 40 00 FF 01 00 60 3C 00 00 FF 2F 00"},
  {"system-messages.mid",
   ONE "15 00 90 3C 40 00 F8 00 F2 01 02 00 F3 01 60 80 3C 40 00 FF 2F 00"},
  {"lying-length.mid",
   HEAD "00 01 00 02 00 60 4D 54 72 6B FF FF FF FF 00 90 3C 40 60 80 3C 40 00 "
        "FF 2F 00 4D 54 72 6B 00 00 00 04 00 FF 2F 00"},
  {"endless-number.mid", ONE "0C 00 90 3C 40 FF FF FF FF FF FF FF FF"},
  {"damaged-text-mode.mid",
   ONE "10 00 90 3C 64 0D 0A 80 3C 40 00 90 3E 64 0D 0A 80"},
  {"empty.mid", ""},
};

static int
make(const char* const folder, const char* const name, const char* const hex)
{
  char path[4096];
  if (snprintf(path, sizeof(path), "%s/%s", folder, name) >=
      (int)sizeof(path)) {
    return 1;
  }
  FILE* const file = fopen(path, "wb");
  if (!file) {
    return 1;
  }
  char* rest = NULL;
  for (const char* at = hex; *at; at = rest + strspn(rest, " ")) {
    (void)fputc((int)strtoul(at, &rest, 16), file);
  }
  return fclose(file);
}

int
main(const int argc, char** const argv)
{
  int failed = argc == 2 ? 0 : 2;
  for (size_t i = 0; !failed && i < sizeof(seeds) / sizeof(*seeds); ++i) {
    failed = make(argv[1], seeds[i].name, seeds[i].hex);
  }
  return failed;
}
