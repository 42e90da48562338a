#include "responder/record/notation_inside.h"

#include "responder/hear/hands.h"

#include <math.h>
#include <stdlib.h>

// The turns' notes rise by when they sounded, but for some near a turn's end:
// none stands farther from its place
static const Tick DISORDER = 4 * (Tick)TICKS_PER_QUARTER;

// What is needed to place the player's other notes
typedef struct {
  Notation* notation;
  size_t    n_melody; // The notes that the turns brought
  size_t    near;     // The first that may sound with what is looked at
  Note*     left;     // Those that they did not
  size_t    n_left;
  Tick      together; // In ticks
  HearWork  hear_work;
  Phrase    phrase;
  Note      heads[PHRASE_CAPACITY]; // The first of those struck together
  unsigned  n_heads;
} Rest;

// The melody notes that sound within so many ticks of a tick; the ticks asked
// for rise
static NotationNote*
melody_near(Rest* const rest, const Tick tick, size_t* const n)
{
  NotationNote* const notes = rest->notation->notes;
  while (rest->near < rest->n_melody &&
         notes[rest->near].note.heard < tick - DISORDER) {
    ++rest->near;
  }
  size_t end = rest->near;
  while (end < rest->n_melody && notes[end].note.heard <= tick + DISORDER) {
    ++end;
  }
  *n = end - rest->near;
  return notes + rest->near;
}

// Whether a turn brought a note; if so it lasts as long as the key was down
static bool
is_melody(Rest* const rest, const Note* const note)
{
  size_t              n    = 0;
  NotationNote* const near = melody_near(rest, note->tick, &n);
  for (size_t i = 0; i < n; ++i) {
    NotationNote* const melody = &near[i];
    if (melody->voice == NOTATION_PLAYER && melody->note.heard == note->tick &&
        melody->note.pitch == note->pitch) {
      melody->note.sounding = note->length;
      return true;
    }
  }
  return false;
}

static void
list_left(Rest* const rest, const Conversation* const conversation)
{
  for (size_t i = 0; i < conversation->n_notes; ++i) {
    const PartNote* const note = &conversation->notes[i];
    if (note->part == PART_PLAYER && !is_melody(rest, &note->note)) {
      rest->left[rest->n_left++] = note->note;
    }
  }
}

// The player's melody note that a note was struck with, NULL if there is none
static const WrittenNote*
struck_with(Rest* const rest, const Note* const note)
{
  const WrittenNote*        nearest = NULL;
  Tick                      least   = rest->together;
  size_t                    n       = 0;
  const NotationNote* const near    = melody_near(rest, note->tick, &n);
  for (size_t i = 0; i < n; ++i) {
    const NotationNote* const melody = &near[i];
    const Tick                off    = llabs(melody->note.heard - note->tick);
    if (melody->voice == NOTATION_PLAYER && !melody->note.is_grace &&
        off <= least) {
      nearest = &melody->note;
      least   = off;
    }
  }
  return nearest;
}

static void
place(const Rest* const rest, const Note* const note, const Tick tick)
{
  const Ear* const  ear     = &rest->notation->head.ear;
  const WrittenNote written = {
    .tick       = tick,
    .heard      = note->tick,
    .sounding   = note->length,
    .chord_tick = hear_chord_tick(ear->chart, tick, note->length, INT64_MAX),
    .pitch      = note->pitch,
    .staff      = note->pitch < ear->split_pitch,
  };
  notation_add_note(rest->notation, written, NOTATION_PLAYER);
}

// The nearest half beat, for what the ear took for none of a melody
static Tick
nearest_half(const Tick tick)
{
  return tick_floor(tick + TICKS_PER_EIGHTH / 2, TICKS_PER_EIGHTH);
}

// Places a grace note on the staff of what it decorates
static void
place_grace(const Rest* const rest, const unsigned at)
{
  const HeardNote* const heard    = &rest->phrase.notes[at];
  const bool             has_next = at + 1 < rest->phrase.n_notes;
  place(rest, &heard->note, heard->grid_tick);
  if (rest->notation->has_failed) {
    return;
  }
  NotationNote* const placed =
    &rest->notation->notes[rest->notation->n_notes - 1];
  placed->note.is_grace = true;
  placed->note.staff =
    heard[has_next].note.pitch < rest->notation->head.ear.split_pitch;
}

// Places a note where the ear has the first of those struck together
static void
place_heard(const Rest* const rest,
            const Note* const head,
            const Note* const note)
{
  for (unsigned i = 0; i < rest->phrase.n_notes; ++i) {
    const HeardNote* const heard = &rest->phrase.notes[i];
    if (heard->note.tick == head->tick && heard->note.pitch == head->pitch) {
      if (heard->is_ornament && note->pitch == head->pitch) {
        place_grace(rest, i);
      } else {
        place(rest, note, heard->grid_tick);
      }
      return;
    }
  }
  place(rest, note, nearest_half(head->tick));
}

// Hears the left notes of a turn, the chords by their first notes, and places
// them; `notes` are those that no melody note was struck with
static void
place_turn(Rest* const        rest,
           const NotationSpan span,
           const Note* const  notes,
           const size_t       n_notes)
{
  Ear ear         = rest->notation->head.ear;
  ear.split_pitch = 0; // All are the melody of a hand
  rest->n_heads   = 0;
  for (size_t i = 0; i < n_notes; ++i) {
    if ((rest->n_heads == 0 ||
         notes[i].tick >
           rest->heads[rest->n_heads - 1].tick + rest->together) &&
        rest->n_heads < PHRASE_CAPACITY) {
      rest->heads[rest->n_heads++] = notes[i];
    }
  }
  hear_phrase(&rest->phrase,
              &rest->hear_work,
              &ear,
              rest->heads,
              rest->n_heads,
              span.start,
              span.end);
  unsigned head = 0;
  for (size_t i = 0; i < n_notes; ++i) {
    while (head + 1 < rest->n_heads &&
           rest->heads[head + 1].tick <= notes[i].tick) {
      ++head;
    }
    place_heard(rest, &rest->heads[head], &notes[i]);
  }
}

static void
place_left(Rest* const rest)
{
  const Notation* const notation = rest->notation;
  const Tick pick_up = meter_beat_ticks(notation->head.ear.chart->meter) / 2;
  size_t     i       = 0;
  for (size_t s = 0; s < notation->n_spans; ++s) {
    const NotationSpan span  = notation->spans[s];
    Note* const        first = &rest->left[i];
    size_t             n     = 0; // Those to be heard, gathered at `first`
    // What comes shortly before another turn is a pick-up to that
    const bool is_last = s + 1 == notation->n_spans;
    const Tick end     = is_last ? span.end : span.end - pick_up;
    for (; i < rest->n_left && rest->left[i].tick < end; ++i) {
      const Note               note = rest->left[i];
      const WrittenNote* const with = struck_with(rest, &note);
      if (note.tick < span.start - pick_up) {
        continue; // In the count-in
      }
      if (with) {
        place(rest, &note, with->tick);
      } else {
        first[n++] = note;
      }
    }
    if (n) {
      place_turn(rest, span, first, n);
    }
  }
}

void
notation_add_rest(Notation* const           notation,
                  const Conversation* const conversation)
{
  Rest* const rest = calloc(1, sizeof(*rest));
  Note* const left = calloc(conversation->n_notes + 1, sizeof(*left));
  if (!rest || !left) {
    notation->has_failed = true;
  } else {
    rest->notation = notation;
    rest->n_melody = notation->n_notes;
    rest->left     = left;
    rest->together =
      (Tick)lround(HANDS_TOGETHER_MS * notation->head.ear.tempo_bpm *
                   TICKS_PER_QUARTER / 60000.0);
    list_left(rest, conversation);
    rest->near = 0;
    place_left(rest);
  }
  free(left);
  free(rest);
}
