#include "core/midi/smf_events.h"

#include "core/midi/smf_vlq.h"

static size_t
bytes_left(const SmfEvents* const events)
{
  return (size_t)(events->end - events->at);
}

static SmfItem
problem(const SmfEvents* const events,
        SmfEvent* const        event,
        const SmfItem          item,
        const char* const      text)
{
  event->tick    = events->tick;
  event->offset  = smf_events_offset(events);
  event->problem = text;
  return item;
}

// A first data byte above 127 leaves nothing to go by; a second one was meant
// to be loud, or high up.
static SmfItem
odd_channel(SmfEvents* const events, SmfEvent* const event)
{
  if (events->at[0] & 0x80U) {
    const SmfItem item = problem(
      events, event, SMF_ODD, "a data byte above 127; its message is left out");
    events->at += 1 + events->has_two;
    return item;
  }

  ++events->at; // To name the byte
  const SmfItem item = problem(
    events, event, SMF_ODD_CHANNEL, "a data byte above 127, taken as 127");
  event->status  = events->running;
  event->data[0] = events->at[-1];
  event->data[1] = 127;
  event->length  = 0;
  ++events->at;
  return item;
}

static SmfItem
next_channel(SmfEvents* const events, SmfEvent* const event)
{
  const unsigned n = 1U + events->has_two;
  if (bytes_left(events) < n) {
    return problem(
      events, event, SMF_STOP, "the track ends within a channel message");
  }

  const uint8_t first  = events->at[0];
  const uint8_t second = n > 1 ? events->at[1] : 0;
  if ((first | second) & 0x80U) {
    return odd_channel(events, event);
  }
  events->at += n;
  event->tick    = events->tick;
  event->status  = events->running;
  event->data[0] = first;
  event->data[1] = second;
  event->length  = 0;
  return SMF_CHANNEL;
}

static void
cancel_running_status(SmfEvents* const events)
{
  if (events->running) {
    events->broken  = events->running;
    events->running = 0;
  }
}

static SmfItem
next_system(SmfEvents* const events,
            SmfEvent* const  event,
            const uint8_t    status)
{
  --events->at; // To name the byte
  const SmfItem item =
    problem(events,
            event,
            SMF_ODD,
            "a system message, which no MIDI file may hold, is left out");
  ++events->at;

  // Data bytes as on the wire: two after F2, one after F1 and F3
  unsigned n = status == 0xF2 ? 2 : status == 0xF1 || status == 0xF3 ? 1 : 0;
  for (; n && bytes_left(events) && !(*events->at & 0x80U); --n) {
    ++events->at;
  }
  if (status < 0xF8U) { // Real-time messages leave the running status alone
    cancel_running_status(events);
  }
  return item;
}

static SmfItem
next_other(SmfEvents* const events, SmfEvent* const event, const uint8_t status)
{
  const bool is_meta = status == SMF_META;
  uint8_t    type    = 0;
  if (is_meta) {
    if (!bytes_left(events)) {
      return problem(
        events, event, SMF_STOP, "the track ends within a meta event");
    }
    type = *events->at++;
  }

  uint32_t       length = 0;
  const unsigned n      = smf_vlq_read(events->at, bytes_left(events), &length);
  if (!n) {
    return problem(events,
                   event,
                   SMF_STOP,
                   "a length that is cut off or has more than 4 bytes");
  }
  if (length > bytes_left(events) - n) {
    return problem(events,
                   event,
                   SMF_STOP,
                   is_meta ? "a meta event longer than its track"
                           : "a system exclusive message longer than its "
                             "track");
  }

  cancel_running_status(events);
  event->tick    = events->tick;
  event->status  = status;
  event->data[0] = type;
  event->data[1] = 0;
  event->bytes   = events->at + n;
  event->length  = length;
  events->at += n + length;
  return is_meta && type == SMF_META_END ? SMF_END : SMF_OTHER;
}

// A data byte where a status should stand; `start` is where the event begins.
static SmfItem
next_without_status(SmfEvents* const     events,
                    SmfEvent* const      event,
                    const uint8_t* const start)
{
  if (!events->broken) {
    return problem(events,
                   event,
                   SMF_STOP,
                   "a data byte where the track has had no status yet");
  }

  const SmfItem item =
    problem(events,
            event,
            SMF_ODD,
            "running status after a meta event or sysex, taken as before it");
  events->running = events->broken;
  events->has_two = smf_has_two(events->broken);
  events->at      = start; // Read again, now with a status
  return item;
}

SmfEvents
smf_events_begin(const uint8_t* const file,
                 const size_t         begin,
                 const size_t         end)
{
  return (SmfEvents){.file = file, .at = file + begin, .end = file + end};
}

SmfItem
smf_events_next_any(SmfEvents* const events, SmfEvent* const event)
{
  const uint8_t* const start = events->at;
  if (!bytes_left(events)) {
    return problem(events, event, SMF_STOP, "the track has no End of Track");
  }

  uint32_t       delta = 0;
  const unsigned n     = smf_vlq_read(start, bytes_left(events), &delta);
  if (!n) {
    return problem(events,
                   event,
                   SMF_STOP,
                   "a time that is cut off or has more than 4 bytes");
  }
  if (events->tick + delta > SMF_LAST_TICK) {
    return problem(events, event, SMF_STOP, "a time beyond all counting");
  }

  events->at += n;
  if (!bytes_left(events)) {
    return problem(events, event, SMF_STOP, "the track ends within an event");
  }

  const uint8_t byte = *events->at;
  if (!(byte & 0x80U) && !events->running) {
    return next_without_status(events, event, start);
  }

  events->tick += delta;
  if (!(byte & 0x80U)) {
    return next_channel(events, event);
  }

  ++events->at;
  if (byte < SMF_SYSEX) {
    events->running = byte;
    events->has_two = smf_has_two(byte);
    return next_channel(events, event);
  }
  return byte == SMF_SYSEX || byte == SMF_ESCAPE || byte == SMF_META
           ? next_other(events, event, byte)
           : next_system(events, event, byte);
}
