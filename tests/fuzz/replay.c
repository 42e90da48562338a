// Run one fuzz target over every file of the folder that is named: the seeds
// are replayed so without libFuzzer. No file is a failure: a replay that
// replays nothing would always pass.

#include "target.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>

static int
replay(const char* const folder, const char* const name)
{
  char path[4096];
  if (snprintf(path, sizeof(path), "%s/%s", folder, name) >=
      (int)sizeof(path)) {
    return -1;
  }
  FILE* const file = fopen(path, "rb");
  if (!file || fseek(file, 0, SEEK_END)) {
    return -1;
  }
  const long size = ftell(file);
  rewind(file);

  // Of the exact size, so that the sanitizer sees a byte read beyond it
  uint8_t* const data = size >= 0 ? malloc((size_t)size + !size) : NULL;
  if (!data || fread(data, 1, (size_t)size, file) != (size_t)size) {
    return -1;
  }
  (void)LLVMFuzzerTestOneInput(data, (size_t)size);

  free(data);
  return fclose(file);
}

int
main(const int argc, char** const argv)
{
  DIR* const folder = argc == 2 ? opendir(argv[1]) : NULL;
  if (!folder) {
    (void)fprintf(stderr, "usage: %s FOLDER-OF-SEEDS\n", argv[0]);
    return 2;
  }

  int n_replayed = 0;
  for (struct dirent* entry = NULL; (entry = readdir(folder));) {
    if (entry->d_name[0] == '.') {
      continue;
    }
    if (replay(argv[1], entry->d_name)) {
      (void)fprintf(stderr, "%s/%s: cannot be read\n", argv[1], entry->d_name);
      return 2;
    }
    ++n_replayed;
  }
  (void)closedir(folder);
  (void)printf("%d inputs replayed\n", n_replayed);
  return n_replayed ? 0 : 1;
}
