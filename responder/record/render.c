#include "responder/record/render.h"

#include "core/midi/smf_reader.h"
#include "core/midi_message.h"
#include "core/sound/sound.h"
#include "responder/record/changes.h"

#include <math.h>
#include <stdlib.h>

static int
compare_events(const void* const left, const void* const right)
{
  const SoundEvent* const a = left;
  const SoundEvent* const b = right;
  if (a->time_us != b->time_us) {
    return a->time_us < b->time_us ? -1 : 1;
  }
  // Controls and programs, then ends, then beginnings: B0, C0, 80, 90
  const int rank_a = (a->status & 0xF0) < 0xA0 ? a->status & 0xF0 : 0;
  const int rank_b = (b->status & 0xF0) < 0xA0 ? b->status & 0xF0 : 0;
  if (rank_a != rank_b) {
    return rank_a - rank_b;
  }
  if (a->status != b->status) {
    return a->status - b->status;
  }
  return a->data1 - b->data1;
}

static size_t
sound_events(const Conversation* const conversation,
             const Rendering* const    rendering,
             SoundEvent* const         events)
{
  size_t n = 0;
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    const ChoiceSound sound   = rendering->sounds[part];
    const uint8_t     channel = conversation_channel(part);
    events[n++]               = (SoundEvent){
                    0, (uint8_t)(MIDI_CONTROL | channel), MIDI_VOLUME, sound.level};
    events[n++] =
      (SoundEvent){0, (uint8_t)(MIDI_PROGRAM | channel), sound.program, 0};
  }
  const double bpm = rendering->tempo_bpm;
  for (size_t i = 0; i < conversation->n_notes; ++i) {
    const Note    note    = conversation->notes[i].note;
    const uint8_t channel = conversation_channel(conversation->notes[i].part);
    const Tick    end     = note.tick + note.length;
    events[n++] =
      (SoundEvent){llround(changes_us(conversation, bpm, note.tick)),
                   (uint8_t)(MIDI_NOTE_ON | channel),
                   note.pitch,
                   note.velocity};
    events[n++] = (SoundEvent){llround(changes_us(conversation, bpm, end)),
                               (uint8_t)(MIDI_NOTE_OFF | channel),
                               note.pitch,
                               0};
  }
  qsort(events, n, sizeof(*events), compare_events);
  return n;
}

Status
render_conversation(const Conversation* const conversation,
                    const Rendering* const    rendering,
                    const char* const         path,
                    Fault* const              fault)
{
  const size_t      most   = 2 * conversation->n_notes + 2 * N_PARTS;
  SoundEvent* const events = calloc(most, sizeof(*events));
  if (!events) {
    return fault_memory(fault, path);
  }
  const size_t n_events = sound_events(conversation, rendering, events);
  if (events[n_events - 1].time_us > SOUND_LONGEST_S * INT64_C(1000000)) {
    free(events);
    return fault_in(fault,
                    STATUS_RANGE,
                    path,
                    "the conversation lasts longer than %d hours, the most "
                    "for sound; fewer --choruses or a faster --tempo shorten "
                    "it",
                    SOUND_LONGEST_S / 3600);
  }
  SoundReport  report;
  const Status status = sound_render(
    path, events, n_events, rendering->font, rendering->watch, &report, fault);
  free(events);
  return status;
}
