#include "profiles/sheet/staves.h"

#include "core/abc/pen.h"

#include <stdio.h>
#include <stdlib.h>

static const double cm_per_point = 2.54 / 72.0;

// No margins; words as the rest of the page has them
static void
write_head(FILE* const stream)
{
  (void)fputs("%abc-2.1\n"
              "%%leftmargin 0cm\n"
              "%%rightmargin 0cm\n"
              "%%topspace 0\n"
              "%%staffsep 10\n"
              "%%stretchlast 1\n"
              "%%gchordfont Sans 10.5\n"
              "%%vocalfont Sans 10.5\n",
              stream);
}

static void
write_tune_head(FILE* const stream, const unsigned number, const double points)
{
  (void)fprintf(
    stream, "\nX:%u\n%%%%pagewidth %.2fcm\n", number, points * cm_per_point);
}

// Scales

static SpelledPitch
spelled(const unsigned pitch, const Spelling spelling)
{
  return (SpelledPitch){spelling,
                        (int8_t)(((int)pitch - spelling.alter) / 12 - 1)};
}

// Notes without a length have no stem; the right hand's fingers stand above,
// the left hand's below
static void
write_scale(FILE* const stream, const Key key, const SheetRun* const run)
{
  AbcPen pen = {.stream = stream};
  accidentals_begin(&pen.accidentals, key);
  (void)fputs("M:none\nL:1/4\n", stream);
  pen_key(stream, key);
  for (unsigned i = 0; i < run->n; ++i) {
    (void)fprintf(stream, "\"%u\"", run->right[i]);
    pen_pitch(&pen, spelled(run->pitches[i], run->spellings[i]));
    (void)fputs("0 ", stream);
  }
  (void)fputs("\nw:", stream);
  for (unsigned i = 0; i < run->n; ++i) {
    (void)fprintf(stream, " %u", run->left[i]);
  }
  (void)fputc('\n', stream);
}

// Rhythms

static bool
is_triplet(const SheetMark* const mark)
{
  return mark->length == TICKS_PER_QUARTER / 3;
}

/// Whether a beam goes on from a mark to the next: within a beat, over no rest.
static bool
beams_on(const SheetRhythm* const rhythm, const unsigned i, const Tick beat)
{
  const SheetMark* const mark = &rhythm->marks[i];
  return i + 1 < rhythm->n_marks && !mark->is_rest && !mark[1].is_rest &&
         mark->tick / beat == mark[1].tick / beat;
}

static void
write_mark(FILE* const stream, const SheetMark* const mark)
{
  const bool begins = is_triplet(mark) && mark->tick % TICKS_PER_QUARTER == 0;
  (void)fputs(begins ? "(3" : "", stream);
  (void)fputc(mark->is_rest ? 'z' : 'B', stream);
  pen_length(stream,
             (is_triplet(mark) ? TICKS_PER_QUARTER / 2 : mark->length) *
               MOMENTS_PER_TICK);
  (void)fputs(mark->ties_on ? "-" : "", stream);
}

// On one line, all stems up
static void
write_rhythm(FILE* const              stream,
             const Meter              meter,
             const SheetRhythm* const rhythm)
{
  const Tick beat = meter_beat_ticks(meter);
  const Tick bar  = meter_bar_ticks(meter);
  (void)fprintf(
    stream,
    "M:%u/%u\nL:1/16\nK:C clef=none stafflines=1\n%%%%pos stem up\n",
    meter.numerator,
    meter.denominator);
  for (unsigned i = 0; i < rhythm->n_marks; ++i) {
    const Tick end  = rhythm->marks[i].tick + rhythm->marks[i].length;
    const bool last = i + 1 == rhythm->n_marks;
    write_mark(stream, &rhythm->marks[i]);
    (void)fputs(beams_on(rhythm, i, beat) ? "" : " ", stream);
    (void)fputs(last ? "|]\n" : end % bar == 0 ? "| " : "", stream);
  }
}

// All of them, as they follow each other on the pages

static unsigned
write_blocks(FILE* const             stream,
             const Sheet* const      sheet,
             const SheetPages* const pages)
{
  const Chart* const chart = sheet->request.chart;
  unsigned           n     = 0;
  for (unsigned i = 0; i < pages->n_blocks; ++i) {
    const SheetBlock* const block = &pages->blocks[i];
    if (block->kind == BLOCK_RHYTHM) {
      write_tune_head(stream, ++n, block->width - PAGES_NUMBER_WIDTH);
      write_rhythm(stream, chart->meter, &sheet->rhythms[block->index]);
    } else if (block->kind == BLOCK_SCALE) {
      const SheetRun run = sheet_run(sheet->scales[block->index]);
      write_tune_head(stream, ++n, block->width);
      write_scale(stream, chart->key, &run);
    }
  }
  return n;
}

static Status
write_text(const Sheet* const      sheet,
           const SheetPages* const pages,
           char** const            text,
           size_t* const           size,
           unsigned* const         n)
{
  char*       written = NULL;
  FILE* const stream  = open_memstream(&written, size);
  if (!stream) {
    return STATUS_MEMORY;
  }
  write_head(stream);
  *n = write_blocks(stream, sheet, pages);
  if (fclose(stream) != 0) {
    free(written);
    return STATUS_MEMORY;
  }
  *text = written;
  return STATUS_OK;
}

Status
sheet_staves(SheetStaves* const      staves,
             const Sheet* const      sheet,
             const SheetPages* const pages,
             Fault* const            fault)
{
  const EngraveStyle style    = {.colour = NULL};
  char*              text     = NULL;
  size_t             size     = 0;
  unsigned           n_wanted = 0;
  *staves                     = (SheetStaves){.svg = NULL};
  if (write_text(sheet, pages, &text, &size, &n_wanted)) {
    return fault_memory(fault, NULL);
  }
  const Status status =
    engrave_svg(text, size, &style, &staves->svg, &size, fault);
  free(text);
  EngravedPiece piece = {.svg = NULL};
  while (!status && staves->n < n_wanted && engrave_next(&piece, staves->svg)) {
    staves->pieces[staves->n++] = piece;
  }
  return status || staves->n == n_wanted
           ? status
           : fault_set(
               fault, STATUS_SYNTAX, NULL, 0, "abcm2ps left some notes out");
}

void
sheet_staves_free(SheetStaves* const staves)
{
  free(staves->svg);
  *staves = (SheetStaves){.svg = NULL};
}
