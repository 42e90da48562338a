#include "responder/record/notation_inside.h"

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
  char*  bytes  = NULL;
  size_t size   = 0;
  Status status = musicxml_bytes(score, &bytes, &size);
  if (status) {
    return fault_set(fault, status, path, 0, "%s", status_text(status));
  }
  status = file_save(path, bytes, size, FILE_OPEN, fault);
  free(bytes);
  return status;
}

Status
notation_save(const Notation* const notation,
              const char* const     title,
              const char* const     path,
              Fault* const          fault)
{
  Sheet     sheets[N_NOTATION_VOICES] = {{.notes = NULL}};
  ScorePart parts[N_NOTATION_VOICES]  = {
     [NOTATION_PLAYER]  = {.name = "Player"},
     [NOTATION_PARTNER] = {.name = "Partner"},
  };
  Score score = {
    .title          = utf8_is_line(title) ? title : "?",
    .software       = "barter " BARTER_VERSION,
    .chart          = notation->head.ear.chart,
    .tempo_bpm      = notation->head.ear.tempo_bpm,
    .swing_ratio    = notation->head.swing_ratio,
    .marks_choruses = true,
    .parts          = parts,
    .n_parts        = N_NOTATION_VOICES,
  };
  Status status = notation->has_failed ? STATUS_MEMORY : STATUS_OK;
  measure_score(&score, notation);
  for (unsigned v = 0; v < N_NOTATION_VOICES && !status; ++v) {
    status = fill_part(&parts[v], &sheets[v], notation, v, score.n_bars);
  }
  if (status) {
    (void)fault_set(fault, status, path, 0, "%s", status_text(status));
  } else {
    status = write_score(&score, path, fault);
  }
  for (unsigned v = 0; v < N_NOTATION_VOICES; ++v) {
    sheet_free(&sheets[v]);
  }
  return status;
}
