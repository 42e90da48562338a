// Read a MIDI file with FluidSynth's player, for bench_smf. The player reads
// when the first sample falls due; no sound is loaded.

#include "beside_smf.h"

#include <fluidsynth.h>

enum { N_FRAMES = 64 };

int
main(const int argc, char** const argv)
{
  fluid_settings_t* const settings = new_fluid_settings();
  (void)fluid_settings_setstr(settings, "player.timing-source", "sample");
  (void)fluid_settings_setint(settings, "synth.lock-memory", 0);
  fluid_synth_t* const  synth  = new_fluid_synth(settings);
  fluid_player_t* const player = new_fluid_player(synth);
  if (argc != 2 || !player || fluid_player_add(player, argv[1]) != FLUID_OK) {
    return 2;
  }

  float     left[N_FRAMES];
  float     right[N_FRAMES];
  Stopwatch watch = stopwatch_start();
  (void)fluid_player_play(player);
  (void)fluid_synth_write_float(synth, N_FRAMES, left, 0, 1, right, 0, 1);
  stopwatch_stop(&watch);
  if (fluid_player_get_total_ticks(player) <= 0) {
    return 1;
  }
  stopwatch_print(&watch, 0);
  return 0;
}
