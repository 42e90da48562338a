#include "core/midi/smf_reader.h"

#include "core/files/file.h"
#include "core/midi/smf_sort.h"
#include "core/midi/smf_track.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>

static_assert(sizeof(SmfNote) == SMF_RECORD_SIZE, "sorted as records");
static_assert(sizeof(SmfControl) == SMF_RECORD_SIZE, "sorted as records");
static_assert(sizeof(SmfTempo) == SMF_RECORD_SIZE, "sorted as records");
static_assert(sizeof(SmfMeter) == SMF_RECORD_SIZE, "sorted as records");
static_assert(sizeof(SmfKey) == SMF_RECORD_SIZE, "sorted as records");
static_assert(sizeof(SmfText) == SMF_RECORD_SIZE, "sorted as records");
static_assert(sizeof(SmfTrack) == SMF_RECORD_SIZE, "kept as records");

// Read the tracks; return how many the file has.
static size_t
read_tracks(SmfReading* const reading, SmfChunks* const chunks)
{
  size_t  n_tracks = 0;
  SmfSpan span;
  for (; !reading->no_memory && smf_chunks_next(chunks, &span); ++n_tracks) {
    smf_chunks_leave(chunks,
                     &span,
                     n_tracks < SMF_TRACK_CAPACITY
                       ? smf_track_read(reading, &span)
                       : span.end);
  }
  return n_tracks;
}

// What is wrong with the file as a whole; `at` is where its header ends.
static Status
judge(SmfReading* const reading,
      const size_t      n_tracks,
      const size_t      at,
      Fault* const      fault)
{
  const SmfHeader* const header   = &reading->header;
  SmfWarnings* const     warnings = &reading->warnings;
  if (!n_tracks && header->n_tracks) {
    return smf_refuse(
      fault, at, "no track (MTrk) from here on, and the header announces some");
  }
  if (!reading->n_events && reading->damage) {
    return smf_refuse(fault, reading->damage_offset, reading->damage);
  }

  if (n_tracks != header->n_tracks) {
    smf_warn(warnings,
             at,
             "the header announces %u tracks, and the file has %zu",
             header->n_tracks,
             n_tracks);
  }
  if (!n_tracks) {
    smf_warn(warnings, at, "the file has no track");
  }
  if (n_tracks > 1 && header->format == 0) {
    smf_warn(
      warnings, at, "format 0 has one track; %zu are read together", n_tracks);
  }
  if (n_tracks > SMF_TRACK_CAPACITY) {
    smf_warn(warnings,
             at,
             "tracks from the %dth on are left out",
             SMF_TRACK_CAPACITY + 1);
  }
  return STATUS_OK;
}

// Sort all but the list of the tracks.
static Status
sort_lists(const SmfReading* const reading, Fault* const fault)
{
  for (unsigned i = 0; i < SMF_TRACKS; ++i) {
    const SmfList list = reading->lists[i];
    void* const   room = malloc(list.n / 2 * SMF_RECORD_SIZE + 1);
    if (!room) {
      return fault_memory(fault, NULL);
    }
    smf_sort(list.records, list.n, room);
    free(room);
  }
  return STATUS_OK;
}

static SmfTake
take_of(const SmfReading* const reading)
{
  const SmfList* const lists = reading->lists;
  SmfTake              take  = {
                  .format            = reading->header.format,
                  .ticks_per_quarter = reading->header.ticks_per_quarter,
                  .notes             = lists[SMF_NOTES].records,
                  .n_notes           = lists[SMF_NOTES].n,
                  .controls          = lists[SMF_CONTROLS].records,
                  .n_controls        = lists[SMF_CONTROLS].n,
                  .tempos            = lists[SMF_TEMPOS].records,
                  .n_tempos          = lists[SMF_TEMPOS].n,
                  .meters            = lists[SMF_METERS].records,
                  .n_meters          = lists[SMF_METERS].n,
                  .keys              = lists[SMF_KEYS].records,
                  .n_keys            = lists[SMF_KEYS].n,
                  .texts             = lists[SMF_TEXTS].records,
                  .n_texts           = lists[SMF_TEXTS].n,
                  .tracks            = lists[SMF_TRACKS].records,
                  .n_tracks          = lists[SMF_TRACKS].n,
                  .n_events          = reading->n_events,
                  .strings           = reading->strings,
                  .warnings          = reading->warnings,
  };
  for (size_t i = 0; i < take.n_tracks; ++i) {
    const Tick end = take.tracks[i].end;
    take.end       = end > take.end ? end : take.end;
  }
  return take;
}

static Status
read_all(SmfReading* const reading, const size_t size, Fault* const fault)
{
  SmfChunks chunks = {
    .bytes = reading->file, .end = size, .warnings = &reading->warnings};
  Status status = smf_chunks_open(&chunks, &reading->header, fault);
  if (status) {
    return status;
  }

  // A text takes fewer bytes here than in its file
  reading->strings        = malloc(size);
  reading->n_string_bytes = 1;
  if (!reading->strings) {
    return fault_memory(fault, NULL);
  }
  reading->strings[0] = '\0'; // The name of a track that has none
  if (reading->header.frames_per_second) {
    SmfTempo* const tempo = smf_add(reading, SMF_TEMPOS);
    if (tempo) {
      *tempo = (SmfTempo){0, reading->us_per_quarter};
    }
  }
  const size_t at       = chunks.at;
  const size_t n_tracks = read_tracks(reading, &chunks);
  status                = reading->no_memory ? fault_memory(fault, NULL)
                                             : judge(reading, n_tracks, at, fault);
  return status ? status : sort_lists(reading, fault);
}

Status
smf_read(SmfTake* const       take,
         const uint8_t* const bytes,
         const size_t         size,
         const unsigned       us_per_quarter,
         Fault* const         fault)
{
  assert(us_per_quarter);
  if (size > SMF_FILE_LIMIT) {
    return fault_say(fault,
                     STATUS_RANGE,
                     "byte 0: a file of %zu bytes; %zu are the most",
                     size,
                     SMF_FILE_LIMIT);
  }

  SmfReading   reading = {.file = bytes, .us_per_quarter = us_per_quarter};
  const Status status  = read_all(&reading, size, fault);
  SmfTake      read    = take_of(&reading);
  if (status) {
    smf_free(&read);
  } else {
    *take = read;
  }
  return status;
}

Status
smf_load(SmfTake* const    take,
         const char* const path,
         const unsigned    us_per_quarter,
         Fault* const      fault)
{
  char*  bytes  = NULL;
  size_t size   = 0;
  Status status = file_load(path, SMF_FILE_LIMIT, &bytes, &size, fault);
  if (status) {
    return status;
  }
  status =
    size
      ? smf_read(take, (const void*)bytes, size, us_per_quarter, fault)
      : fault_say(fault, STATUS_RANGE, "is empty; a MIDI file would be right");
  if (status) {
    (void)snprintf(fault->file, sizeof(fault->file), "%s", path);
  }
  free(bytes);
  return status;
}

void
smf_free(SmfTake* const take)
{
  free(take->notes);
  free(take->controls);
  free(take->tempos);
  free(take->meters);
  free(take->keys);
  free(take->texts);
  free(take->tracks);
  free(take->strings);
  *take = (SmfTake){0};
}

const char*
smf_text(const SmfTake* const take, const SmfText* const text)
{
  return take->strings + text->at;
}

const char*
smf_track_name(const SmfTake* const take, const size_t track)
{
  assert(track < take->n_tracks);
  return take->strings + take->tracks[track].name;
}

unsigned
smf_tempo_at(const SmfTake* const take, const Tick tick)
{
  unsigned us_per_quarter = SMF_US_PER_QUARTER;
  for (size_t i = 0; i < take->n_tempos && take->tempos[i].tick <= tick; ++i) {
    us_per_quarter = take->tempos[i].us_per_quarter;
  }
  return us_per_quarter;
}

double
smf_seconds(const SmfTake* const take, const Tick tick)
{
  const double us_per_tick = 1.0 / TICKS_PER_QUARTER;
  double       us          = 0.0;
  unsigned     tempo       = SMF_US_PER_QUARTER;
  Tick         from        = 0;
  for (size_t i = 0; i < take->n_tempos && take->tempos[i].tick < tick; ++i) {
    us += (double)(take->tempos[i].tick - from) * tempo * us_per_tick;
    from  = take->tempos[i].tick;
    tempo = take->tempos[i].us_per_quarter;
  }
  us += (double)(tick - from) * tempo * us_per_tick;
  return us / 1e6;
}
