#include "responder/page/hear.h"

#include "core/time/monotonic.h"
#include "responder/page/look_back.h"

#include <string.h>

enum {
  BEFORE_NS = 200000000, ///< Until the first note
  AHEAD_NS  = 150000000, ///< Notes are handed on
};

static void
tell_place(Page* const page, const bool is_running)
{
  const int64_t now = monotonic_ns();
  face_tell(page,
            json_pack("{ss ss sI sf sf sb}",
                      "tell",
                      "place",
                      "hears",
                      page->hears.name,
                      "tick",
                      (json_int_t)beat_clock_tick(&page->hears.clock, now),
                      "at",
                      (double)now / (double)NS_PER_MS,
                      "tempo",
                      page->hears.tempo_bpm,
                      "running",
                      (int)is_running));
}

void
hear_stop(Page* const page)
{
  if (page->hears.is_on) {
    page->hears.is_on = false;
    stage_hush(page->playing.stage);
    tell_place(page, false);
    conversation_free(&page->hears.notes);
  }
}

static void
sound(Page* const page, const PartNote* const played)
{
  const BeatClock* const clock = &page->hears.clock;
  const Note             note  = played->note;
  stage_sound(page->playing.stage,
              (Part)played->part,
              beat_clock_ns(clock, note.tick),
              beat_clock_ns(clock, note.tick + note.length),
              note.pitch,
              note.velocity);
}

void
hear_look(Page* const page)
{
  FaceHears* const hears = &page->hears;
  if (!hears->is_on) {
    return;
  }
  const Conversation* const all = &page->hears.notes;
  const int64_t             now = monotonic_ns();
  const Tick until = beat_clock_tick(&hears->clock, now + AHEAD_NS);
  while (hears->next < all->n_notes &&
         all->notes[hears->next].note.tick <= until &&
         all->notes[hears->next].note.tick < hears->end) {
    sound(page, &all->notes[hears->next++]);
  }
  if (beat_clock_tick(&hears->clock, now) >= hears->end) {
    hear_stop(page);
  }
}

// The notes are in `page->hears` already
static void
begin(Page* const page, const Tick from, const Tick end)
{
  FaceHears* const          hears = &page->hears;
  const Conversation* const all   = &hears->notes;
  const BeatClock           zero  = beat_clock_at(0, hears->tempo_bpm);
  stage_await_sound(page->playing.stage);
  hears->is_on = true;
  hears->end   = end;
  hears->next  = 0;
  hears->clock = beat_clock_at(
    monotonic_ns() + BEFORE_NS - beat_clock_ns(&zero, from), hears->tempo_bpm);
  while (hears->next < all->n_notes &&
         all->notes[hears->next].note.tick < from) {
    ++hears->next;
  }
  tell_place(page, true);
}

static void
take_note(Page* const page, const PartNote note)
{
  (void)!conversation_add(&page->hears.notes, note); // Else it is not heard
}

void
hear_notes(Page* const       page,
           const Note* const notes,
           const unsigned    n,
           const double      tempo_bpm)
{
  hear_stop(page);
  page->hears = (FaceHears){.tempo_bpm = tempo_bpm, .name = "idea"};
  for (unsigned i = 0; i < n; ++i) {
    take_note(page, (PartNote){.part = PART_PARTNER, .note = notes[i]});
  }
  if (n) {
    begin(page, notes[0].tick, notes[n - 1].tick + notes[n - 1].length);
  }
}

json_t*
hear_begin(Page* const page, WireCall* const call)
{
  const Recall* const recall = look_back_at(page, call);
  const TurnRecord*   record = NULL;
  if (!recall) {
    return NULL;
  }
  if (page->is_begun) {
    return face_refuse(call, NULL, "a session is being played; stop it first");
  }
  if (call->values[1].is_there && !(record = look_back_turn(page, call))) {
    return NULL;
  }
  hear_stop(page);
  page->hears = (FaceHears){.tempo_bpm = recall->session.tempo_bpm};
  memcpy(page->hears.name, page->recalled, sizeof(page->hears.name));
  for (size_t i = 0; i < recall->conversation.n_notes; ++i) {
    take_note(page, recall->conversation.notes[i]);
  }
  const Tick pick_up =
    record ? meter_beat_ticks(recall->session.chart->meter) / 2 : 0;
  begin(page,
        record ? record->turn.start - pick_up : 0,
        record ? record->turn.end : recall->conversation.last);
  return json_object();
}

json_t*
hear_hush(Page* const page, WireCall* const call)
{
  (void)call;
  hear_stop(page);
  return json_object();
}
