// What the program finds in the module

#include "core/sound/module.h"
#include "core/synth/offline.h"
#include "core/synth/speaker.h"

extern const SoundModule barter_module;

const SoundModule barter_module = {
  .head     = {BARTER_VERSION},
  .play     = offline_play,
  .open     = speaker_open,
  .load     = speaker_load,
  .close    = speaker_close,
  .driver   = speaker_driver,
  .is_alive = speaker_is_alive,
  .send     = speaker_send,
  .peak     = speaker_peak,
};
