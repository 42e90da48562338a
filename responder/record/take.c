#include "responder/record/take.h"

#include "responder/record/changes.h"
#include "responder/record/recording.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const size_t no_track = SMF_TRACK_CAPACITY;

static size_t
track_named(const SmfTake* const file, const char* const name)
{
  for (size_t i = 0; i < file->n_tracks; ++i) {
    if (strcmp(smf_track_name(file, i), name) == 0) {
      return i;
    }
  }
  return no_track;
}

static Status
choose_track(const SmfTake* const file,
             const char* const    path,
             const char* const    wanted,
             size_t* const        track,
             Fault* const         fault)
{
  *track = track_named(file, wanted ? wanted : "player");
  if (!wanted || *track != no_track) {
    return STATUS_OK;
  }

  char*               end    = NULL;
  const unsigned long number = strtoul(wanted, &end, 10);
  if (*wanted && !*end && number >= 1 && number <= file->n_tracks) {
    *track = number - 1;
    return STATUS_OK;
  }
  return fault_in(fault,
                  STATUS_MISSING,
                  path,
                  "there is no track %s; there are %zu, numbered from 1",
                  wanted,
                  file->n_tracks);
}

static Status
take_notes(Take* const take, const size_t track, const Tick lead_in)
{
  const SmfTake* const file = &take->file;
  take->notes               = calloc(file->n_notes + 1, sizeof(*take->notes));
  if (!take->notes) {
    return STATUS_MEMORY;
  }
  for (size_t i = 0; i < file->n_notes; ++i) {
    const SmfNote* const note       = &file->notes[i];
    const bool           is_players = track == no_track
                                        ? note->channel != SMF_DRUM_CHANNEL
                                        : note->track == track;
    if (is_players) {
      take->notes[take->n_notes++] = (Note){
        note->tick - lead_in,
        note->length,
        (uint8_t)note->pitch,
        (uint8_t)note->velocity,
      };
    }
  }
  return STATUS_OK;
}

static int
compare_notes(const void* const left, const void* const right)
{
  const Note* const a = left;
  const Note* const b = right;
  if (a->tick != b->tick) {
    return a->tick < b->tick ? -1 : 1;
  }
  if (a->pitch != b->pitch) {
    return a->pitch - b->pitch;
  }
  return a->length != b->length ? (a->length > b->length ? 1 : -1)
                                : a->velocity - b->velocity;
}

// Puts the notes in an order that does not depend on tracks; of one pitch
// struck twice at a time the longer note stays.
static void
settle_notes(Take* const take)
{
  size_t n = 0;
  qsort(take->notes, take->n_notes, sizeof(*take->notes), compare_notes);
  for (size_t i = 0; i < take->n_notes; ++i) {
    const Note* const note    = &take->notes[i];
    const bool        is_same = n && take->notes[n - 1].tick == note->tick &&
                         take->notes[n - 1].pitch == note->pitch;
    take->notes[is_same ? n - 1 : n++] = *note;
  }
  take->n_notes = n;
}

static Tick
last_onset(const Take* const take)
{
  return take->n_notes ? take->notes[take->n_notes - 1].tick : 0;
}

static double
mean_tempo(const SmfTake* const file)
{
  const double quarters = (double)file->end / TICKS_PER_QUARTER;
  const double seconds  = smf_seconds(file, file->end);
  const double mean =
    seconds > 0.0 ? 60.0 * quarters / seconds : 60e6 / smf_tempo_at(file, 0);
  return round(mean * 100.0) / 100.0;
}

Status
take_load(Take* const       take,
          const char* const path,
          const TakeChoice  choice,
          Fault* const      fault)
{
  *take         = (Take){.notes = NULL};
  Status status = smf_load(&take->file, path, SMF_US_PER_QUARTER, fault);
  if (status) {
    return status;
  }

  size_t track = no_track;
  status       = choose_track(&take->file, path, choice.track, &track, fault);
  if (!status) {
    status = take_notes(
      take, track, (Tick)lround(choice.lead_in_beats * TICKS_PER_QUARTER));
    if (status) {
      (void)fault_in(fault, status, path, "%s", status_text(status));
    }
  }
  if (status) {
    take_free(take);
    return status;
  }
  settle_notes(take);
  take->tempo_bpm = mean_tempo(&take->file);
  take->last      = last_onset(take);
  return STATUS_OK;
}

static void
find_left(Take* const take)
{
  const SmfTake* const file = &take->file;
  for (size_t i = 0; i < file->n_texts; ++i) {
    const SmfText* const text = &file->texts[i];
    if (text->kind == SMF_TEXT &&
        strcmp(smf_text(file, text), RECORDING_LEFT) == 0) {
      take->left = text->tick;
    }
  }
}

Status
take_changes(Take* const take, const char* const path, Fault* const fault)
{
  const Status status =
    changes_read(&take->changes, &take->n_changes, &take->file, fault);
  find_left(take);
  if (status) {
    (void)snprintf(fault->file, sizeof(fault->file), "%s", path);
  }
  return status;
}

void
take_free(Take* const take)
{
  free(take->changes);
  free(take->notes);
  smf_free(&take->file);
  *take = (Take){.notes = NULL};
}

double
take_tempo(const Take* const take)
{
  return fmin(fmax(take->tempo_bpm, TAKE_TEMPO_LEAST), TAKE_TEMPO_MOST);
}

void
take_shift(Take* const take, const Tick by)
{
  for (size_t i = 0; i < take->n_notes; ++i) {
    take->notes[i].tick += by;
  }
  for (size_t i = 0; i < take->n_changes; ++i) {
    take->changes[i].from += by;
  }
  take->left += take->left ? by : 0;
  take->last = last_onset(take);
}

void
take_make_room(Take* const take, const TakeRoom room)
{
  for (size_t i = 0; i < take->n_notes; ++i) {
    Note* const note = &take->notes[i];
    const Tick  place =
      note->tick + room.pick_up > 0 ? note->tick + room.pick_up : 0;
    const Tick chorus = place / room.form * room.form;
    const Tick group  = (place - chorus) / room.group * room.group;
    const Tick left   = room.form - group;
    const Tick length = left < room.group ? left : room.group;
    note->tick += chorus + group + (room.room_first ? length : 0);
  }
  take->last = last_onset(take);
}

static int
compare_keys(const void* const left, const void* const right)
{
  const HeardKey* const a = left;
  const HeardKey* const b = right;
  return a->tick != b->tick ? (a->tick > b->tick) - (a->tick < b->tick)
                            : a->pitch - b->pitch;
}

// The keys that come up, rising by tick. A key struck again before its end
// comes up by that.
static size_t
keys_up(const Take* const take, HeardKey* const ups)
{
  Tick   next[128]; // Where a pitch is struck next
  size_t n = 0;
  for (unsigned pitch = 0; pitch < 128; ++pitch) {
    next[pitch] = INT64_MAX;
  }
  for (size_t i = take->n_notes; i-- > 0;) {
    const Note* const note = &take->notes[i];
    const Tick        end  = note->tick + note->length;
    if (end <= next[note->pitch]) {
      ups[n++] = (HeardKey){end, note->pitch, 0};
    }
    next[note->pitch] = note->tick;
  }
  qsort(ups, n, sizeof(*ups), compare_keys);
  return n;
}

static size_t
merge_keys(const Take* const     take,
           const HeardKey* const ups,
           const size_t          n_ups,
           HeardKey* const       keys)
{
  size_t n  = 0;
  size_t up = 0;
  for (size_t i = 0; i < take->n_notes; ++i) {
    const Note* const note = &take->notes[i];
    while (up < n_ups && ups[up].tick <= note->tick) {
      keys[n++] = ups[up++];
    }
    keys[n++] = (HeardKey){note->tick, note->pitch, note->velocity};
  }
  while (up < n_ups) {
    keys[n++] = ups[up++];
  }
  return n;
}

Status
take_keys(const Take* const take, HeardKey** const keys, size_t* const n_keys)
{
  HeardKey* const ups = calloc(take->n_notes + 1, sizeof(*ups));
  HeardKey* const all = calloc(2 * take->n_notes + 1, sizeof(*all));
  if (!ups || !all) {
    free(ups);
    free(all);
    return STATUS_MEMORY;
  }
  const size_t n_ups = keys_up(take, ups);
  *n_keys            = merge_keys(take, ups, n_ups, all);
  *keys              = all;
  free(ups);
  return STATUS_OK;
}
