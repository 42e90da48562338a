#include "responder/app/notation.h"

#include "core/files/file.h"
#include "core/musicxml/musicxml.h"
#include "core/settings/utf8.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PLAYER, PARTNER, N_VOICES, LABEL_CAPACITY = 64 };

// Notes struck within so many ms are one chord, as the ear has it (hear/hands)
static const double TOGETHER_MS = 50.0;

// The turns' notes rise by when they sounded, but for some near a turn's end:
// none stands farther from its place
static const Tick DISORDER = 4 * (Tick)TICKS_PER_QUARTER;

typedef struct {
  WrittenNote note;
  uint8_t     voice; // PLAYER or PARTNER
} VoiceNote;

typedef struct {
  Tick start;
  Tick end;
  bool by_player;
  char label[LABEL_CAPACITY];
} Span;

struct Notation {
  NotationHead head;
  VoiceNote*   notes;
  size_t       n_notes;
  size_t       capacity;
  Span*        spans;
  size_t       n_spans;
  size_t       span_capacity;
  bool         has_failed; // No memory
};

Notation*
notation_open(const NotationHead* const head)
{
  Notation* const notation = calloc(1, sizeof(*notation));
  if (notation) {
    notation->head = *head;
  }
  return notation;
}

void
notation_close(Notation* const notation)
{
  if (notation) {
    free(notation->notes);
    free(notation->spans);
    free(notation);
  }
}

// Room for one more; NULL keeps what there was
static void*
grown(Notation* const notation,
      void* const     items,
      const size_t    n,
      size_t* const   capacity,
      const size_t    size)
{
  if (n < *capacity) {
    return items;
  }
  const size_t more    = *capacity ? 2 * *capacity : 64;
  void* const  larger  = realloc(items, more * size);
  notation->has_failed = notation->has_failed || !larger;
  *capacity            = larger ? more : *capacity;
  return larger;
}

static void
add_note(Notation* const notation, const WrittenNote note, const unsigned voice)
{
  VoiceNote* const notes = grown(notation,
                                 notation->notes,
                                 notation->n_notes,
                                 &notation->capacity,
                                 sizeof(*notes));
  if (notes) {
    notation->notes                      = notes;
    notation->notes[notation->n_notes++] = (VoiceNote){note, (uint8_t)voice};
  }
}

static void
add_span(Notation* const notation, const Span span)
{
  Span* const spans = grown(notation,
                            notation->spans,
                            notation->n_spans,
                            &notation->span_capacity,
                            sizeof(*spans));
  if (spans) {
    notation->spans                      = spans;
    notation->spans[notation->n_spans++] = span;
  }
}

void
notation_add_phrase(Notation* const     notation,
                    const Phrase* const phrase,
                    const bool          by_player,
                    const Tick          start,
                    const char* const   label)
{
  const Tick moved = start - phrase->start_tick;
  Span       span  = {
           .start     = start,
           .end       = phrase->end_tick + moved,
           .by_player = by_player,
  };
  (void)snprintf(span.label, LABEL_CAPACITY, "%s", label);
  add_span(notation, span);
  for (unsigned i = 0; i < phrase->n_notes; ++i) {
    HeardNote heard = phrase->notes[i];
    heard.grid_tick += moved;
    const WrittenNote note = {
      .tick       = heard.grid_tick,
      .heard      = heard.note.tick + moved,
      .sounding   = heard.note.length,
      .chord_tick = heard_note_chord_tick(&heard, notation->head.ear.chart),
      .pitch      = heard.note.pitch,
      .is_grace   = heard.is_ornament,
    };
    add_note(notation, note, by_player ? PLAYER : PARTNER);
  }
}

void
notation_add_turn(Notation* const notation, const TurnRecord* const record)
{
  const Turn* const turn = &record->turn;
  char              label[LABEL_CAPACITY];
  (void)snprintf(label,
                 sizeof(label),
                 turn->by_player ? "turn %u" : "turn %u: %s",
                 turn->index,
                 move_name(record->move));
  notation_add_phrase(
    notation, &record->phrase, turn->by_player, turn->start, label);
}

// Beside the melodies

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
static VoiceNote*
melody_near(Rest* const rest, const Tick tick, size_t* const n)
{
  VoiceNote* const notes = rest->notation->notes;
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
  size_t           n    = 0;
  VoiceNote* const near = melody_near(rest, note->tick, &n);
  for (size_t i = 0; i < n; ++i) {
    VoiceNote* const melody = &near[i];
    if (melody->voice == PLAYER && melody->note.heard == note->tick &&
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
  const WrittenNote*     nearest = NULL;
  Tick                   least   = rest->together;
  size_t                 n       = 0;
  const VoiceNote* const near    = melody_near(rest, note->tick, &n);
  for (size_t i = 0; i < n; ++i) {
    const VoiceNote* const melody = &near[i];
    const Tick             off    = llabs(melody->note.heard - note->tick);
    if (melody->voice == PLAYER && !melody->note.is_grace && off <= least) {
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
  add_note(rest->notation, written, PLAYER);
}

// The nearest half beat, for what the ear took for none of a melody
static Tick
nearest_half(const Tick tick)
{
  const Tick half = TICKS_PER_EIGHTH;
  const Tick up   = tick + half / 2;
  return up - ((up % half) + half) % half;
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
  VoiceNote* const placed = &rest->notation->notes[rest->notation->n_notes - 1];
  placed->note.is_grace   = true;
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
place_turn(Rest* const       rest,
           const Span        span,
           const Note* const notes,
           const size_t      n_notes)
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
    const Span  span  = notation->spans[s];
    Note* const first = &rest->left[i];
    size_t      n     = 0; // Those to be heard, gathered at `first`
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
    rest->together = (Tick)lround(TOGETHER_MS * notation->head.ear.tempo_bpm *
                                  TICKS_PER_QUARTER / 60000.0);
    list_left(rest, conversation);
    rest->near = 0;
    place_left(rest);
  }
  free(left);
  free(rest);
}

// The score

// What stands on the staves of a part, owned
typedef struct {
  WrittenNote* notes;
  Column*      columns;
  ScoreLabel*  labels;
} Sheet;

static void
sheet_free(Sheet* const sheet)
{
  free(sheet->notes);
  free(sheet->columns);
  free(sheet->labels);
}

static int
compare(const void* const a, const void* const b)
{
  return written_compare(a, b);
}

// Takes the staff that begins at `notes`; returns the staff's size before what
// is written twice was taken out
static size_t
take_staff(ScoreStaff* const  staff,
           const Meter        meter,
           WrittenNote* const notes,
           const size_t       n_notes,
           const Tick         end,
           Column* const      columns)
{
  const unsigned number = notes->staff;
  size_t         n      = 0;
  while (n < n_notes && notes[n].staff == number) {
    ++n;
  }
  size_t n_kept    = n;
  staff->notes     = notes;
  staff->columns   = columns;
  staff->n_columns = written_columns(meter, notes, &n_kept, end, columns);
  return n;
}

static void
take_labels(ScorePart* const      part,
            Sheet* const          sheet,
            const Notation* const notation,
            const bool            by_player)
{
  for (size_t i = 0; i < notation->n_spans; ++i) {
    if (notation->spans[i].by_player == by_player) {
      sheet->labels[part->n_labels++] =
        (ScoreLabel){notation->spans[i].start, notation->spans[i].label};
    }
  }
  part->labels = sheet->labels;
}

static Status
fill_part(ScorePart* const      part,
          Sheet* const          sheet,
          const Notation* const notation,
          const unsigned        voice,
          const unsigned        n_bars)
{
  const Meter meter = notation->head.ear.chart->meter;
  sheet->notes      = calloc(notation->n_notes + 1, sizeof(*sheet->notes));
  sheet->columns    = calloc(notation->n_notes + 1, sizeof(*sheet->columns));
  sheet->labels     = calloc(notation->n_spans + 1, sizeof(*sheet->labels));
  if (!sheet->notes || !sheet->columns || !sheet->labels) {
    return STATUS_MEMORY;
  }
  size_t n = 0;
  for (size_t i = 0; i < notation->n_notes; ++i) {
    if (notation->notes[i].voice == voice) {
      sheet->notes[n++] = notation->notes[i].note;
    }
  }
  qsort(sheet->notes, n, sizeof(*sheet->notes), compare);
  for (size_t i = 0; i < n;) {
    ScoreStaff* const staff = &part->staves[sheet->notes[i].staff];
    i += take_staff(staff,
                    meter,
                    sheet->notes + i,
                    n - i,
                    n_bars * meter_bar_ticks(meter),
                    sheet->columns + i);
  }
  take_labels(part, sheet, notation, voice == PLAYER);
  return STATUS_OK;
}

static void
measure_score(Score* const score, const Notation* const notation)
{
  const Meter meter = notation->head.ear.chart->meter;
  const Tick  bar   = meter_bar_ticks(meter);
  const Tick  beat  = meter_beat_ticks(meter);
  Tick        end   = 1;
  Tick        first = 0;
  for (size_t i = 0; i < notation->n_spans; ++i) {
    end = notation->spans[i].end > end ? notation->spans[i].end : end;
  }
  for (size_t i = 0; i < notation->n_notes; ++i) {
    const Tick tick = notation->notes[i].note.tick;
    end             = tick >= end ? tick + 1 : end;
    first           = tick < first ? tick : first;
  }
  score->n_bars  = (unsigned)((end + bar - 1) / bar);
  score->pick_up = (-first + beat - 1) / beat * beat;
}

static Status
write_score(const Score* const score,
            const char* const  path,
            Fault* const       fault)
{
  char*  bytes = NULL;
  size_t size  = 0;
  if (musicxml_bytes(score, &bytes, &size)) {
    return fault_set(
      fault, STATUS_MEMORY, path, 0, "%s", status_text(STATUS_MEMORY));
  }
  const Status status = file_save(path, bytes, size, FILE_OPEN, fault);
  free(bytes);
  return status;
}

Status
notation_save(const Notation* const notation,
              const char* const     title,
              const char* const     path,
              Fault* const          fault)
{
  Sheet     sheets[N_VOICES] = {{.notes = NULL}};
  ScorePart parts[N_VOICES]  = {
     [PLAYER]  = {.name = "Player"},
     [PARTNER] = {.name = "Partner"},
  };
  Score score = {
    .title          = utf8_is_line(title) ? title : "?",
    .software       = "barter " BARTER_VERSION,
    .chart          = notation->head.ear.chart,
    .tempo_bpm      = notation->head.ear.tempo_bpm,
    .swing_ratio    = notation->head.swing_ratio,
    .marks_choruses = true,
    .parts          = parts,
    .n_parts        = N_VOICES,
  };
  Status status = notation->has_failed ? STATUS_MEMORY : STATUS_OK;
  measure_score(&score, notation);
  for (unsigned v = 0; v < N_VOICES && !status; ++v) {
    status = fill_part(&parts[v], &sheets[v], notation, v, score.n_bars);
  }
  if (status) {
    (void)fault_set(fault, status, path, 0, "%s", status_text(status));
  } else {
    status = write_score(&score, path, fault);
  }
  for (unsigned v = 0; v < N_VOICES; ++v) {
    sheet_free(&sheets[v]);
  }
  return status;
}
