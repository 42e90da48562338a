#include "responder/record/conversation.h"

#include <stdlib.h>

enum { DRUM_CHANNEL = 9 }; ///< General MIDI's channel 10

static const uint8_t channels[N_PARTS] = {
  [PART_PLAYER]  = 0,
  [PART_PARTNER] = 1,
  [PART_CHORDS]  = 2,
  [PART_BASS]    = 3,
  [PART_DRUMS]   = DRUM_CHANNEL,
};

uint8_t
conversation_channel(const Part part)
{
  return channels[part];
}

Status
conversation_add(Conversation* const conversation, const PartNote note)
{
  if (conversation->n_notes == conversation->capacity) {
    const size_t    capacity = 2 * conversation->capacity + 1024;
    PartNote* const notes =
      realloc(conversation->notes, capacity * sizeof(*notes));
    if (!notes) {
      return STATUS_MEMORY;
    }
    conversation->notes    = notes;
    conversation->capacity = capacity;
  }
  conversation->notes[conversation->n_notes++] = note;
  return STATUS_OK;
}

static Status
release(Conversation* const conversation, const uint8_t pitch, const Tick tick)
{
  Note* const held = &conversation->held[pitch];
  if (!held->velocity) {
    return STATUS_OK;
  }
  held->length    = tick > held->tick ? tick - held->tick : 1;
  const Note note = *held;
  held->velocity  = 0;
  return conversation_add(conversation, (PartNote){note, PART_PLAYER});
}

Status
conversation_hear(Conversation* const conversation, const HeardKey key)
{
  const Status status = release(conversation, key.pitch, key.tick);
  if (key.velocity) {
    conversation->held[key.pitch] =
      (Note){key.tick, 0, key.pitch, key.velocity};
  }
  return status;
}

Status
conversation_release(Conversation* const conversation, const Tick tick)
{
  for (unsigned pitch = 0; pitch < 128; ++pitch) {
    if (release(conversation, (uint8_t)pitch, tick)) {
      return STATUS_MEMORY;
    }
  }
  return STATUS_OK;
}

Status
conversation_leave(Conversation* const conversation, const Tick tick)
{
  size_t       n      = 0;
  const Status status = conversation_release(conversation, tick);
  for (size_t i = 0; i < conversation->n_notes; ++i) {
    PartNote part = conversation->notes[i];
    if (part.note.tick < tick) {
      part.note.length = tick_least(part.note.length, tick - part.note.tick);
      conversation->notes[n++] = part;
    }
  }
  conversation->n_notes = n;
  conversation->last    = tick;
  conversation->is_left = true;
  return status;
}

Status
conversation_change(Conversation* const conversation,
                    const SessionChange change)
{
  const size_t         n = conversation->n_changes + 1;
  SessionChange* const changes =
    realloc(conversation->changes, n * sizeof(*changes));
  if (!changes) {
    return STATUS_MEMORY;
  }
  changes[n - 1]          = change;
  conversation->changes   = changes;
  conversation->n_changes = n;
  return STATUS_OK;
}

static int
compare_notes(const void* const left, const void* const right)
{
  const PartNote* const a = left;
  const PartNote* const b = right;
  if (a->note.tick != b->note.tick) {
    return a->note.tick < b->note.tick ? -1 : 1;
  }
  if (a->part != b->part) {
    return a->part < b->part ? -1 : 1;
  }
  if (a->note.pitch != b->note.pitch) {
    return a->note.pitch - b->note.pitch;
  }
  return (a->note.length > b->note.length) - (a->note.length < b->note.length);
}

void
conversation_sort(Conversation* const conversation)
{
  if (conversation->n_notes) {
    qsort(conversation->notes,
          conversation->n_notes,
          sizeof(*conversation->notes),
          compare_notes);
  }
}

void
conversation_free(Conversation* const conversation)
{
  free(conversation->notes);
  free(conversation->changes);
  *conversation = (Conversation){.notes = NULL};
}
