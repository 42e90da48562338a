#include "responder/record/notation_inside.h"

#include "core/engrave/engrave.h"
#include "core/files/file.h"
#include "core/settings/utf8.h"

#include <stdlib.h>

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
  take_labels(part, sheet, notation, voice == NOTATION_PLAYER);
  return STATUS_OK;
}

// Of the first bar: of all there is, or of the first turn of an excerpt
static Tick
first_bar_line(const Notation* const notation, const Tick bar)
{
  Tick first = notation->head.is_excerpt ? INT64_MAX : 0;
  for (size_t i = 0; i < notation->n_spans; ++i) {
    const Tick start = notation->spans[i].start;
    first            = start < first ? start : first;
  }
  for (size_t i = 0; i < notation->n_notes && !notation->n_spans; ++i) {
    const Tick tick = notation->notes[i].note.tick;
    first           = tick < first ? tick : first;
  }
  return first > 0 && first < INT64_MAX ? first / bar * bar : 0;
}

static void
measure_score(Score* const score, const Notation* const notation)
{
  const Meter meter = notation->head.ear.chart->meter;
  const Tick  bar   = meter_bar_ticks(meter);
  const Tick  beat  = meter_beat_ticks(meter);
  Tick        begin = first_bar_line(notation, bar);
  Tick        first = begin;
  Tick        end   = begin + 1;
  for (size_t i = 0; i < notation->n_spans; ++i) {
    const NotationSpan* const span = &notation->spans[i];
    end                            = span->end > end ? span->end : end;
  }
  for (size_t i = 0; i < notation->n_notes; ++i) {
    const Tick tick = notation->notes[i].note.tick;
    end             = tick >= end ? tick + 1 : end;
    first           = tick < first ? tick : first;
  }
  while (begin >= bar && begin - first >= bar) {
    begin -= bar; // Too much for a pick-up
  }
  score->n_bars    = (unsigned)((end + bar - 1) / bar);
  score->first_bar = (unsigned)(begin / bar);
  score->pick_up = first < begin ? (begin - first + beat - 1) / beat * beat : 0;
}

// A score and all that it points to
typedef struct {
  Sheet     sheets[N_NOTATION_VOICES];
  ScorePart parts[N_NOTATION_VOICES];
  Score     score;
} Pages;

static void
pages_free(Pages* const pages)
{
  for (unsigned v = 0; v < N_NOTATION_VOICES; ++v) {
    sheet_free(&pages->sheets[v]);
  }
}

// Leaves the parts and staves out that have nothing to show, but one
static void
leave_out_empty(Pages* const pages)
{
  unsigned n = 0;
  for (unsigned v = 0; v < N_NOTATION_VOICES; ++v) {
    ScorePart part = pages->parts[v];
    if (!part.staves[0].n_columns) {
      part.staves[0] = part.staves[1];
      part.staves[1] = (ScoreStaff){.n_columns = 0};
    }
    if (part.staves[0].n_columns) {
      pages->parts[n++] = part;
    }
  }
  pages->score.n_parts = n ? n : 1;
}

// Give it to pages_free(), whatever comes back
static Status
pages_fill(Pages* const          pages,
           const Notation* const notation,
           const char* const     title)
{
  *pages = (Pages){
    .parts = {[NOTATION_PLAYER]  = {.name = "Player"},
              [NOTATION_PARTNER] = {.name = "Partner"}},
    .score =
      {
        .title          = utf8_is_line(title) ? title : "?",
        .software       = "barter " BARTER_VERSION,
        .chart          = notation->head.ear.chart,
        .tempo_bpm      = notation->head.ear.tempo_bpm,
        .swing_ratio    = notation->head.swing_ratio,
        .marks_choruses = true,
        .parts          = pages->parts,
        .n_parts        = N_NOTATION_VOICES,
      },
  };
  Status status = notation->has_failed ? STATUS_MEMORY : STATUS_OK;
  measure_score(&pages->score, notation);
  for (unsigned v = 0; v < N_NOTATION_VOICES && !status; ++v) {
    status = fill_part(
      &pages->parts[v], &pages->sheets[v], notation, v, pages->score.n_bars);
  }
  if (!status && notation->head.is_excerpt) {
    leave_out_empty(pages);
  }
  return status;
}

static Status
failed(const Status status, const char* const path, Fault* const fault)
{
  return fault_in(fault, status, path, "%s", status_text(status));
}

Status
notation_save(const Notation* const notation,
              const char* const     title,
              const char* const     path,
              Fault* const          fault)
{
  const void* table  = NULL;
  Status      status = module_open(MUSICXML_MODULE, &table, fault);
  if (status) {
    return status;
  }
  const MusicxmlModule* const module = table;
  Pages                       pages;
  char*                       bytes = NULL;
  size_t                      size  = 0;

  status = pages_fill(&pages, notation, title);
  if (!status) {
    status = module->bytes(&pages.score, &bytes, &size);
  }
  status = status ? failed(status, path, fault)
                  : file_save(path, bytes, size, FILE_OPEN, fault);
  free(bytes);
  pages_free(&pages);
  return status;
}

static Status
abc_of(const Notation* const  notation,
       const char* const      title,
       const AbcLayout* const layout,
       char** const           text,
       size_t* const          size)
{
  Pages  pages;
  Status status = pages_fill(&pages, notation, title);
  if (!status) {
    status = abc_text(&pages.score, layout, text, size);
  }
  pages_free(&pages);
  return status;
}

Status
notation_abc_placed(const Notation* const  notation,
                    const AbcLayout* const layout,
                    AbcPlaces* const       places,
                    char** const           text,
                    size_t* const          size)
{
  Pages  pages;
  Status status = pages_fill(&pages, notation, "");
  if (!status) {
    status = abc_text_placed(&pages.score, layout, places, text, size);
  }
  pages_free(&pages);
  return status;
}

Status
notation_engrave(const Notation* const notation,
                 const char* const     title,
                 const char* const     path,
                 Fault* const          fault)
{
  const AbcLayout page = {
    .bars_per_line = 4, .width_cm = 21.0, .height_cm = 29.7, .has_title = true};
  char*  text = NULL;
  size_t size = 0;
  if (!engrave_can_save(path)) {
    return fault_in(fault,
                    STATUS_SYNTAX,
                    path,
                    "ends in none of .svg, .pdf, .png and .abc, which tell "
                    "what is engraved");
  }
  Status status = abc_of(notation, title, &page, &text, &size);
  status        = status ? failed(status, path, fault)
                         : engrave_save(text, size, path, fault);
  free(text);
  return status;
}
