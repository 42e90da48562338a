#include "take_file.h"

#include "core/midi/smf_writer.h"
#include "core/tick.h"

#include <math.h>
#include <stdio.h>

bool
take_write(const char* const    path,
           const SmfNote* const notes,
           const size_t         n_notes,
           const double         tempo_bpm)
{
  SmfWriter* writer = NULL;
  Fault      fault  = {.text = "no memory"};
  if (smf_writer_open(&writer, 1, TICKS_PER_QUARTER, SMF_PLAIN)) {
    fprintf(stderr, "%s: %s\n", path, fault.text);
    return false;
  }
  (void)smf_writer_track(writer, NULL);
  const unsigned track = smf_writer_track(writer, "player");
  smf_writer_tempo(writer, (SmfTempo){0, (uint32_t)lround(60e6 / tempo_bpm)});
  for (size_t i = 0; i < n_notes; ++i) {
    SmfNote note = notes[i];
    note.track   = track & 0x3FFFU;
    smf_writer_note(writer, note);
  }
  const bool is_written = !smf_writer_save(writer, path, &fault);
  if (!is_written) {
    fprintf(stderr, "%s: %s\n", path, fault.text);
  }
  smf_writer_close(writer);
  return is_written;
}

size_t
take_four(SmfNote* const notes, const size_t most, const json_t* const four)
{
  const char* const parts[] = {"notes", "own_continuation"};
  size_t            n       = 0;
  for (unsigned part = 0; part < 2; ++part) {
    const json_t* const rows = json_object_get(four, parts[part]);
    for (size_t i = 0; i < json_array_size(rows) && n < most; ++i) {
      json_int_t values[3]; // Tick, length, pitch
      for (unsigned k = 0; k < 3; ++k) {
        values[k] =
          json_integer_value(json_array_get(json_array_get(rows, i), k));
      }
      if (values[0] >= 0) {
        notes[n++] = (SmfNote){.tick     = values[0],
                               .length   = (uint32_t)values[1],
                               .pitch    = (unsigned)values[2] & 0x7FU,
                               .velocity = 80U};
      }
    }
  }
  return n;
}
