#include "core/midi/smf_track.h"

#include "core/midi/smf_sort.h"
#include "core/midi/smf_vlq.h"

#include <stdlib.h>
#include <string.h>

// A walk over the events of one track.
typedef struct {
  SmfReading* reading;
  size_t      at; // Of what comes next; the byte that is wrong, if one is
  size_t      end;
  uint16_t    track;
  uint64_t    file_tick; // From the start of the track, in the file's ticks
  Tick        tick;      // The same in ours
  uint8_t     running;   // Status in force; 0 if none
  uint8_t     broken;    // Status that a meta event or sysex has cancelled
  bool        is_over;   // Whether End of Track was read
  unsigned    n_notes;
  unsigned    n_stray_ends;
} Walk;

// A meta event or sysex.
typedef struct {
  const uint8_t* bytes;
  size_t         length;
  size_t         offset;
} Held;

void*
smf_add(SmfReading* const reading, const SmfListKind kind)
{
  SmfList* const list = &reading->lists[kind];
  if (list->n == list->capacity) {
    const size_t more    = list->capacity + list->capacity / 2 + 8;
    void* const  records = realloc(list->records, more * SMF_RECORD_SIZE);
    if (!records) {
      reading->no_memory = true;
      return NULL;
    }
    list->records  = records;
    list->capacity = more;
  }
  return (char*)list->records + SMF_RECORD_SIZE * list->n++;
}

// From the file's ticks to ours.
static Tick
converted(const SmfReading* const reading, const uint64_t file_tick)
{
  const SmfHeader* const header  = &reading->header;
  const unsigned         quarter = header->ticks_per_quarter;
  if (quarter) {
    return (Tick)((file_tick * TICKS_PER_QUARTER + quarter / 2) / quarter);
  }
  // RP-001: 29 stands for the 30 drop frame of video, 30000/1001 a second.
  const double fps          = header->frames_per_second == 29
                                ? 30000.0 / 1001.0
                                : (double)header->frames_per_second;
  const double ticks_a_tick = 1e6 * TICKS_PER_QUARTER /
                              reading->us_per_quarter /
                              (fps * header->ticks_per_frame);
  const double exact = (double)file_tick * ticks_a_tick + 0.5;
  const double most  = (double)SMF_LAST_TICK * TICKS_PER_QUARTER;
  return (Tick)(exact < most ? exact : most);
}

// Notes

static uint32_t
length_between(const Tick begin, const Tick end)
{
  const Tick length = end - begin;
  return length < 1 ? 1 : length > UINT32_MAX ? UINT32_MAX : (uint32_t)length;
}

static void
begin_note(Walk* const walk, const SmfNote note)
{
  SmfOpenNotes* const open  = &walk->reading->open;
  const unsigned      voice = note.channel * 128U + note.pitch;
  SmfNote* const      place = smf_add(walk->reading, SMF_NOTES);
  if (!place) {
    return;
  }

  *place                = note;
  SmfNote* const notes  = walk->reading->lists[SMF_NOTES].records;
  const uint32_t number = (uint32_t)walk->reading->lists[SMF_NOTES].n;
  if (open->first[voice]) {
    notes[open->last[voice] - 1U].length = number;
  } else {
    open->first[voice] = number;
  }
  open->last[voice] = number;
  ++open->n;
  ++walk->n_notes;
}

// End the note of a voice that was struck first; false if there is none.
static bool
end_note(Walk* const walk, const unsigned voice)
{
  SmfOpenNotes* const open   = &walk->reading->open;
  const uint32_t      number = open->first[voice];
  if (!number) {
    return false;
  }
  SmfNote* const notes = walk->reading->lists[SMF_NOTES].records;
  SmfNote* const note  = &notes[number - 1U];
  open->first[voice]   = note->length;
  note->length         = length_between(note->tick, walk->tick);
  --open->n;
  return true;
}

// What a track leaves sounding ends with it.
static void
end_notes(Walk* const walk)
{
  const size_t n_hanging = walk->reading->open.n;
  for (unsigned voice = 0; walk->reading->open.n; ++voice) {
    while (end_note(walk, voice)) {
    }
  }
  if (n_hanging) {
    smf_warn(&walk->reading->warnings,
             walk->at,
             "notes without an end last to the end of track %u: %zu",
             walk->track,
             n_hanging);
  }
  if (walk->n_stray_ends) {
    smf_warn(&walk->reading->warnings,
             walk->at,
             "ends without a note are left out of track %u: %u",
             walk->track,
             walk->n_stray_ends);
  }
}

static void
add_message(Walk* const   walk,
            const uint8_t status,
            const uint8_t first,
            const uint8_t second)
{
  const uint8_t  channel = status & 0xFU;
  const unsigned kind    = status & 0xF0U;
  ++walk->reading->n_events;
  if (kind == SMF_NOTE_ON && second) {
    begin_note(walk,
               (SmfNote){.tick     = walk->tick,
                         .pitch    = first & 0x7FU,
                         .velocity = second & 0x7FU,
                         .channel  = channel & 0xFU,
                         .track    = walk->track & 0x3FFFU});
  } else if (kind == SMF_NOTE_ON || kind == SMF_NOTE_OFF) {
    walk->n_stray_ends += end_note(walk, channel * 128U + first) ? 0 : 1;
  } else {
    SmfControl* const control = smf_add(walk->reading, SMF_CONTROLS);
    if (control) {
      *control = (SmfControl){walk->tick, walk->track, status, {first, second}};
    }
  }
}

// Meta events

static void
warn_of(Walk* const walk, const Held held, const char* const what)
{
  smf_warn(&walk->reading->warnings, held.offset, "%s is left out", what);
}

static void
add_tempo(Walk* const walk, const Held held)
{
  if (!walk->reading->header.ticks_per_quarter) {
    return; // Frames pass at their own rate
  }
  const uint8_t* const bytes = held.bytes;
  const uint32_t       us_per_quarter =
    held.length < 3
            ? 0
            : (uint32_t)bytes[0] << 16U | (uint32_t)bytes[1] << 8U | bytes[2];
  if (!us_per_quarter) {
    warn_of(walk, held, "a tempo of 0 or of fewer than 3 bytes");
    return;
  }
  SmfTempo* const tempo = smf_add(walk->reading, SMF_TEMPOS);
  if (tempo) {
    *tempo = (SmfTempo){walk->tick, us_per_quarter};
  }
}

static void
add_meter(Walk* const walk, const Held held)
{
  const uint8_t* const bytes = held.bytes;
  if (held.length < 4 || !bytes[0] || bytes[1] > 7) {
    warn_of(walk, held, "a meter that cannot be");
    return;
  }
  SmfMeter* const meter = smf_add(walk->reading, SMF_METERS);
  if (meter) {
    *meter = (SmfMeter){
      walk->tick, bytes[0], (uint16_t)(1U << bytes[1]), bytes[2], bytes[3]};
  }
}

static void
add_key(Walk* const walk, const Held held)
{
  const int sharps = held.length < 2        ? INT8_MAX
                     : held.bytes[0] < 0x80 ? held.bytes[0]
                                            : held.bytes[0] - 0x100;
  if (sharps < -7 || sharps > 7 || held.bytes[1] > 1) {
    warn_of(walk, held, "a key that cannot be");
    return;
  }
  SmfKey* const key = smf_add(walk->reading, SMF_KEYS);
  if (key) {
    *key = (SmfKey){walk->tick, (int8_t)sharps, held.bytes[1]};
  }
}

static void
add_text(Walk* const walk, const uint8_t kind, const Held held)
{
  SmfReading* const reading = walk->reading;
  SmfTrack* const   tracks  = reading->lists[SMF_TRACKS].records;
  SmfText* const    text    = smf_add(reading, SMF_TEXTS);
  const uint32_t    at      = (uint32_t)reading->n_string_bytes;
  if (!text) {
    return;
  }
  if (kind == SMF_TRACK_NAME && !tracks[walk->track].name) {
    tracks[walk->track].name = at;
  }
  memcpy(reading->strings + at, held.bytes, held.length);
  reading->strings[at + held.length] = '\0';
  reading->n_string_bytes += held.length + 1U;
  *text = (SmfText){walk->tick, at, walk->track, kind};
}

// No take has a use for an SMPTE offset, but one that cannot be is a fault.
static void
check_offset(Walk* const walk, const Held held)
{
  const uint8_t* const bytes = held.bytes;
  if (held.length < 5 || (bytes[0] & 0x1FU) > 23 || bytes[1] > 59 ||
      bytes[2] > 59 || bytes[3] > 29 || bytes[4] > 99) {
    warn_of(walk, held, "an SMPTE offset that cannot be");
  }
}

static void
add_meta(Walk* const walk, const uint8_t type, const Held held)
{
  switch (type) {
    case SMF_META_TEMPO:
      add_tempo(walk, held);
      break;
    case SMF_META_METER:
      add_meter(walk, held);
      break;
    case SMF_META_KEY:
      add_key(walk, held);
      break;
    case SMF_META_OFFSET:
      check_offset(walk, held);
      break;
    case SMF_META_END:
      walk->is_over = true;
      break;
    default:
      if (type >= SMF_TEXT && type <= 15) {
        add_text(walk, type, held);
      }
      break;
  }
}

// The walk. Each step stands before what it reads and goes behind it; it
// returns why the track cannot be read on, or NULL.

static void
cancel_running_status(Walk* const walk)
{
  if (walk->running) {
    walk->broken  = walk->running;
    walk->running = 0;
  }
}

// A first data byte above 127 leaves nothing to go by; a second one was meant
// to be loud, or high up.
static const char*
read_message(Walk* const walk, const uint8_t status)
{
  const size_t         n    = smf_has_two(status) ? 2 : 1;
  const uint8_t* const data = walk->reading->file + walk->at;
  if (walk->end - walk->at < n) {
    return "the track ends within a channel message";
  }

  const uint8_t second = n == 2 ? data[1] : 0;
  if (data[0] > 127) {
    smf_warn(&walk->reading->warnings,
             walk->at,
             "a data byte above 127; its message is left out");
  } else if (second > 127) {
    smf_warn(&walk->reading->warnings,
             walk->at + 1,
             "a data byte above 127, taken as 127");
    add_message(walk, status, data[0], 127);
  } else {
    add_message(walk, status, data[0], second);
  }
  walk->running = status;
  walk->at += n;
  return NULL;
}

static void
skip_system(Walk* const walk, const uint8_t status)
{
  smf_warn(&walk->reading->warnings,
           walk->at - 1,
           "a system message, which no MIDI file may hold, is left out");

  // Data bytes as on the wire: two after F2, one after F1 and F3
  unsigned n = status == 0xF2 ? 2 : status == 0xF1 || status == 0xF3 ? 1 : 0;
  for (; n && walk->at < walk->end && walk->reading->file[walk->at] < 0x80U;
       --n) {
    ++walk->at;
  }
  if (status < 0xF8U) { // Real-time messages leave the running status alone
    cancel_running_status(walk);
  }
}

static const char*
read_held(Walk* const walk, const uint8_t status)
{
  const uint8_t* const file = walk->reading->file;
  uint8_t              type = 0;
  if (status == SMF_META) {
    if (walk->at == walk->end) {
      return "the track ends within a meta event";
    }
    type = file[walk->at++];
  }

  uint32_t       length = 0;
  const size_t   left   = walk->end - walk->at;
  const unsigned n      = smf_vlq_read(file + walk->at, left, &length);
  if (!n) {
    return "a length that is cut off or has more than 4 bytes";
  }
  if (length > left - n) {
    return status == SMF_META
             ? "a meta event longer than its track"
             : "a system exclusive message longer than its track";
  }

  cancel_running_status(walk);
  walk->at += n;
  ++walk->reading->n_events;
  if (status == SMF_META) {
    add_meta(walk, type, (Held){file + walk->at, length, walk->at});
  }
  walk->at += length;
  return NULL;
}

static const char*
read_time(Walk* const walk)
{
  uint32_t     delta = 0;
  const size_t left  = walk->end - walk->at;
  if (!left) {
    return "the track has no End of Track";
  }
  const unsigned n = smf_vlq_read(walk->reading->file + walk->at, left, &delta);
  if (!n) {
    return "a time that is cut off or has more than 4 bytes";
  }
  if (walk->file_tick + delta > SMF_LAST_TICK) {
    return "a time beyond all counting";
  }
  walk->at += n;
  if (walk->at == walk->end) {
    return "the track ends within an event";
  }
  if (delta) {
    walk->file_tick += delta;
    walk->tick = converted(walk->reading, walk->file_tick);
  }
  return NULL;
}

static const char*
read_event(Walk* const walk)
{
  const char* const damage = read_time(walk);
  if (damage) {
    return damage;
  }

  const uint8_t byte = walk->reading->file[walk->at];
  if (byte < 0x80U) {
    if (!walk->running && !walk->broken) {
      return "a data byte where the track has had no status yet";
    }
    if (!walk->running) {
      smf_warn(
        &walk->reading->warnings,
        walk->at,
        "running status after a meta event or sysex, taken as before it");
    }
    return read_message(walk, walk->running ? walk->running : walk->broken);
  }

  ++walk->at;
  if (byte < SMF_SYSEX) {
    return read_message(walk, byte);
  }
  if (byte == SMF_SYSEX || byte == SMF_ESCAPE || byte == SMF_META) {
    return read_held(walk, byte);
  }
  skip_system(walk, byte);
  return NULL;
}

size_t
smf_track_read(SmfReading* const reading, const SmfSpan* const span)
{
  const size_t    index = reading->lists[SMF_TRACKS].n;
  SmfTrack* const track = smf_add(reading, SMF_TRACKS);
  if (!track) {
    return span->end;
  }

  *track    = (SmfTrack){0};
  Walk walk = {
    .reading = reading,
    .at      = span->begin,
    .end     = span->end,
    .track   = (uint16_t)index,
  };
  const char* damage = NULL;
  while (!walk.is_over && !damage && !reading->no_memory) {
    damage = read_event(&walk);
  }
  if (damage) {
    smf_warn(&reading->warnings, walk.at, "%s", damage);
    if (!reading->damage) {
      reading->damage        = damage;
      reading->damage_offset = walk.at;
    }
  }
  end_notes(&walk);
  track->end     = walk.tick;
  track->n_notes = walk.n_notes;
  return damage ? span->end : walk.at;
}
