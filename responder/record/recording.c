#include "responder/record/recording.h"

#include "core/midi/smf_reader.h"
#include "core/midi_message.h"
#include "responder/record/changes.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char* const part_names[N_PARTS] = {
  [PART_PLAYER]  = "player",
  [PART_PARTNER] = "partner",
  [PART_CHORDS]  = "chords",
  [PART_BASS]    = "bass",
  [PART_DRUMS]   = "drums",
};

static uint32_t
us_per_quarter(const Recording* const recording)
{
  return (uint32_t)lround(60e6 / recording->session->tempo_bpm);
}

// As a file

void
recording_write_head(SmfWriter* const          writer,
                     const Recording* const    recording,
                     const Conversation* const conversation)
{
  const Chart* const chart       = recording->session->chart;
  const bool         is_compound = meter_is_compound(chart->meter);
  smf_writer_tempo(writer, (SmfTempo){0, us_per_quarter(recording)});
  smf_writer_meter(writer,
                   (SmfMeter){.beats           = chart->meter.numerator,
                              .unit            = chart->meter.denominator,
                              .clocks_a_click  = is_compound ? 36 : 24,
                              .n32_per_quarter = 8});
  smf_writer_key(
    writer,
    (SmfKey){0, (int8_t)key_signature(chart->key), chart->key.is_minor});
  smf_writer_end(writer, 0, conversation->last - conversation->first);
}

static void
write_markers(SmfWriter* const          writer,
              const Recording* const    recording,
              const Conversation* const conversation)
{
  const SessionOptions* const session = recording->session;
  const TurnPlan              plan    = session_turn_plan(session);
  const Tick end = tick_least(chart_ticks(session->chart) * session->choruses,
                              conversation->last);
  for (Turn turn = turn_at(plan, 1); turn.start < end;
       turn      = turn_at(plan, turn.index + 1)) {
    char marker[32];
    (void)snprintf(marker,
                   sizeof(marker),
                   "turn %u %s",
                   turn.index,
                   turn.by_player ? "player" : "partner");
    smf_writer_text(
      writer, 0, turn.silence - conversation->first, SMF_MARKER, marker);
  }
}

static void
write_part(SmfWriter* const          writer,
           const Recording* const    recording,
           const Conversation* const conversation,
           const Part                part)
{
  const unsigned    track   = smf_writer_track(writer, part_names[part]);
  const uint8_t     channel = conversation_channel(part);
  const ChoiceSound sound   = recording->sounds[part];
  smf_writer_control(writer,
                     (SmfControl){0,
                                  (uint16_t)track,
                                  (uint8_t)(MIDI_CONTROL | channel),
                                  {MIDI_VOLUME, sound.level}});
  smf_writer_control(writer,
                     (SmfControl){0,
                                  (uint16_t)track,
                                  (uint8_t)(MIDI_PROGRAM | channel),
                                  {sound.program, 0}});
  for (size_t i = 0; i < conversation->n_notes; ++i) {
    const PartNote* const note = &conversation->notes[i];
    if (note->part == part) {
      smf_writer_note(writer,
                      (SmfNote){.tick   = note->note.tick - conversation->first,
                                .length = (uint32_t)note->note.length,
                                .pitch  = note->note.pitch & 0x7FU,
                                .velocity = note->note.velocity & 0x7FU,
                                .channel  = channel & 0xFU,
                                .track    = track & 0x3FFFU});
    }
  }
  smf_writer_end(writer, track, conversation->last - conversation->first);
}

void
recording_write_parts(SmfWriter* const          writer,
                      const Recording* const    recording,
                      const Conversation* const conversation)
{
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    write_part(writer, recording, conversation, part);
  }
}

Status
recording_save(const Conversation* const conversation,
               const Recording* const    recording,
               Fault* const              fault)
{
  SmfWriter* writer = NULL;
  Status     status = smf_writer_open(&writer, 1, TICKS_PER_QUARTER, SMF_PLAIN);
  if (status) {
    return fault_in(fault, status, recording->path, "%s", status_text(status));
  }
  (void)smf_writer_track(writer, recording->session->chart->title);
  recording_write_head(writer, recording, conversation);
  smf_writer_text(writer, 0, 0, SMF_TEXT, recording->choices);
  write_markers(writer, recording, conversation);
  if (conversation->is_left) {
    smf_writer_text(writer,
                    0,
                    conversation->last - conversation->first,
                    SMF_TEXT,
                    RECORDING_LEFT);
  }
  changes_write(writer, conversation);
  recording_write_parts(writer, recording, conversation);
  status = smf_writer_save(writer, recording->path, fault);
  smf_writer_close(writer);
  return status;
}

static const SmfText*
text_beginning(const SmfTake* const take,
               const SmfTextKind    kind,
               const char* const    words)
{
  for (size_t i = 0; i < take->n_texts; ++i) {
    const SmfText* const text = &take->texts[i];
    if (text->kind == kind &&
        strncmp(smf_text(take, text), words, strlen(words)) == 0) {
      return text;
    }
  }
  return NULL;
}

static Status
copy_choices(char              choices[RECORDING_CHOICES_CAPACITY],
             const char* const text,
             Fault* const      fault)
{
  const size_t length = strlen(text);
  if (length >= RECORDING_CHOICES_CAPACITY) {
    return fault_say(fault,
                     STATUS_SYNTAX,
                     "the session is damaged: it is not as it was written");
  }
  memcpy(choices, text, length + 1);
  return STATUS_OK;
}

Status
recording_read(char              choices[RECORDING_CHOICES_CAPACITY],
               Tick* const       bar_one,
               const char* const path,
               Fault* const      fault)
{
  SmfTake take;
  Status  status = smf_load(&take, path, SMF_US_PER_QUARTER, fault);
  if (status) {
    return status;
  }
  const SmfText* const text =
    text_beginning(&take, SMF_TEXT, RECORDING_HEADING);
  const SmfText* const first = text_beginning(&take, SMF_MARKER, "turn 1 ");
  if (text && first) {
    status   = copy_choices(choices, smf_text(&take, text), fault);
    *bar_one = first->tick;
  } else {
    status = fault_say(fault,
                       STATUS_MISSING,
                       "there is no conversation in it; a file that barter "
                       "answer --out wrote has one");
  }
  if (status) {
    (void)snprintf(fault->file, sizeof(fault->file), "%s", path);
  }
  smf_free(&take);
  return status;
}
