// Read a MIDI file with libsmf, for bench_smf.

#include "beside_smf.h"

#include <smf.h>

int
main(const int argc, char** const argv)
{
  if (argc != 2) {
    return 2;
  }
  Stopwatch    watch = stopwatch_start();
  smf_t* const song  = smf_load(argv[1]);
  stopwatch_stop(&watch);
  if (!song) {
    return 1;
  }

  size_t n_events = 0;
  for (int i = 1; i <= song->number_of_tracks; ++i) {
    n_events += (size_t)smf_get_track_by_number(song, i)->number_of_events;
  }
  stopwatch_print(&watch, n_events);
  return 0;
}
