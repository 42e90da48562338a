#include "core/synth/trim.h"

#include "core/midi_message.h"

#include <ebur128.h>
#include <math.h>

/// A sound at velocity 80 and full volume is to be this loud (EBU R 128), and
/// one that was not measured is taken to be too loud by `usual_db`.
static const double wanted_lufs = -13.0;
static const float  usual_db    = 10.0F;

enum {
  N_KEYS      = 4,
  KEY_FRAMES  = SOUND_RATE * 3 / 10,
  VELOCITY    = 80,
  HUSH_FRAMES = SOUND_RATE * 3 / 2,
  FULL        = 127,
  N_FAMILY    = 8,  ///< Programs of one family
  BASSES      = 32, ///< The first of General MIDI's basses
  DRUM_BANK   = 128,
};

/// The keys of a phrase: of a line, of a bass, of a kit (ride, foot
/// hi-hat, ride, snare: General MIDI 1, from memory).
static const uint8_t*
phrase_of(const uint8_t program)
{
  static const uint8_t line[N_KEYS] = {72, 67, 70, 64};
  static const uint8_t bass[N_KEYS] = {36, 40, 43, 45};
  static const uint8_t kit[N_KEYS]  = {51, 44, 51, 38};
  return program == SOUND_DRUMS                    ? kit
         : program / N_FAMILY == BASSES / N_FAMILY ? bass
                                                   : line;
}

/// End all that sounds, and let the room fall silent.
static void
hush(Synth* const synth)
{
  (void)fluid_synth_all_sounds_off(synth->fluid, -1);
  for (unsigned frame = 0; frame < HUSH_FRAMES; frame += SOUND_STEP) {
    float samples[2 * SOUND_STEP];
    (void)fluid_synth_write_float(
      synth->fluid, SOUND_STEP, samples, 0, 2, samples, 1, 2);
  }
  (void)fluid_synth_system_reset(synth->fluid);
}

static void
play_phrase(Synth* const         synth,
            const uint8_t        program,
            ebur128_state* const meter)
{
  const bool is_kit  = program == SOUND_DRUMS;
  const int  channel = is_kit ? MIDI_DRUMS : 0;
  (void)fluid_synth_pin_preset(
    synth->fluid, synth->font, is_kit ? DRUM_BANK : 0, is_kit ? 0 : program);
  (void)fluid_synth_program_change(synth->fluid, channel, is_kit ? 0 : program);
  (void)fluid_synth_cc(synth->fluid, channel, MIDI_VOLUME, FULL);
  const uint8_t* const keys = phrase_of(program);
  for (unsigned i = 0; i < N_KEYS; ++i) {
    (void)fluid_synth_noteon(synth->fluid, channel, keys[i], VELOCITY);
    for (unsigned frame = 0; frame < KEY_FRAMES; frame += SOUND_STEP) {
      float samples[2 * SOUND_STEP];
      (void)fluid_synth_write_float(
        synth->fluid, SOUND_STEP, samples, 0, 2, samples, 1, 2);
      (void)ebur128_add_frames_float(meter, samples, SOUND_STEP);
    }
    (void)fluid_synth_noteoff(synth->fluid, channel, keys[i]);
  }
  hush(synth);
}

void
trim_measure(Synth* const         synth,
             const uint8_t* const programs,
             const size_t         n_programs)
{
  for (unsigned i = 0; i < SOUND_MOST_PROGRAMS; ++i) {
    synth->trims_db[i] = usual_db;
  }
  for (size_t i = 0; i < n_programs; ++i) {
    ebur128_state* meter = ebur128_init(2, SOUND_RATE, EBUR128_MODE_I);
    double         lufs  = 0.0;
    if (!meter) {
      return;
    }
    play_phrase(synth, programs[i], meter);
    if (!ebur128_loudness_global(meter, &lufs) && isfinite(lufs)) {
      synth->trims_db[programs[i]] = (float)fmax(0.0, lufs - wanted_lufs);
    }
    ebur128_destroy(&meter);
  }
}
