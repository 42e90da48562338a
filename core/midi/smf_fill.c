#include "core/midi/smf_fill.h"

#include "core/midi/smf_open_notes.h"

#include <string.h>

// From the file's ticks to ours.
typedef struct {
  unsigned ticks_per_quarter; // 0 if the file counts frames
  unsigned multiple;          // Ours in one of its, if they are a whole number
  double   our_ticks;         // One of its ticks then
  uint64_t file_tick;         // The last that was asked for,
  Tick     tick;              // and its answer
} Scale;

typedef struct {
  SmfLists*      lists;
  SmfWarnings*   warnings;
  const uint8_t* file;
  Scale          scale;
  unsigned       track;
  uint32_t       n_stray_ends; // Of this track
  SmfOpenNotes   open;
} Filling;

static Scale
scale_of(const SmfHeader* const header, const unsigned us_per_quarter)
{
  const unsigned quarter = header->ticks_per_quarter;
  Scale          scale   = {.ticks_per_quarter = quarter};
  if (quarter && TICKS_PER_QUARTER % quarter == 0) {
    scale.multiple = TICKS_PER_QUARTER / quarter;
  }
  if (header->frames_per_second) {
    // RP-001: 29 stands for the 30 drop frame of video, 30000/1001 a second.
    const double fps = header->frames_per_second == 29
                         ? 30000.0 / 1001.0
                         : (double)header->frames_per_second;
    scale.our_ticks  = 1e6 * TICKS_PER_QUARTER / us_per_quarter /
                      (fps * header->ticks_per_frame);
  }
  return scale;
}

static Tick
converted(const Scale* const scale, const uint64_t file_tick)
{
  if (!scale->ticks_per_quarter) {
    const double exact = (double)file_tick * scale->our_ticks + 0.5;
    const double most  = (double)SMF_LAST_TICK * TICKS_PER_QUARTER;
    return (Tick)(exact < most ? exact : most);
  }
  const unsigned quarter = scale->ticks_per_quarter;
  const uint64_t scaled  = file_tick * TICKS_PER_QUARTER + quarter / 2;
  return scaled <= UINT32_MAX ? (Tick)((uint32_t)scaled / quarter) // Faster
                              : (Tick)(scaled / quarter);
}

static Tick
tick_of(Filling* const filling, const SmfEvent* const event)
{
  Scale* const scale = &filling->scale;
  if (scale->multiple) {
    return (Tick)(event->tick * scale->multiple);
  }
  if (event->tick != scale->file_tick) {
    scale->file_tick = event->tick;
    scale->tick      = converted(scale, event->tick);
  }
  return scale->tick;
}

static unsigned
voice_of(const SmfEvent* const event)
{
  return smf_voice_of(event->status & 0xFU, event->data[0]);
}

static void
add_note(Filling* const filling, const SmfEvent* const event)
{
  SmfLists* const lists = filling->lists;
  const uint32_t  index = (uint32_t)lists->n[SMF_KIND_NOTE]++;
  lists->notes[index]   = (SmfNote){
      .tick     = tick_of(filling, event),
      .pitch    = event->data[0] & 0x7FU,
      .velocity = event->data[1] & 0x7FU,
      .channel  = event->status & 0xFU,
      .track    = filling->track & 0x3FFFU,
  };
  smf_open_notes_add(&filling->open, lists->notes, voice_of(event), index);
}

static void
end_note(Filling* const filling, const SmfEvent* const event)
{
  if (!smf_open_notes_end(&filling->open,
                          filling->lists->notes,
                          voice_of(event),
                          tick_of(filling, event))) {
    ++filling->n_stray_ends;
  }
}

static void
add_control(Filling* const filling, const SmfEvent* const event)
{
  SmfLists* const lists                         = filling->lists;
  lists->controls[lists->n[SMF_KIND_CONTROL]++] = (SmfControl){
    .tick   = tick_of(filling, event),
    .track  = (uint16_t)filling->track,
    .status = event->status,
    .data   = {event->data[0], event->data[1]},
  };
}

static void
warn_of(Filling* const        filling,
        const SmfEvent* const event,
        const char* const     what)
{
  const size_t offset = (size_t)(event->bytes - filling->file);
  smf_warn(filling->warnings, offset, "%s is left out", what);
}

static void
add_tempo(Filling* const filling, const SmfEvent* const event)
{
  if (!filling->scale.ticks_per_quarter) {
    return; // Frames pass at their own rate
  }

  const uint8_t* const bytes = event->bytes;
  const uint32_t       us_per_quarter =
    event->length < 3
            ? 0
            : (uint32_t)bytes[0] << 16U | (uint32_t)bytes[1] << 8U | bytes[2];
  if (!us_per_quarter) {
    warn_of(filling, event, "a tempo of 0 or of fewer than 3 bytes");
    return;
  }
  SmfLists* const lists = filling->lists;
  lists->tempos[lists->n[SMF_KIND_TEMPO]++] =
    (SmfTempo){tick_of(filling, event), us_per_quarter};
}

static void
add_meter(Filling* const filling, const SmfEvent* const event)
{
  const uint8_t* const bytes = event->bytes;
  if (event->length < 4 || !bytes[0] || bytes[1] > 7) {
    warn_of(filling, event, "a meter that cannot be");
    return;
  }
  SmfLists* const lists                     = filling->lists;
  lists->meters[lists->n[SMF_KIND_METER]++] = (SmfMeter){
    .tick            = tick_of(filling, event),
    .beats           = bytes[0],
    .unit            = (uint16_t)(1U << bytes[1]),
    .clocks_a_click  = bytes[2],
    .n32_per_quarter = bytes[3],
  };
}

static void
add_key(Filling* const filling, const SmfEvent* const event)
{
  const int sharps = event->length < 2        ? INT8_MAX
                     : event->bytes[0] < 0x80 ? event->bytes[0]
                                              : event->bytes[0] - 0x100;
  if (sharps < -7 || sharps > 7 || event->bytes[1] > 1) {
    warn_of(filling, event, "a key that cannot be");
    return;
  }
  SmfLists* const lists = filling->lists;
  lists->keys[lists->n[SMF_KIND_KEY]++] =
    (SmfKey){tick_of(filling, event), (int8_t)sharps, event->bytes[1]};
}

static void
add_text(Filling* const filling, const SmfEvent* const event)
{
  SmfLists* const lists = filling->lists;
  SmfTrack* const track = &lists->tracks[filling->track];
  const uint32_t  at    = (uint32_t)lists->n_string_bytes;
  if (event->data[0] == SMF_TRACK_NAME && !track->name) {
    track->name = at;
  }

  memcpy(lists->strings + at, event->bytes, event->length);
  lists->strings[at + event->length] = '\0';
  lists->n_string_bytes += event->length + 1U;
  lists->texts[lists->n[SMF_KIND_TEXT]++] = (SmfText){
    .tick  = tick_of(filling, event),
    .at    = at,
    .track = (uint16_t)filling->track,
    .kind  = event->data[0],
  };
}

// No take has a use for an SMPTE offset, but one that cannot be is a fault.
static void
check_offset(Filling* const filling, const SmfEvent* const event)
{
  if (event->status != SMF_META || event->data[0] != SMF_META_OFFSET) {
    return;
  }
  const uint8_t* const bytes = event->bytes;
  if (event->length < 5 || (bytes[0] & 0x1FU) > 23 || bytes[1] > 59 ||
      bytes[2] > 59 || bytes[3] > 29 || bytes[4] > 99) {
    warn_of(filling, event, "an SMPTE offset that cannot be");
  }
}

static inline void
add_message(Filling* const filling, const SmfEvent* const event)
{
  switch (smf_kind_of(event)) {
    case SMF_KIND_NOTE:
      add_note(filling, event);
      break;
    case SMF_KIND_NOTE_OFF:
      end_note(filling, event);
      break;
    default:
      add_control(filling, event);
      break;
  }
}

static void
add_other(Filling* const filling, const SmfEvent event)
{
  switch (smf_kind_of(&event)) {
    case SMF_KIND_TEMPO:
      add_tempo(filling, &event);
      break;
    case SMF_KIND_METER:
      add_meter(filling, &event);
      break;
    case SMF_KIND_KEY:
      add_key(filling, &event);
      break;
    case SMF_KIND_TEXT:
      add_text(filling, &event);
      break;
    default:
      check_offset(filling, &event);
      break;
  }
}

static void
end_track(Filling* const filling,
          const uint64_t tick,
          const size_t   offset,
          const size_t   n_notes_before)
{
  SmfLists* const lists = filling->lists;
  SmfTrack* const track = &lists->tracks[filling->track];
  track->end            = converted(&filling->scale, tick);
  track->n_notes        = (uint32_t)(lists->n[SMF_KIND_NOTE] - n_notes_before);

  const unsigned n_hanging =
    smf_open_notes_end_all(&filling->open, lists->notes, track->end);
  if (n_hanging) {
    smf_warn(filling->warnings,
             offset,
             "notes without an end last to the end of track %u: %u",
             filling->track,
             n_hanging);
  }
  if (filling->n_stray_ends) {
    smf_warn(filling->warnings,
             offset,
             "ends without a note are left out of track %u: %u",
             filling->track,
             (unsigned)filling->n_stray_ends);
  }
  filling->n_stray_ends = 0;
}

// Fill in a track; return where it ends.
static size_t
fill_track(Filling* const filling, const SmfSpan* const span)
{
  const size_t n_before = filling->lists->n[SMF_KIND_NOTE];
  SmfEvents    events = smf_events_begin(filling->file, span->begin, span->end);
  SmfEvent     event  = {.tick = 0};
  SmfItem      item   = SMF_ODD;
  while (item != SMF_END && item != SMF_STOP) {
    item = smf_events_next(&events, &event);
    if (item >= SMF_ODD) {
      smf_warn(filling->warnings, event.offset, "%s", event.problem);
    }
    if (item == SMF_CHANNEL || item == SMF_ODD_CHANNEL) {
      add_message(filling, &event);
    } else if (item == SMF_OTHER) {
      add_other(filling, event);
    }
  }

  const size_t offset =
    item == SMF_STOP ? event.offset : smf_events_offset(&events);
  end_track(filling, event.tick, offset, n_before);
  return item == SMF_STOP ? span->end : offset;
}

void
smf_fill(SmfLists* const        lists,
         SmfChunks              chunks,
         const SmfHeader* const header,
         const unsigned         us_per_quarter,
         SmfWarnings* const     warnings)
{
  Filling filling = {
    .lists    = lists,
    .warnings = warnings,
    .file     = chunks.bytes,
    .scale    = scale_of(header, us_per_quarter),
  };
  lists->strings[0]     = '\0';
  lists->n_string_bytes = 1;
  if (header->frames_per_second) {
    lists->tempos[lists->n[SMF_KIND_TEMPO]++] = (SmfTempo){0, us_per_quarter};
  }

  SmfSpan span;
  while (smf_chunks_next(&chunks, &span, warnings)) {
    size_t end = span.end;
    if (lists->n_tracks < SMF_TRACK_CAPACITY) {
      filling.track                  = (unsigned)lists->n_tracks;
      lists->tracks[lists->n_tracks] = (SmfTrack){0};
      end                            = fill_track(&filling, &span);
      ++lists->n_tracks;
    }
    smf_chunks_leave(&chunks, &span, end, warnings);
  }
}
