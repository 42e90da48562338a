#include "core/sound/wav.h"

#include "core/files/file.h"

#include <assert.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum {
  N_CHANNELS       = 2,
  BYTES_PER_SAMPLE = 2,
  BYTES_PER_FRAME  = N_CHANNELS * BYTES_PER_SAMPLE,
  HEADER_SIZE      = 44,
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

Status
wav_begin(WavSaving* const  wav,
          const char* const path,
          const uint32_t    rate,
          const uint32_t    n_frames,
          Fault* const      fault)
{
  assert(n_frames <= WAV_MOST_FRAMES);

  const Status status = file_begin(&wav->saving, path, FILE_OPEN, fault);
  if (!status) {
    unsigned char header[HEADER_SIZE];
    make_header(header, rate, n_frames * BYTES_PER_FRAME);
    (void)fwrite(header, sizeof(header), 1, wav->saving.stream);
  }
  return status;
}

// What cannot be written is seen by file_end().
void
wav_add(WavSaving* const   wav,
        const float* const samples,
        const uint32_t     n_frames)
{
  for (uint32_t i = 0; i < n_frames; ++i) {
    unsigned char bytes[BYTES_PER_FRAME];
    put_u16(bytes, sample_of(samples[2U * i]));
    put_u16(bytes + 2, sample_of(samples[2U * i + 1U]));
    if (!fwrite(bytes, sizeof(bytes), 1, wav->saving.stream) &&
        !wav->saving.error) {
      wav->saving.error = errno; // Much else may fail before the end
    }
  }
}

Status
wav_end(WavSaving* const wav, Fault* const fault)
{
  return file_end(&wav->saving, fault);
}

void
wav_abandon(WavSaving* const wav)
{
  file_abandon(&wav->saving);
}
