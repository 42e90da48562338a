#include "responder/say/beats.h"

#include "responder/say/counts.h"
#include "responder/say/weights.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

enum {
  TWELFTHS       = 12,
  ROOM_TRIES     = 8,
  FIGURE_NOTES   = 4,
  ONSET_CAPACITY = DRAFT_CAPACITY,
};

/// What a beat holds.
typedef struct {
  Reading reading;
  Texture texture;
  float   share; ///< Of its reading
  uint8_t n;
  uint8_t twelfths[FIGURE_NOTES];
} Figure;

// Shares by the beat cells of 298 solos (Weimar Jazz Database)
static const Figure figures[] = {
  {READING_CROTCHET, TEXTURE_PLAIN, 1.0F, 1, {0}},
  {READING_QUAVERS, TEXTURE_PLAIN, 1.0F, 2, {0, 6}},
  {READING_OFF_BEAT, TEXTURE_PLAIN, 1.0F, 1, {6}},
  {READING_HELD, TEXTURE_PLAIN, 1.0F, 0, {0}},
  {READING_TRIPLET, TEXTURE_TRIPLETS, 0.8F, 3, {0, 4, 8}},
  {READING_TRIPLET, TEXTURE_TRIPLETS, 0.2F, 2, {4, 8}},
  {READING_SIXTEENTHS, TEXTURE_SIXTEENTHS, 0.4F, 4, {0, 3, 6, 9}},
  {READING_SIXTEENTHS, TEXTURE_SIXTEENTHS, 0.25F, 3, {0, 6, 9}},
  {READING_SIXTEENTHS, TEXTURE_SIXTEENTHS, 0.15F, 3, {0, 3, 6}},
  {READING_SIXTEENTHS, TEXTURE_SIXTEENTHS, 0.2F, 2, {6, 9}},
};

static_assert(sizeof(figures) / sizeof(*figures) == N_FIGURES, "all of them");

typedef struct {
  Tick    tick;
  uint8_t phrase;
  uint8_t plant;
  uint8_t nth;
  uint8_t of;       ///< So many notes of its planting
  int8_t  interval; ///< Wished for from the one before; 0: none
} Onset;

typedef struct {
  unsigned n;
  Onset    onsets[ONSET_CAPACITY];
} Onsets;

/// A stretch of time.
typedef struct {
  Tick from;
  Tick to;
} Stretch;

typedef struct {
  Frame*           frame;
  const BeatTable* table;
  const Plan*      plan;
  const Intent*    intent;
  const Planting*  planting;
  Rng*             rng;
  Plants           plants;
  Stretch          zone; ///< Beats of another division
} Beats;

static Onset
free_onset(const Tick tick, const unsigned phrase)
{
  return (Onset){tick, (uint8_t)phrase, NO_PLANT, 0, 1, 0};
}

static bool
insert(Onsets* const onsets, const Onset onset)
{
  unsigned i = onsets->n;
  if (i == ONSET_CAPACITY) {
    return false;
  }
  while (i > 0 && onsets->onsets[i - 1].tick > onset.tick) {
    --i;
  }
  if (i > 0 && onsets->onsets[i - 1].tick == onset.tick) {
    return true;
  }
  for (unsigned k = onsets->n; k > i; --k) {
    onsets->onsets[k] = onsets->onsets[k - 1];
  }
  onsets->onsets[i] = onset;
  ++onsets->n;
  return true;
}

/// Whether the other division may stand somewhere: clear of the planted cell;
/// groups of a beat and a half go across the bar, and nothing interrupts them.
static bool
may_divide(const Beats* const beats, const Tick from, const Tick to)
{
  const Frame* const frame = beats->frame;
  if (beats->intent->texture != TEXTURE_ACROSS) {
    return !planting_covers(&beats->plants, from) &&
           !planting_covers(&beats->plants, from + frame->beat / 3);
  }
  for (Tick t = from; t <= to; t += frame->beat - frame->off) {
    if (planting_covers(&beats->plants, t)) {
      return false;
    }
  }
  return tick_floor(from, frame->bar) !=
         tick_floor(from + 3 * frame->beat, frame->bar);
}

/// Draw where the other division stands: some beats within one phrase.
///
/// @return Whether it has room.
static bool
draw_zone(Beats* const beats)
{
  const Frame* const frame  = beats->frame;
  const bool         across = beats->intent->texture == TEXTURE_ACROSS;
  const uint32_t     long_one =
    frame_ms(frame, frame->beat) > say_weights.beat.slow_ms ? 3 : 2;
  const Tick fine     = beats->intent->is_fine ? say_weights.beat.fine_more : 0;
  const Tick n        = across ? (frame_is_brief(frame) ? 3 : 4)
                               : 1 + fine + (Tick)rng_below(beats->rng, long_one);
  uint32_t   n_places = 0;
  beats->zone         = (Stretch){0, 0};
  if (beats->intent->texture == TEXTURE_PLAIN) {
    return true;
  }
  for (unsigned p = 0; p < beats->plan->n_spans; ++p) {
    const Span span  = beats->plan->spans[p];
    const Tick first = tick_floor(span.from + frame->beat - 1, frame->beat);
    for (Tick at = first; at + n * frame->beat <= span.goal && !span.bare;
         at += frame->beat) {
      const Tick end = at + n * frame->beat;
      if (may_divide(beats, at, end) &&
          rng_below(beats->rng, ++n_places) == 0) {
        beats->zone = (Stretch){at, end};
      }
    }
  }
  return n_places > 0;
}

static float
figure_weight(const Frame* const  frame,
              const Texture       texture,
              const Figure* const figure,
              const Reading       before,
              const bool          in_zone)
{
  const BeatWeights* const w     = &say_weights.beat;
  const RhythmRung* const  rung  = frame->rhythm;
  const float              along = fminf(
    fmaxf((rung->onsets_per_bar - w->few) / (w->many - w->few), 0.0F), 1.0F);
  const bool special = figure->texture != TEXTURE_PLAIN;
  const bool whole   = figure->n == FIGURE_NOTES; // All four sixteenths
  if (special != in_zone || (special && figure->texture != texture) ||
      (figure->reading == READING_QUAVERS && !rung->eighths) ||
      (figure->reading == READING_OFF_BEAT && !rung->off_beats) ||
      (whole && !rung->cross_rhythm)) {
    return 0.0F;
  }
  const Band gain = w->gains[figure->reading];
  return figure->share * (gain.least + along * (gain.most - gain.least)) *
         counts_after(before, figure->reading, frame->is_blues);
}

/// Lines that are free run over the bar line more often than chance has it.
static float
on_one(const Frame* const frame, const Figure* const figure)
{
  const bool over =
    figure->reading == READING_OFF_BEAT || figure->reading == READING_HELD;
  return over && frame_is_free(frame) ? say_weights.beat.over_bar : 1.0F;
}

void
beats_open(BeatTable* const   table,
           const Frame* const frame,
           const Texture      texture)
{
  for (unsigned before = 0; before < N_READINGS; ++before) {
    for (unsigned i = 0; i < N_FIGURES; ++i) {
      const float near = say_weights.beat.before_goal[figures[i].reading];
      const float one  = on_one(frame, &figures[i]);
      for (unsigned place = 0; place < N_BEAT_PLACES; ++place) {
        table->weights[place][before][i] =
          figure_weight(frame,
                        texture,
                        &figures[i],
                        (Reading)before,
                        place & BEAT_IN_ZONE) *
          (place & BEAT_NEAR_GOAL ? near : 1.0F) *
          (place & BEAT_IS_ONE ? one : 1.0F);
      }
    }
  }
}

static Tick
place_in_beat(const Frame* const frame, const uint8_t twelfths)
{
  return twelfths == TWELFTHS / 2 ? frame->off
                                  : frame->beat * twelfths / TWELFTHS;
}

/// Groups of a beat and a half: one note, two, or three that go up and down
/// alike in each group.
static void
fill_across(const Beats* const beats,
            Onsets* const      onsets,
            const unsigned     phrase)
{
  static const int8_t      ways[] = {-1, 1};
  const BeatWeights* const w      = &say_weights.beat;
  const Frame* const       frame  = beats->frame;
  const unsigned           slots  = frame_across_slots(frame);
  const unsigned           n =
    1 + rng_pick(beats->rng, w->across[frame_is_brief(frame)], slots);
  const int8_t way = ways[rng_below(beats->rng, 2)];
  unsigned     nth = 0;
  for (Tick t = beats->zone.from; t <= beats->zone.to;
       t += frame->beat - frame->off) {
    const unsigned in = nth++ % slots;
    if (in < n && !planting_covers(&beats->plants, t)) {
      const int8_t size  = in == 0 ? -w->across_back : w->across_on;
      Onset        onset = free_onset(t, phrase);
      onset.interval     = (int8_t)(n == 3 && nth > 1 ? way * size : 0);
      insert(onsets, onset);
    }
  }
}

static void
fill_beat(const Beats* const  beats,
          Onsets* const       onsets,
          const unsigned      phrase,
          const Tick          beat,
          const Figure* const figure)
{
  const Frame* const frame = beats->frame;
  const Span         span  = beats->plan->spans[phrase];
  for (unsigned i = 0; i < figure->n; ++i) {
    const Tick t      = beat + place_in_beat(frame, figure->twelfths[i]);
    const bool crowds = span.goal - t < frame->beat / 3 && t != span.goal;
    if (t >= span.from && t <= span.goal && !crowds &&
        !planting_covers(&beats->plants, t)) {
      insert(onsets, free_onset(t, phrase));
    }
  }
}

static const Figure*
draw_figure(const Beats* const beats,
            const Reading      before,
            const unsigned     place)
{
  const float* const weights = beats->table->weights[place][before];
  bool               any     = false;
  for (unsigned i = 0; i < N_FIGURES; ++i) {
    any = any || weights[i] > 0.0F;
  }
  return any ? &figures[rng_pick(beats->rng, weights, N_FIGURES)] : &figures[0];
}

/// Return where a beat of a phrase stands.
static unsigned
place_of(const Beats* const beats, const Span span, const Tick beat)
{
  const Frame* const frame = beats->frame;
  const bool in_zone       = beat >= beats->zone.from && beat < beats->zone.to;
  const bool near          = span.goal - beat <= frame->beat + frame->off &&
                    span.goal > beat + frame->off;
  return (in_zone ? BEAT_IN_ZONE : 0U) | (near ? BEAT_NEAR_GOAL : 0U) |
         (beat % frame->bar == 0 ? BEAT_IS_ONE : 0U);
}

static void
fill_phrase(const Beats* const beats, Onsets* const onsets, const unsigned p)
{
  const Frame* const frame  = beats->frame;
  const Span         span   = beats->plan->spans[p];
  Reading            before = READING_CROTCHET;
  for (Tick beat = tick_floor(span.from, frame->beat);
       beat <= span.goal && !span.bare;
       beat += frame->beat) {
    const unsigned place = place_of(beats, span, beat);
    if (place & BEAT_IN_ZONE && beats->intent->texture == TEXTURE_ACROSS) {
      continue;
    }
    const Figure* const figure = draw_figure(beats, before, place);
    fill_beat(beats, onsets, p, beat, figure);
    before = figure->reading;
  }
  const bool across = beats->intent->texture == TEXTURE_ACROSS &&
                      beats->zone.from >= span.from &&
                      beats->zone.to <= span.goal && beats->zone.to > 0;
  if (across) {
    fill_across(beats, onsets, p);
  }
  if (!planting_covers(&beats->plants, span.from)) {
    insert(onsets, free_onset(span.from, p));
  }
  insert(onsets, free_onset(span.goal, p));
}

static void
remove_at(Onsets* const onsets, const unsigned index)
{
  --onsets->n;
  for (unsigned i = index; i < onsets->n; ++i) {
    onsets->onsets[i] = onsets->onsets[i + 1];
  }
}

/// Without off-beats, take out what leans; the cell's own off-beats are the
/// player's.
///
/// @return Whether none of these leans that does not where the player has it.
static bool
steady(const Beats* const beats, Onsets* const onsets)
{
  const Frame* const frame                 = beats->frame;
  const unsigned     n                     = onsets->n;
  bool               holds                 = true;
  Tick               ticks[ONSET_CAPACITY] = {0};
  if (frame->rhythm->off_beats) {
    return true;
  }
  for (unsigned i = 0; i < n; ++i) {
    ticks[i] = onsets->onsets[i].tick;
  }
  for (unsigned i = n; i-- > 0;) {
    if (!frame_leans(frame, ticks[i], ticks, n)) {
      continue;
    }
    if (onsets->onsets[i].plant == NO_PLANT) {
      remove_at(onsets, i);
    } else {
      holds = holds && beats->planting->cell->leans;
    }
  }
  return holds;
}

/// Whether no note came in between those of a planted cell.
static bool
are_cells_whole(const Onsets* const onsets)
{
  for (unsigned i = 0; i < onsets->n; ++i) {
    const Onset* const a = &onsets->onsets[i];
    if (a->nth + 1U < a->of && (i + 1 == onsets->n || a[1].plant != a->plant ||
                                a[1].nth != a->nth + 1)) {
      return false;
    }
  }
  return true;
}

static bool
is_sound(const Beats* const beats, const Onsets* const onsets)
{
  const PlanWeights* const w     = &say_weights.plan;
  const Frame* const       frame = beats->frame;
  for (unsigned i = 1; i < onsets->n; ++i) {
    const Onset* const a   = &onsets->onsets[i - 1];
    const Onset* const b   = &onsets->onsets[i];
    const Tick         gap = b->tick - a->tick;
    const double       least =
      gap < frame->beat / 3 ? (double)w->sixteenth_ms : (double)w->triplet_ms;
    if (gap < frame->beat / 4 || frame_ms(frame, gap) < least ||
        (a->phrase == b->phrase && gap > 2 * frame->beat &&
         !beats->plan->spans[a->phrase].bare)) {
      return false;
    }
  }
  return onsets->n >= 2 && onsets->n <= frame->max_onsets;
}

/// Plant the cell where the other division has room beside it: twice, or once
/// if there is no room for that; false if there is none for either.
static bool
draw_room(Beats* const beats)
{
  Planting planting = *beats->planting;
  bool     has      = false;
  for (unsigned i = 0; i < ROOM_TRIES && !has; ++i) {
    planting.twice = planting.twice && i < ROOM_TRIES / 2;
    if (!planting_draw(
          &beats->plants, beats->frame, beats->plan, &planting, beats->rng)) {
      return false;
    }
    has = draw_zone(beats);
  }
  return has;
}

static bool
draw_once(Beats* const beats, Onsets* const onsets)
{
  onsets->n = 0;
  for (unsigned k = 0; k < beats->plants.n; ++k) {
    const Plant* const plant = &beats->plants.plants[k];
    for (unsigned i = 0; i < plant->cell->n_notes; ++i) {
      insert(onsets,
             (Onset){plant->tick + plant->cell->offsets[i],
                     (uint8_t)plant->phrase,
                     plant->id,
                     (uint8_t)i,
                     (uint8_t)plant->cell->n_notes,
                     0});
    }
  }
  if (!draw_zone(beats)) {
    return false;
  }
  for (unsigned p = 0; p < beats->plan->n_spans; ++p) {
    fill_phrase(beats, onsets, p);
  }
  return steady(beats, onsets) && are_cells_whole(onsets) &&
         is_sound(beats, onsets);
}

static void
write_draft(Draft* const        draft,
            Frame* const        frame,
            const Plan* const   plan,
            const Onsets* const onsets)
{
  draft->n_notes  = 0;
  draft->is_whole = false;
  for (unsigned i = 0; i < onsets->n; ++i) {
    const Onset* const onset = &onsets->onsets[i];
    DraftNote* const   note  = draft_add(draft, onset->tick, onset->phrase);
    note->plant              = onset->plant;
    note->nth                = onset->nth;
    if (onset->interval != 0) {
      note->interval      = onset->interval;
      note->interval_fall = say_weights.beat.across_fall;
    }
    note->is_bare = plan->spans[onset->phrase].bare;
  }
  draft_close(draft, frame);
}

bool
beats_draw(Draft* const           draft,
           Frame* const           frame,
           const BeatTable* const table,
           const Plan* const      plan,
           const Intent* const    intent,
           const Planting* const  planting,
           Rng* const             rng)
{
  Beats  beats = {.frame    = frame,
                  .table    = table,
                  .plan     = plan,
                  .intent   = intent,
                  .planting = planting,
                  .rng      = rng};
  Onsets best  = {.n = 0};
  Onsets onsets;
  double least = INFINITY;
  if (!draw_room(&beats)) {
    return false;
  }
  for (unsigned i = 0; i < RHYTHM_TRIES; ++i) {
    if (draw_once(&beats, &onsets)) {
      const double off = fabs((double)onsets.n - intent->notes) +
                         say_weights.beat.count_by_chance * rng_unit(rng);
      if (off < least) {
        least = off;
        best  = onsets;
      }
    }
  }
  if (isinf(least)) {
    return false;
  }
  write_draft(draft, frame, plan, &best);
  return true;
}
