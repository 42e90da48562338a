/// @file core/sound/wav.h WAV files: RIFF, one fmt chunk, one data chunk.

#ifndef CORE_SOUND_WAV_H
#define CORE_SOUND_WAV_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"

#include <stddef.h>
#include <stdint.h>

/**
   Write 16-bit stereo PCM.

   The file is written as file_begin() and file_end() do: whole or not at all.

   @param rate Frames a second.
   @param samples 2 x `n_frames` numbers, left and right in turn; each is
   multiplied by `gain`, full scale = 1, and rounded.
   @param n_frames 0 .. 2^30 - 10.
   @return STATUS_OK, or STATUS_SYSTEM with a fault.
*/
MUST_USE Status
wav_write(const char*  path,
          uint32_t     rate,
          const float* samples,
          uint32_t     n_frames,
          float        gain,
          Fault*       fault);

#endif // CORE_SOUND_WAV_H
