/// @file core/sound/wav.h WAV files: RIFF, one fmt chunk, one data chunk.

#ifndef CORE_SOUND_WAV_H
#define CORE_SOUND_WAV_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/files/file.h"
#include "core/status.h"

#include <stddef.h>
#include <stdint.h>

enum { WAV_MOST_FRAMES = (1 << 30) - 10 }; ///< That a size of 32 bits can tell

/// A file being written beside its place, as file_begin() has it.
typedef struct {
  FileSaving saving;
} WavSaving;

/**
   Begin to write 16-bit stereo PCM.

   @param[out] wav Written on success; give it to wav_end() or wav_abandon().
   @param rate Frames a second.
   @param n_frames That will be added, 0 .. WAV_MOST_FRAMES.
   @return STATUS_OK, or STATUS_SYSTEM with a fault.
*/
MUST_USE Status
wav_begin(WavSaving*  wav,
          const char* path,
          uint32_t    rate,
          uint32_t    n_frames,
          Fault*      fault);

/// Add frames: 2 x `n_frames` numbers, left and right in turn, full scale = 1.
void
wav_add(WavSaving* wav, const float* samples, uint32_t n_frames);

/// Put it in its place: STATUS_OK, or STATUS_SYSTEM with a fault.
MUST_USE Status
wav_end(WavSaving* wav, Fault* fault);

/// Leave everything as it was.
void
wav_abandon(WavSaving* wav);

#endif // CORE_SOUND_WAV_H
