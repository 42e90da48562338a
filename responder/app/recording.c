#include "responder/app/recording.h"

#include "core/midi/smf_reader.h"
#include "core/sound/sound.h"
#include "responder/app/choices_text.h"

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
us_per_quarter(const Setup* const setup)
{
  return (uint32_t)lround(60e6 / setup->choices.tempo_bpm);
}

// As a file

void
recording_write_head(SmfWriter* const          writer,
                     const Setup* const        setup,
                     const Conversation* const conversation)
{
  const Chart* const chart       = &setup->chart.chart;
  const bool         is_compound = meter_is_compound(chart->meter);
  smf_writer_tempo(writer, (SmfTempo){0, us_per_quarter(setup)});
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
              const Setup* const        setup,
              const Conversation* const conversation)
{
  const SessionOptions options = setup_session(setup);
  const TurnPlan       plan    = session_turn_plan(&options);
  const Tick           end     = chart_ticks(options.chart) * options.choruses;
  for (Turn turn = turn_at(plan, 1); turn.start < end;
       turn      = turn_at(plan, turn.index + 1)) {
    char marker[32];
    (void)snprintf(marker,
                   sizeof(marker),
                   "turn %u %s",
                   turn.index,
                   turn.by_player ? "player" : "partner");
    smf_writer_text(
      writer, 0, turn.start - conversation->first, SMF_MARKER, marker);
  }
}

static void
write_part(SmfWriter* const          writer,
           const Setup* const        setup,
           const Conversation* const conversation,
           const Part                part)
{
  const unsigned      track   = smf_writer_track(writer, part_names[part]);
  const uint8_t       channel = conversation_channel(part);
  const DefaultsSound sound   = setup->choices.sounds[part];
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
                      const Setup* const        setup,
                      const Conversation* const conversation)
{
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    write_part(writer, setup, conversation, part);
  }
}

Status
recording_save(const Conversation* const conversation,
               const Setup* const        setup,
               const char* const         path,
               Fault* const              fault)
{
  SmfWriter* writer = NULL;
  Status     status = smf_writer_open(&writer, 1, TICKS_PER_QUARTER, SMF_PLAIN);
  if (status) {
    return fault_set(fault, status, path, 0, "%s", status_text(status));
  }
  (void)smf_writer_track(writer, setup->chart.chart.title);
  char text[CHOICES_TEXT_CAPACITY];
  choices_write(&setup->choices, text);
  recording_write_head(writer, setup, conversation);
  smf_writer_text(writer, 0, 0, SMF_TEXT, text);
  write_markers(writer, setup, conversation);
  recording_write_parts(writer, setup, conversation);
  status = smf_writer_save(writer, path, fault);
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

Status
recording_choices(Choices* const    choices,
                  Tick* const       bar_one,
                  const char* const path,
                  Fault* const      fault)
{
  SmfTake take;
  Status  status = smf_load(&take, path, SMF_US_PER_QUARTER, fault);
  if (status) {
    return status;
  }
  const SmfText* const text  = text_beginning(&take, SMF_TEXT, CHOICES_HEADING);
  const SmfText* const first = text_beginning(&take, SMF_MARKER, "turn 1 ");
  if (text && first) {
    status   = choices_read(choices, smf_text(&take, text), fault);
    *bar_one = first->tick;
  } else {
    status = fault_set(fault,
                       STATUS_MISSING,
                       NULL,
                       0,
                       "there is no conversation in it; a file that barter "
                       "answer --out wrote has one");
  }
  if (status) {
    (void)snprintf(fault->file, sizeof(fault->file), "%s", path);
  }
  smf_free(&take);
  return status;
}

// As sound

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
             const Setup* const        setup,
             SoundEvent* const         events)
{
  size_t n = 0;
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    const DefaultsSound sound   = setup->choices.sounds[part];
    const uint8_t       channel = conversation_channel(part);
    events[n++]                 = (SoundEvent){
                      0, (uint8_t)(MIDI_CONTROL | channel), MIDI_VOLUME, sound.level};
    events[n++] =
      (SoundEvent){0, (uint8_t)(MIDI_PROGRAM | channel), sound.program, 0};
  }
  const double us_per_tick =
    60e6 / setup->choices.tempo_bpm / TICKS_PER_QUARTER;
  for (size_t i = 0; i < conversation->n_notes; ++i) {
    const Note    note    = conversation->notes[i].note;
    const uint8_t channel = conversation_channel(conversation->notes[i].part);
    const double  begin   = (double)(note.tick - conversation->first);
    const double  end     = begin + (double)note.length;
    events[n++]           = (SoundEvent){llround(begin * us_per_tick),
                                         (uint8_t)(MIDI_NOTE_ON | channel),
                                         note.pitch,
                                         note.velocity};
    events[n++]           = (SoundEvent){llround(end * us_per_tick),
                                         (uint8_t)(MIDI_NOTE_OFF | channel),
                                         note.pitch,
                                         0};
  }
  qsort(events, n, sizeof(*events), compare_events);
  return n;
}

Status
recording_render(const Conversation* const conversation,
                 const Setup* const        setup,
                 const char* const         path,
                 const char* const         soundfont,
                 Fault* const              fault)
{
  const size_t      most   = 2 * conversation->n_notes + 2 * N_PARTS;
  SoundEvent* const events = calloc(most, sizeof(*events));
  if (!events) {
    return fault_memory(fault, path);
  }
  const size_t n_events = sound_events(conversation, setup, events);
  if (events[n_events - 1].time_us > SOUND_LONGEST_S * INT64_C(1000000)) {
    free(events);
    return fault_set(fault,
                     STATUS_RANGE,
                     path,
                     0,
                     "the conversation lasts longer than %d minutes, the most "
                     "for sound; fewer --choruses or a faster --tempo shorten "
                     "it",
                     SOUND_LONGEST_S / 60);
  }
  SoundReport  report;
  const Status status =
    sound_render(path, events, n_events, soundfont, &report, fault);
  free(events);
  return status;
}
