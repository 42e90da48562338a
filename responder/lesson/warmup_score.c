#include "responder/lesson/warmup_play.h"

#include "core/band/feel.h"
#include "responder/record/notation.h"

#include <stdlib.h>

// The first rounds of a warm-up on paper, one after the other
typedef struct {
  const Setup* setup;
  Chart        chart; // A bar of each one's chord
  Notation*    notation;
  Tick         now;
  bool         is_bare; ///< What each one is called stands elsewhere
} Pages;

static bool
add_bars(Pages* const score, const Chord* const chord, const unsigned n_bars)
{
  char text[CHORD_TEXT_CAPACITY];
  char fault[CHART_FAULT_CAPACITY];
  (void)chord_text(chord, text);
  for (unsigned i = 0; i < n_bars; ++i) {
    if (chart_add_bar(&score->chart, text, fault)) {
      return false;
    }
  }
  return true;
}

static void
write_drill(Pages* const       score,
            const Drill* const drill,
            const Tick         length,
            const bool         is_left,
            const char* const  name)
{
  WrittenNote notes[DRILL_CAPACITY];
  for (unsigned i = 0; i < drill->n_notes; ++i) {
    const DrillNote note = drill->notes[i];
    notes[i]             = (WrittenNote){
                  .tick       = score->now + note.tick,
                  .heard      = score->now + note.tick,
                  .sounding   = note.length,
                  .chord_tick = score->now + note.tick,
                  .pitch      = note.pitch,
                  .finger     = note.finger,
                  .staff      = is_left,
    };
  }
  notation_add_written(score->notation,
                       notes,
                       drill->n_notes,
                       score->now,
                       score->now + length,
                       name);
  score->now += length;
}

// Every drill is made before a note is written: the chart holds them all
static Status
write_drills(Pages* const score, const Warmup* const warmup)
{
  Drill      drills[WARMUP_CAPACITY];
  DrillRoom  room = warmup_room(score->setup);
  const Tick bar  = meter_bar_ticks(score->chart.meter);
  for (unsigned i = 0; i < warmup->n_items; ++i) {
    const WarmupItem* const item = &warmup->items[i];
    Rng                     rng  = rng_seed(item->seed, 1);
    room.rhythm                  = item->rhythm;
    if (!item->trades) {
      drill_make(&drills[i], item->kind, &room, 0, &rng);
      if (!add_bars(score, &drills[i].chord, item->bars)) {
        return STATUS_FULL;
      }
    }
  }
  for (unsigned i = 0; i < warmup->n_items; ++i) {
    const WarmupItem* const item = &warmup->items[i];
    char                    name[WARMUP_NAME_CAPACITY];
    if (!item->trades) {
      write_drill(score,
                  &drills[i],
                  item->bars * bar,
                  drill_row(item->kind)->is_left,
                  score->is_bare ? "" : warmup_item_name(item, name));
    }
  }
  return STATUS_OK;
}

static Status
write(Pages* const score, const Warmup* const warmup)
{
  const Setup* const setup  = score->setup;
  const Chart* const form   = &setup->chart.chart;
  const double       tempo  = setup->choices.tempo_bpm;
  SessionOptions     listen = setup_session(setup);
  chart_begin(&score->chart, "Warm-up", form->meter, form->key);
  listen.chart            = &score->chart;
  const NotationHead head = {
    .ear         = session_ear(&listen),
    .swing_ratio = feel_swing_ratio(&setup->feel, tempo),
    .is_excerpt  = true,
  };
  score->notation = notation_open(&head);
  return score->notation ? write_drills(score, warmup) : STATUS_MEMORY;
}

static void
release(Pages* const score)
{
  notation_close(score->notation);
  free(score);
}

Status
warmup_engrave(const Warmup* const warmup,
               const Setup* const  setup,
               const char* const   path,
               Fault* const        fault)
{
  Pages* const score = calloc(1, sizeof(*score));
  if (!score) {
    return fault_memory(fault, NULL);
  }
  score->setup  = setup;
  Status status = write(score, warmup);
  if (status == STATUS_MEMORY) {
    (void)fault_memory(fault, NULL);
  } else if (status) {
    (void)fault_set(
      fault, status, path, 0, "the exercises are too many to write");
  } else {
    status = notation_engrave(score->notation, "Warm-up", path, fault);
  }
  release(score);
  return status;
}

Status
warmup_abc(const WarmupItem* const item,
           const Setup* const      setup,
           const AbcLayout* const  layout,
           AbcPlaces* const        places,
           char** const            text,
           size_t* const           size)
{
  const Warmup alone = {.n_items = 1, .items = {*item}};
  Pages* const score = calloc(1, sizeof(*score));
  if (!score) {
    return STATUS_MEMORY;
  }
  score->setup   = setup;
  score->is_bare = true;
  Status status  = write(score, &alone);
  if (!status) {
    status = notation_abc_placed(score->notation, layout, places, text, size);
  }
  release(score);
  return status;
}
