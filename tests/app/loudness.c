// Says how loud WAV files are: loudness FILE.wav...
//
// A line each: integrated loudness in LUFS and the true peak in dBTP, as EBU R
// 128 and its Tech 3341 have them, by libebur128.

#include <ebur128.h>
#include <math.h>
#include <stdio.h>

enum { HEADER_SIZE = 44, RATE = 44100, FRAMES = 4096 };

static int
tell(const char* const path)
{
  FILE* const    file = fopen(path, "rb");
  ebur128_state* meter =
    ebur128_init(2, RATE, EBUR128_MODE_I | EBUR128_MODE_TRUE_PEAK);
  short  frames[2 * FRAMES];
  double lufs     = 0.0;
  double peaks[2] = {0.0, 0.0};
  if (!file || !meter || fseek(file, HEADER_SIZE, SEEK_SET)) {
    return 1;
  }
  for (size_t n = 0; (n = fread(frames, 4, FRAMES, file)) > 0;) {
    (void)ebur128_add_frames_short(meter, frames, n);
  }
  (void)fclose(file);
  (void)ebur128_loudness_global(meter, &lufs);
  (void)ebur128_true_peak(meter, 0, &peaks[0]);
  (void)ebur128_true_peak(meter, 1, &peaks[1]);
  ebur128_destroy(&meter);
  printf("%.2f %.2f\n", lufs, 20.0 * log10(fmax(peaks[0], peaks[1])));
  return 0;
}

int
main(const int argc, char** const argv)
{
  int end = 0;
  for (int i = 1; i < argc; ++i) {
    end |= tell(argv[i]);
  }
  return end;
}
