#include "core/midi/smf_open_notes.h"

static unsigned
voice_of(const unsigned channel, const unsigned pitch)
{
  return channel * 128U + pitch;
}

static uint32_t
length_between(const Tick begin, const Tick end)
{
  const Tick length = end - begin;
  return length < 1 ? 1 : length > UINT32_MAX ? UINT32_MAX : (uint32_t)length;
}

static void
end_first(SmfOpenNotes* const open,
          SmfNote* const      notes,
          const unsigned      voice,
          const Tick          tick)
{
  SmfNote* const note = &notes[open->first[voice] - 1U];
  open->first[voice]  = note->length;
  note->length        = length_between(note->tick, tick);
  --open->n;
}

void
smf_open_notes_add(SmfOpenNotes* const open,
                   SmfNote* const      notes,
                   const uint32_t      index)
{
  const unsigned voice = voice_of(notes[index].channel, notes[index].pitch);
  if (open->first[voice]) {
    notes[open->last[voice] - 1U].length = index + 1U;
  } else {
    open->first[voice] = index + 1U;
  }
  open->last[voice] = index + 1U;
  ++open->n;
}

bool
smf_open_notes_end(SmfOpenNotes* const open,
                   SmfNote* const      notes,
                   const unsigned      channel,
                   const unsigned      pitch,
                   const Tick          tick)
{
  const unsigned voice = voice_of(channel, pitch);
  if (!open->first[voice]) {
    return false;
  }
  end_first(open, notes, voice, tick);
  return true;
}

uint32_t
smf_open_notes_end_all(SmfOpenNotes* const open,
                       SmfNote* const      notes,
                       const Tick          tick)
{
  const uint32_t n = open->n;
  for (unsigned voice = 0; open->n; ++voice) {
    while (open->first[voice]) {
      end_first(open, notes, voice, tick);
    }
  }
  return n;
}
