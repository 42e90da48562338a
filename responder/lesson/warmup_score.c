#include "responder/lesson/warmup_play.h"

#include "core/band/feel.h"
#include "responder/lesson/drills.h"
#include "responder/record/notation.h"

#include <stdio.h>
#include <stdlib.h>

// The rounds of a warm-up on paper, one after the other
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
  const Scale scale = drills_scale(&score->setup->chart.chart, chord);
  char        text[CHORD_TEXT_CAPACITY];
  char        fault[CHART_FAULT_CAPACITY];
  (void)chord_text(chord, text);
  for (unsigned i = 0; i < n_bars; ++i) {
    if (chart_add_bar(&score->chart, text, fault)) {
      return false;
    }
    score->chart.scales[score->chart.n_bars - 1]         = scale;
    score->chart.scale_by_chord[score->chart.n_bars - 1] = false;
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

// The rounds of an exercise that go onto paper: the first, and what differs
typedef struct {
  const WarmupItem* item;
  DrillRoom         room;
  Rng               rng;
  unsigned          n; ///< Made so far
  unsigned          most;
  Chord             first;
  Drill             drill; ///< The present one
} Rounds;

static Rounds
rounds_of(const Pages* const score, const WarmupItem* const item)
{
  const bool differ  = drill_row(item->kind)->by_rounds && !score->is_bare;
  Rounds     rounds  = {.item = item,
                        .room = warmup_room(score->setup),
                        .rng  = rng_seed(item->seed, 1),
                        .most = item->trades ? 0
                                : differ     ? item->rounds
                                             : 1};
  rounds.room.rhythm = item->rhythm;
  return rounds;
}

static bool
next_round(Rounds* const rounds)
{
  if (rounds->n == rounds->most) {
    return false;
  }
  drill_make(
    &rounds->drill, rounds->item->kind, &rounds->room, rounds->n, &rounds->rng);
  rounds->first = rounds->n ? rounds->first : rounds->drill.chord;
  return rounds->n++ == 0 ||
         !chord_equals(&rounds->drill.chord, &rounds->first);
}

static void
write_item(Pages* const score, const WarmupItem* const item)
{
  const Tick bar    = meter_bar_ticks(score->chart.meter);
  Rounds     rounds = rounds_of(score, item);
  char       name[WARMUP_NAME_CAPACITY];
  char       label[WARMUP_NAME_CAPACITY + 16] = "";
  if (!score->is_bare) {
    (void)snprintf(label,
                   sizeof(label),
                   "%s, %u round%s",
                   warmup_item_name(item, name),
                   item->rounds,
                   item->rounds == 1 ? "" : "s");
  }
  while (next_round(&rounds)) {
    write_drill(score,
                &rounds.drill,
                item->bars * bar,
                drill_row(item->kind)->is_left,
                label);
    label[0] = '\0';
  }
}

// The chart holds them all before a note is written
static Status
write_drills(Pages* const score, const Warmup* const warmup)
{
  for (unsigned i = 0; i < warmup->n_items; ++i) {
    Rounds rounds = rounds_of(score, &warmup->items[i]);
    while (next_round(&rounds)) {
      if (!add_bars(score, &rounds.drill.chord, rounds.item->bars)) {
        return STATUS_FULL;
      }
    }
  }
  for (unsigned i = 0; i < warmup->n_items; ++i) {
    write_item(score, &warmup->items[i]);
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
    (void)fault_in(fault, status, path, "the exercises are too many to write");
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
