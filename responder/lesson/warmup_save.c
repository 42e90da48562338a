#include "responder/lesson/warmup_play.h"

#include "core/midi/smf_writer.h"
#include "responder/lesson/drills.h"
#include "responder/record/drive.h"
#include "responder/record/recorded.h"

#include <stdlib.h>

// How a warm-up is accompanied; common practice, no source.
enum {
  SIDE_STICK       = 37, ///< General MIDI
  COUNTED_VELOCITY = 96,
  CLICK_VELOCITY   = 48,
  ACCENT_VELOCITY  = 68,
  CHORD_VELOCITY   = 46,
  CHORD_LOWEST     = 48,
  KEY_CAPACITY     = 2 * PHRASE_CAPACITY,
};

/// A warm-up being laid out.
typedef struct {
  const Setup* setup;
  SmfWriter*   writer;
  Conversation notes;
  Tick         now;
  Status       status; ///< The first failure
} Layout;

static Tick
bar_of(const Setup* const setup)
{
  return meter_bar_ticks(setup->chart.chart.meter);
}

static void
lay(Layout* const layout, const Part part, const Note note)
{
  if (!layout->status) {
    layout->status =
      conversation_add(&layout->notes, (PartNote){note, (uint8_t)part});
  }
}

static void
lay_clicks(Layout* const layout, const unsigned bars, const bool counts)
{
  const Meter    meter = layout->setup->chart.chart.meter;
  const Tick     beat  = meter_beat_ticks(meter);
  const unsigned beats = meter_beats_per_bar(meter);
  for (unsigned i = 0; i < bars * beats; ++i) {
    const unsigned velocity = counts           ? COUNTED_VELOCITY
                              : i % beats == 0 ? ACCENT_VELOCITY
                                               : CLICK_VELOCITY;
    lay(
      layout,
      PART_DRUMS,
      (Note){layout->now + i * beat, beat / 4, SIDE_STICK, (uint8_t)velocity});
  }
}

static void
lay_chord(Layout* const layout, const Chord* const chord)
{
  for (unsigned pitch = CHORD_LOWEST; pitch < CHORD_LOWEST + 12; ++pitch) {
    if (chord_has_core_tone(chord, pitch)) {
      lay(layout,
          PART_CHORDS,
          (Note){layout->now,
                 bar_of(layout->setup) * 3 / 4,
                 (uint8_t)pitch,
                 CHORD_VELOCITY});
    }
  }
}

static void
lay_call(Layout* const           layout,
         const WarmupItem* const item,
         const Drill* const      drill)
{
  ScriptTurn turn;
  warmup_script(&turn, item, layout->setup, drill);
  for (unsigned i = 0; i < turn.n_notes; ++i) {
    Note note = turn.notes[i];
    note.tick += layout->now;
    lay(layout, PART_PARTNER, note);
  }
}

static void
lay_drill(Layout* const layout, const WarmupItem* const item)
{
  const Tick     bar      = bar_of(layout->setup);
  const unsigned count_in = warmup_count_in(layout->setup);
  DrillRoom      room     = warmup_room(layout->setup);
  Rng            rng      = rng_seed(item->seed, 1);
  room.rhythm             = item->rhythm;
  lay_clicks(layout, count_in, true);
  layout->now += count_in * bar;
  for (unsigned round = 0; round < item->rounds; ++round) {
    Drill drill;
    drill_make(&drill, item->kind, &room, round, &rng);
    lay_call(layout, item, &drill);
    for (unsigned half = 0; half < 2; ++half) {
      lay_clicks(layout, item->bars, false);
      lay_chord(layout, &drill.chord);
      layout->now += item->bars * bar;
    }
  }
  layout->now += bar; // To breathe
}

// Trading

/// A player who says again what was said.
typedef struct {
  DrivePlayer player;
  HeardKey    keys[KEY_CAPACITY];
} Echo;

static int
compare_keys(const void* const left, const void* const right)
{
  const HeardKey* const a = left;
  const HeardKey* const b = right;
  if (a->tick != b->tick) {
    return a->tick < b->tick ? -1 : 1;
  }
  return a->velocity - b->velocity; // Ends first
}

static void
echo(void* const context, const TurnRecord* const record)
{
  Echo* const         it     = context;
  const Phrase* const phrase = &record->phrase;
  const Tick          later  = record->turn.end - record->turn.start;
  size_t              n      = 0;
  if (record->turn.by_player) {
    return;
  }
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    const Note note = phrase->notes[i].note;
    it->keys[n++]   = (HeardKey){note.tick + later, note.pitch, note.velocity};
    it->keys[n++] = (HeardKey){note.tick + note.length + later, note.pitch, 0};
  }
  qsort(it->keys, n, sizeof(*it->keys), compare_keys);
  it->player.keys   = it->keys;
  it->player.n_keys = n;
}

// Only the partner and the band are laid out
static void
lay_conversation(Layout* const layout, const Conversation* const conversation)
{
  const Tick begin = layout->now - conversation->first;
  for (size_t i = 0; i < conversation->n_notes; ++i) {
    PartNote played = conversation->notes[i];
    played.note.tick += begin;
    if (played.part != PART_PLAYER) {
      lay(layout, (Part)played.part, played.note);
    }
  }
  layout->now = begin + conversation->last;
}

static void
lay_trading(Layout* const layout, const WarmupItem* const item)
{
  Setup* const trading = malloc(sizeof(*trading));
  if (!trading) {
    layout->status = STATUS_MEMORY;
    return;
  }
  drills_trading(trading, layout->setup, item);
  SessionOptions options = setup_session(trading);
  Echo           it      = {.player = {.hear_turn = echo, .context = &it}};
  Conversation   conversation;
  options.seed = item->seed;
  options.plan = (ClimbPlan){.success_step = 0.0};
  if (drive_session(&conversation, &options, &it.player)) {
    layout->status = STATUS_MEMORY;
  } else {
    lay_conversation(layout, &conversation);
    conversation_free(&conversation);
  }
  free(trading);
}

static void
lay_item(Layout* const layout, const WarmupItem* const item)
{
  char name[WARMUP_NAME_CAPACITY];
  smf_writer_text(
    layout->writer, 0, layout->now, SMF_MARKER, warmup_item_name(item, name));
  if (item->trades) {
    lay_trading(layout, item);
  } else {
    lay_drill(layout, item);
  }
}

Status
warmup_save(const Warmup* const warmup,
            const Setup* const  setup,
            const char* const   path,
            Fault* const        fault)
{
  Recorded               recorded;
  const Recording* const recording = recorded_of(&recorded, setup, path);
  Layout                 layout    = {.setup = setup};
  Status                 status =
    smf_writer_open(&layout.writer, 1, TICKS_PER_QUARTER, SMF_PLAIN);
  if (status) {
    return fault_in(fault, status, path, "%s", status_text(status));
  }
  (void)smf_writer_track(layout.writer, "warm-up");
  for (unsigned i = 0; i < warmup->n_items; ++i) {
    lay_item(&layout, &warmup->items[i]);
  }
  layout.notes.last = layout.now;
  conversation_sort(&layout.notes);
  recording_write_head(layout.writer, recording, &layout.notes);
  recording_write_parts(layout.writer, recording, &layout.notes);

  status =
    layout.status
      ? fault_in(fault, layout.status, path, "%s", status_text(layout.status))
      : smf_writer_save(layout.writer, path, fault);
  smf_writer_close(layout.writer);
  conversation_free(&layout.notes);
  return status;
}
