// Any bytes, read as a MIDI file: refused with the byte that is wrong, or a
// take that is in order, small, and the same again once written and read back.

#include "core/midi/smf_reader.h"
#include "core/midi/smf_writer.h"
#include "target.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

static void
must(const bool holds)
{
  if (!holds) {
    abort();
  }
}

static void
check_order(const SmfTake* const take)
{
  Tick before = 0;
  for (size_t i = 0; i < take->n_notes; ++i) {
    const SmfNote note = take->notes[i];
    must(note.tick >= before);
    must(note.length >= 1);
    must(note.velocity >= 1);
    must(note.track < take->n_tracks);
    before = note.tick;
  }
  for (size_t i = 1; i < take->n_controls; ++i) {
    must(take->controls[i].tick >= take->controls[i - 1].tick);
  }
  for (size_t i = 1; i < take->n_texts; ++i) {
    must(take->texts[i].tick >= take->texts[i - 1].tick);
  }
  for (size_t i = 0; i < take->n_tempos; ++i) {
    must(take->tempos[i].us_per_quarter > 0);
    must(!i || take->tempos[i].tick >= take->tempos[i - 1].tick);
  }
  must(take->warnings.n <= SMF_WARNINGS_CAPACITY);
  must(take->warnings.n <= take->warnings.n_found);
}

// The shortest event has two bytes and takes 16, a track has 8 and takes 16.
static void
check_size(const SmfTake* const take, const size_t size)
{
  const size_t n = take->n_notes + take->n_controls + take->n_tempos +
                   take->n_meters + take->n_keys + take->n_texts +
                   take->n_tracks;
  must(n * 16 <= 8 * size + 16);
  must(n <= take->n_events + take->n_tracks + 1);
}

static void
check_texts(const SmfTake* const take, const size_t size)
{
  size_t n_characters = 0;
  for (size_t i = 0; i < take->n_texts; ++i) {
    n_characters += strlen(smf_text(take, &take->texts[i]));
  }
  for (size_t i = 0; i < take->n_tracks; ++i) {
    must(strlen(smf_track_name(take, i)) <= size);
  }
  must(n_characters <= size);
}

static SmfWriter*
written(const SmfTake* const take)
{
  SmfWriter* writer = NULL;
  must(!smf_writer_open(&writer, 1, TICKS_PER_QUARTER, SMF_RUNNING_STATUS));
  for (size_t i = 0; i < take->n_tracks; ++i) {
    (void)smf_writer_track(writer, smf_track_name(take, i));
  }
  for (size_t i = 0; i < take->n_notes; ++i) {
    smf_writer_note(writer, take->notes[i]);
  }
  for (size_t i = 0; i < take->n_controls; ++i) {
    smf_writer_control(writer, take->controls[i]);
  }
  return writer;
}

static void
check_same(const SmfTake* const take, const SmfTake* const again)
{
  must(again->warnings.n_found == 0 || !take->n_tracks);
  must(again->n_notes == take->n_notes);
  must(again->n_controls == take->n_controls);
  for (size_t i = 0; i < take->n_notes; ++i) {
    must(again->notes[i].tick == take->notes[i].tick);
    must(again->notes[i].length == take->notes[i].length);
    must(again->notes[i].pitch == take->notes[i].pitch);
    must(again->notes[i].velocity == take->notes[i].velocity);
    must(again->notes[i].channel == take->notes[i].channel);
    must(again->notes[i].track == take->notes[i].track);
  }
}

// A take with a gap longer than a file can have is not written; that is no
// failure.
static void
check_round_trip(const SmfTake* const take)
{
  SmfWriter* const writer = written(take);
  const uint8_t*   bytes  = NULL;
  size_t           size   = 0;
  if (!smf_writer_bytes(writer, &bytes, &size)) {
    SmfTake again = {0};
    Fault   fault;
    must(!smf_read(&again, bytes, size, SMF_US_PER_QUARTER, &fault));
    check_same(take, &again);
    smf_free(&again);
  }
  smf_writer_close(writer);
}

int
LLVMFuzzerTestOneInput(const uint8_t* const data, const size_t size)
{
  SmfTake      take = {0};
  Fault        fault;
  const Status status = smf_read(&take, data, size, SMF_US_PER_QUARTER, &fault);
  if (status) {
    must(status == STATUS_SYNTAX);
    must(!strncmp(fault.text, "byte ", 5));
    must(!take.notes);
    return 0;
  }

  check_order(&take);
  check_size(&take, size);
  check_texts(&take, size);
  check_round_trip(&take);
  smf_free(&take);
  return 0;
}
