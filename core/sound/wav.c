#include "core/sound/wav.h"

#include <assert.h>
#include <errno.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

enum {
  N_CHANNELS       = 2,
  BYTES_PER_SAMPLE = 2,
  BYTES_PER_FRAME  = N_CHANNELS * BYTES_PER_SAMPLE,
  HEADER_SIZE      = 44,
  PATH_CAPACITY    = 4096,
  PCM              = 1,
};

static void
put_u16(unsigned char* const to, const unsigned value)
{
  to[0] = (unsigned char)(value & 0xFFU);
  to[1] = (unsigned char)(value >> 8 & 0xFFU);
}

static void
put_u32(unsigned char* const to, const uint32_t value)
{
  put_u16(to, value & 0xFFFFU);
  put_u16(to + 2, value >> 16);
}

// Multimedia Programming Interface and Data Specifications 1.0 (IBM and
// Microsoft, 1991), chapter 3, "Waveform Audio File Format".
static void
make_header(unsigned char* const header,
            const uint32_t       rate,
            const uint32_t       n_data_bytes)
{
  memcpy(header, "RIFF....WAVEfmt ", 16);
  put_u32(header + 4, HEADER_SIZE - 8 + n_data_bytes);
  put_u32(header + 16, 16); // Size of the format that follows
  put_u16(header + 20, PCM);
  put_u16(header + 22, N_CHANNELS);
  put_u32(header + 24, rate);
  put_u32(header + 28, rate * BYTES_PER_FRAME);
  put_u16(header + 32, BYTES_PER_FRAME);
  put_u16(header + 34, BYTES_PER_SAMPLE * 8);
  memcpy(header + 36, "data", 4);
  put_u32(header + 40, n_data_bytes);
}

static unsigned
sample_of(const float value)
{
  const float bounded = fmaxf(-1.0F, fminf(value, 1.0F));
  return (unsigned)lrintf(bounded * 32767.0F) & 0xFFFFU;
}

static void
write_frames(FILE* const        file,
             const float* const samples,
             const uint32_t     n_frames,
             const float        gain)
{
  for (uint32_t i = 0; i < n_frames; ++i) {
    unsigned char bytes[BYTES_PER_FRAME];
    put_u16(bytes, sample_of(samples[2U * i] * gain));
    put_u16(bytes + 2, sample_of(samples[2U * i + 1U] * gain));
    if (fwrite(bytes, sizeof(bytes), 1, file) != 1) {
      return; // The caller looks at ferror()
    }
  }
}

static Status
refuse(const char* const path, Fault* const fault)
{
  return fault_set(
    fault, STATUS_SYSTEM, path, 0, "cannot be written: %s", strerror(errno));
}

/// Where to write first: `path` itself if it is no regular file.
static bool
choose_place(const char* const path, char* const place)
{
  struct stat existing;
  const bool  is_direct = !stat(path, &existing) && !S_ISREG(existing.st_mode);
  const int   length =
    snprintf(place, PATH_CAPACITY, "%s%s", path, is_direct ? "" : ".part");
  if (length >= PATH_CAPACITY) {
    errno = ENAMETOOLONG;
    return false;
  }
  return true;
}

Status
wav_write(const char* const  path,
          const uint32_t     rate,
          const float* const samples,
          const uint32_t     n_frames,
          const float        gain,
          Fault* const       fault)
{
  assert(n_frames <= (UINT32_MAX - HEADER_SIZE) / BYTES_PER_FRAME);

  char place[PATH_CAPACITY];
  if (!choose_place(path, place)) {
    return refuse(path, fault);
  }
  FILE* const file = fopen(place, "wb");
  if (!file) {
    return refuse(path, fault);
  }

  unsigned char header[HEADER_SIZE];
  make_header(header, rate, n_frames * BYTES_PER_FRAME);
  bool is_good = fwrite(header, sizeof(header), 1, file) == 1;
  if (is_good) {
    write_frames(file, samples, n_frames, gain);
  }
  is_good = !ferror(file) && is_good;
  is_good = !fclose(file) && is_good;
  if (strcmp(place, path)) {
    is_good = is_good && !rename(place, path);
    if (!is_good) {
      const int error = errno;
      (void)remove(place);
      errno = error;
    }
  }
  return is_good ? STATUS_OK : refuse(path, fault);
}
