/// @file core/midi/smf_events.h The events of one track, one after another.
///
/// Nothing is allocated or copied: a walk over the bytes of the file, which
/// stay the caller's and must outlive it. What is wrong comes as an item of its
/// own, so that the caller decides what a warning is worth:
///
/// | found                                      | item            | then      |
/// | ------------------------------------------ | --------------- | --------- |
/// | running status after a meta event or sysex | SMF_ODD         | it counts |
/// | a system message, F1-F6 or F8-FE           | SMF_ODD         | it is out |
/// | a first data byte above 127                | SMF_ODD         | it is out |
/// | a second data byte above 127               | SMF_ODD_CHANNEL | it is 127 |
/// | a data byte before any status              | SMF_STOP        |           |
/// | a time or length of more than 4 bytes      | SMF_STOP        |           |
/// | an event that passes the end of the track  | SMF_STOP        |           |
/// | no End of Track                            | SMF_STOP        |           |
/// | a time beyond SMF_LAST_TICK                | SMF_STOP        |           |

#ifndef CORE_MIDI_SMF_EVENTS_H
#define CORE_MIDI_SMF_EVENTS_H

#include "core/midi/smf.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/// A track's time stops here: in ticks of 960, it still fits 64 bits.
#define SMF_LAST_TICK ((uint64_t)1 << 48U)

typedef enum {
  SMF_CHANNEL,     ///< A channel message
  SMF_OTHER,       ///< A meta event or sysex
  SMF_END,         ///< End of Track
  SMF_ODD,         ///< Something wrong and no event; reading goes on
  SMF_ODD_CHANNEL, ///< A channel message with something wrong
  SMF_STOP,        ///< Something wrong: the track can be read no further
} SmfItem;

typedef struct {
  uint64_t       tick;    ///< From the start of the track, in the file's ticks
  uint8_t        status;  ///< 80..EF with its channel, F0, F7 or FF
  uint8_t        data[2]; ///< Data bytes; of a meta event its type and 0
  uint32_t       length;  ///< Bytes at `bytes`; 0 for channel messages
  const uint8_t* bytes;   ///< What a meta event or sysex holds
  size_t         offset;  ///< SMF_ODD and below: the byte that is wrong
  const char*    problem; ///< SMF_ODD and below: a static text; else unset
} SmfEvent;

/// A walk over one track; made by smf_events_begin().
typedef struct {
  const uint8_t* at;
  uint8_t        running; ///< Status in force; 0 if none
  bool           has_two; ///< Whether two data bytes follow it
  uint8_t        broken;  ///< Status that a meta event or sysex has cancelled
  uint64_t       tick;
  const uint8_t* end;
  const uint8_t* file;
} SmfEvents;

/// Return whether a channel message has two data bytes: Cn and Dn have one.
static inline bool
smf_has_two(const uint8_t status)
{
  return (status & 0xE0U) != SMF_PROGRAM;
}

/// Stand before the first event of a track that lies at file[begin..end).
SmfEvents
smf_events_begin(const uint8_t* file, size_t begin, size_t end);

/// Return the offset in the file of what comes next.
static inline size_t
smf_events_offset(const SmfEvents* const events)
{
  return (size_t)(events->at - events->file);
}

/// Read any event: what smf_events_next() does when it is not a plain one.
SmfItem
smf_events_next_any(SmfEvents* events, SmfEvent* event);

// The walk is copied for the call, so that the loop around it can keep its own
// in registers: no address of it leaves the loop.
static inline SmfItem
smf_events_next_slowly(SmfEvents* const events, SmfEvent* const event)
{
  SmfEvents     walk  = *events;
  SmfEvent      found = {.tick = 0};
  const SmfItem item  = smf_events_next_any(&walk, &found);
  *events             = walk;
  *event              = found;
  return item;
}

// Take a channel message whose data begin at `at`, if they are data.
static inline SmfItem
smf_events_take(SmfEvents* const     events,
                SmfEvent* const      event,
                const uint8_t* const at,
                const uint32_t       delta,
                const uint8_t        status,
                const bool           has_two)
{
  const uint8_t first  = at[0];
  const uint8_t second = has_two ? at[1] : 0;
  if ((first | second) & 0x80U) {
    return smf_events_next_slowly(events, event);
  }

  // No need to look at SMF_LAST_TICK: a whole file of such short times would
  // not go far beyond it.
  events->at      = at + 1 + has_two;
  events->tick    = events->tick + delta;
  events->running = status;
  events->has_two = has_two;
  event->tick     = events->tick;
  event->status   = status;
  event->data[0]  = first;
  event->data[1]  = second;
  event->length   = 0;
  return SMF_CHANNEL;
}

/**
   Read the next event. Not to be called again after SMF_END or SMF_STOP.

   It stands here so that the loop around it can be one piece: nearly all events
   are channel messages with a time of one or two bytes.

   @param[out] event Holds `tick`, `status`, `data` and `length`, or `tick`,
   `offset` and `problem`; the rest is left as it was.
*/
static inline SmfItem
smf_events_next(SmfEvents* const events, SmfEvent* const event)
{
  enum { LONGEST = 5 }; // Two bytes of time, status, two of data
  if (events->end - events->at < LONGEST) {
    return smf_events_next_slowly(events, event);
  }

  const uint8_t* at    = events->at;
  uint32_t       delta = *at++;
  if (delta & 0x80U) {
    delta = (delta & 0x7FU) << 7U | (*at & 0x7FU);
    if (*at++ & 0x80U) {
      return smf_events_next_slowly(events, event);
    }
  }

  // Two ways, so that where the next event begins follows from what has been,
  // and need not wait for this byte.
  const uint8_t byte = *at;
  if (byte < SMF_NOTE_OFF && events->running) {
    return smf_events_take(
      events, event, at, delta, events->running, events->has_two);
  }
  if (byte >= SMF_NOTE_OFF && byte < SMF_SYSEX) {
    return smf_events_take(
      events, event, at + 1, delta, byte, smf_has_two(byte));
  }
  return smf_events_next_slowly(events, event);
}

#endif // CORE_MIDI_SMF_EVENTS_H
