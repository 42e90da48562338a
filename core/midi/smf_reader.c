#include "core/midi/smf_reader.h"

#include "core/midi/smf_file.h"
#include "core/midi/smf_fill.h"
#include "core/midi/smf_memory.h"
#include "core/midi/smf_sort.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>

static_assert(sizeof(SmfNote) == SMF_RECORD_SIZE, "sorted as records");
static_assert(sizeof(SmfControl) == SMF_RECORD_SIZE, "sorted as records");
static_assert(sizeof(SmfTempo) == SMF_RECORD_SIZE, "sorted as records");
static_assert(sizeof(SmfMeter) == SMF_RECORD_SIZE, "sorted as records");
static_assert(sizeof(SmfKey) == SMF_RECORD_SIZE, "sorted as records");
static_assert(sizeof(SmfText) == SMF_RECORD_SIZE, "sorted as records");

static Status
refusal(const SmfSurvey* const survey,
        const SmfHeader* const header,
        const SmfChunks* const chunks,
        Fault* const           fault)
{
  if (!survey->n_tracks && header->n_tracks) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     NULL,
                     0,
                     "byte %zu: no track (MTrk) from here on, and the header "
                     "announces %u",
                     chunks->at,
                     header->n_tracks);
  }
  if (!survey->n_events && survey->damage) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     NULL,
                     0,
                     "byte %zu: %s; nothing can be read",
                     survey->damage_offset,
                     survey->damage);
  }
  return STATUS_OK;
}

static void
warn_of_tracks(const SmfSurvey* const survey,
               const SmfHeader* const header,
               const SmfChunks* const chunks,
               SmfWarnings* const     warnings)
{
  const size_t n = survey->n_tracks;
  if (n != header->n_tracks) {
    smf_warn(warnings,
             chunks->at,
             "the header announces %u tracks, and the file has %zu",
             header->n_tracks,
             n);
  }
  if (!n) {
    smf_warn(warnings, chunks->at, "the file has no track");
  }
  if (n > 1 && header->format == 0) {
    smf_warn(
      warnings, chunks->at, "format 0 has one track; %zu are read together", n);
  }
  if (n > SMF_TRACK_CAPACITY) {
    smf_warn(warnings,
             chunks->at,
             "tracks from the %dth on are left out",
             SMF_TRACK_CAPACITY + 1);
  }
}

static size_t
kept_tracks(const SmfSurvey* const survey)
{
  return survey->n_tracks < SMF_TRACK_CAPACITY ? survey->n_tracks
                                               : SMF_TRACK_CAPACITY;
}

// One piece of memory: the lists, the tracks, the strings.
static void*
make_lists(SmfLists* const lists, const SmfSurvey* const survey)
{
  size_t n_records = 0;
  for (unsigned list = 0; list < SMF_N_LISTS; ++list) {
    n_records += survey->n[list];
  }
  const size_t n_tracks = kept_tracks(survey);
  const size_t size     = n_records * SMF_RECORD_SIZE +
                      n_tracks * sizeof(SmfTrack) + survey->n_text_bytes + 1U;

  void* const memory = smf_memory(size);
  if (memory) {
    lists->notes    = memory;
    lists->controls = (void*)(lists->notes + survey->n[SMF_KIND_NOTE]);
    lists->tempos   = (void*)(lists->controls + survey->n[SMF_KIND_CONTROL]);
    lists->meters   = (void*)(lists->tempos + survey->n[SMF_KIND_TEMPO]);
    lists->keys     = (void*)(lists->meters + survey->n[SMF_KIND_METER]);
    lists->texts    = (void*)(lists->keys + survey->n[SMF_KIND_KEY]);
    lists->tracks   = (void*)(lists->texts + survey->n[SMF_KIND_TEXT]);
    lists->strings  = (void*)(lists->tracks + n_tracks);
  }
  return memory;
}

// Sort; the bytes of the file are not needed any more and make room for it.
static bool
sort_lists(SmfLists* const lists, uint8_t** const bytes)
{
  void* const all[SMF_N_LISTS] = {
    lists->notes,
    lists->controls,
    lists->tempos,
    lists->meters,
    lists->keys,
    lists->texts,
  };

  size_t n_most = 0;
  for (unsigned i = 0; i < SMF_N_LISTS; ++i) {
    if (lists->n[i] > n_most && !smf_is_sorted(all[i], lists->n[i])) {
      n_most = lists->n[i];
    }
  }
  if (!n_most) {
    return true;
  }

  free(*bytes);
  *bytes           = NULL;
  void* const room = smf_memory(n_most / 2 * SMF_RECORD_SIZE);
  if (!room) {
    return false;
  }
  for (unsigned i = 0; i < SMF_N_LISTS; ++i) {
    smf_sort(all[i], lists->n[i], room);
  }
  free(room);
  return true;
}

static void
give_lists(SmfTake* const take, const SmfLists* const lists)
{
  take->notes      = lists->notes;
  take->n_notes    = lists->n[SMF_KIND_NOTE];
  take->controls   = lists->controls;
  take->n_controls = lists->n[SMF_KIND_CONTROL];
  take->tempos     = lists->tempos;
  take->n_tempos   = lists->n[SMF_KIND_TEMPO];
  take->meters     = lists->meters;
  take->n_meters   = lists->n[SMF_KIND_METER];
  take->keys       = lists->keys;
  take->n_keys     = lists->n[SMF_KIND_KEY];
  take->texts      = lists->texts;
  take->n_texts    = lists->n[SMF_KIND_TEXT];
  take->tracks     = lists->tracks;
  take->n_tracks   = lists->n_tracks;
  take->strings    = lists->strings;
  take->end        = 0;
  for (size_t i = 0; i < lists->n_tracks; ++i) {
    const Tick end = lists->tracks[i].end;
    take->end      = end > take->end ? end : take->end;
  }
}

// Read a file that lies in memory. What is `owned` of it (its bytes, or NULL)
// is freed as soon as it is not needed any more.
static Status
read_take(SmfTake* const       take,
          const uint8_t* const bytes,
          const size_t         size,
          const unsigned       us_per_quarter,
          uint8_t** const      owned,
          Fault* const         fault)
{
  assert(us_per_quarter);
  SmfChunks chunks;
  SmfHeader header;
  Status    status = smf_chunks_open(&chunks, &header, bytes, size, fault);
  if (status) {
    return status;
  }

  SmfSurvey survey = smf_survey(chunks);
  status           = refusal(&survey, &header, &chunks, fault);
  if (status) {
    return status;
  }

  survey.n[SMF_KIND_TEMPO] += header.frames_per_second ? 1U : 0U;
  SmfLists    lists  = {0};
  void* const memory = make_lists(&lists, &survey);
  if (!memory) {
    return fault_set(fault, STATUS_MEMORY, NULL, 0, "no memory for its notes");
  }

  SmfWarnings warnings = {.n = 0};
  warn_of_tracks(&survey, &header, &chunks, &warnings);
  smf_fill(&lists, chunks, &header, us_per_quarter, &warnings);
  if (!sort_lists(&lists, owned)) {
    free(memory);
    return fault_set(fault, STATUS_MEMORY, NULL, 0, "no memory to sort notes");
  }

  take->format            = header.format;
  take->ticks_per_quarter = header.ticks_per_quarter;
  take->n_events          = survey.n_events;
  take->warnings          = warnings;
  take->memory            = memory;
  give_lists(take, &lists);
  return STATUS_OK;
}

Status
smf_read(SmfTake* const       take,
         const uint8_t* const bytes,
         const size_t         size,
         const unsigned       us_per_quarter,
         Fault* const         fault)
{
  uint8_t* owned = NULL;
  return read_take(take, bytes, size, us_per_quarter, &owned, fault);
}

Status
smf_load(SmfTake* const    take,
         const char* const path,
         const unsigned    us_per_quarter,
         Fault* const      fault)
{
  uint8_t* bytes  = NULL;
  size_t   size   = 0;
  Status   status = smf_file_read(path, &bytes, &size, fault);
  if (status) {
    return status;
  }

  status = read_take(take, bytes, size, us_per_quarter, &bytes, fault);
  if (status) {
    (void)snprintf(fault->file, sizeof(fault->file), "%s", path);
  }
  free(bytes);
  return status;
}

void
smf_free(SmfTake* const take)
{
  free(take->memory);
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
