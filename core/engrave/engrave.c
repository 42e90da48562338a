#include "core/engrave/engrave.h"

#include "core/engrave/child.h"
#include "core/files/file.h"
#include "core/paper/paper.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { SECONDS = 10 }; // A long conversation takes a tenth of one

static const char       end_of_piece[] = "</svg>";
static const PaperPoint origin         = {0.0, 0.0};

static Status
tell(const Status status, Fault* const fault)
{
  static const char missing[] =
    "notes cannot be engraved: abcm2ps is not installed; install the package "
    "abcm2ps";
  return fault_say(fault,
                   status,
                   "%s",
                   status == STATUS_MISSING ? missing
                   : status == STATUS_FULL
                     ? "abcm2ps took too long over the notes and was ended"
                   : status == STATUS_SYNTAX ? "abcm2ps failed over the notes"
                                             : status_text(status));
}

// Lines that name the program, the day and the command
static bool
is_about_itself(const char* const line)
{
  static const char* const begins[] = {
    "<!-- Creator", "<!-- CreationDate", "<!-- CommandLine", "<title>"};
  for (unsigned i = 0; i < sizeof(begins) / sizeof(*begins); ++i) {
    if (strncmp(line, begins[i], strlen(begins[i])) == 0) {
      return true;
    }
  }
  return false;
}

// Gives the root a viewBox, so that it can be scaled, and its colour
static void
copy_line(FILE* const         stream,
          const char* const   line,
          const int           length,
          const EngraveStyle* style)
{
  double width  = 0.0;
  double height = 0.0;
  if (sscanf(line, " width=\"%lfpx\" height=\"%lfpx\"", &width, &height) == 2) {
    (void)fprintf(stream,
                  "\tviewBox=\"0 0 %.2f %.2f\" width=\"%.2fpx\" "
                  "height=\"%.2fpx\">\n",
                  width,
                  height,
                  width,
                  height);
  } else if (style->colour && strncmp(line, "\tcolor=", 7) == 0) {
    (void)fprintf(stream, "\tcolor=\"%s\"\n", style->colour);
  } else if (!is_about_itself(line)) {
    (void)fprintf(stream, "%.*s\n", length, line);
  }
}

static Status
clean(const char* const         raw,
      const EngraveStyle* const style,
      char** const              svg,
      size_t* const             size)
{
  char*       written = NULL;
  size_t      length  = 0;
  FILE* const stream  = open_memstream(&written, &length);
  if (!stream) {
    return STATUS_MEMORY;
  }
  for (const char* line = raw; *line;) {
    const int n = (int)strcspn(line, "\n");
    copy_line(stream, line, n, style);
    line += n + (line[n] == '\n');
  }
  if (fclose(stream) != 0) {
    free(written);
    return STATUS_MEMORY;
  }
  *svg  = written;
  *size = length;
  return STATUS_OK;
}

Status
engrave_svg(const char* const         abc,
            const size_t              n_abc,
            const EngraveStyle* const style,
            char** const              svg,
            size_t* const             size,
            Fault* const              fault)
{
  // In secure mode it opens no other file
  const char* const words[] = {"abcm2ps",
                               "-q",
                               "-S",
                               style->has_pages ? "-v" : "-g",
                               style->has_marks ? "-A" : "-q",
                               "-O",
                               "-",
                               "-",
                               NULL};
  char*             raw     = NULL;
  size_t            n_raw   = 0;
  const unsigned    seconds = style->seconds ? style->seconds : SECONDS;
  Status status = child_run(words, seconds, abc, n_abc, &raw, &n_raw);
  if (!status && !strstr(raw, "<svg")) {
    status = STATUS_SYNTAX;
  }
  if (!status) {
    status = clean(raw, style, svg, size);
  }
  free(raw);
  return status ? tell(status, fault) : STATUS_OK;
}

static bool
ends_in(const char* const path, const char* const ending)
{
  const size_t n     = strlen(path);
  const size_t n_end = strlen(ending);
  return n > n_end && strcasecmp(path + n - n_end, ending) == 0;
}

bool
engrave_can_save(const char* const path)
{
  return ends_in(path, ".svg") || ends_in(path, ".pdf") ||
         ends_in(path, ".png") || ends_in(path, ".abc");
}

// Pictures on paper

bool
engrave_next(EngravedPiece* const piece, const char* const svg)
{
  const char* const from  = piece->svg ? piece->svg + piece->n : svg;
  const char* const begin = strstr(from, "<svg");
  const char* const box   = begin ? strstr(begin, "viewBox=\"") : NULL;
  const char* const end   = begin ? strstr(begin, end_of_piece) : NULL;
  EngravedPiece     found = {.svg = begin};
  if (!box || !end ||
      sscanf(box, "viewBox=\"0 0 %lf %lf\"", &found.width, &found.height) !=
        2) {
    return false;
  }
  found.n = (size_t)(end - begin) + strlen(end_of_piece);
  *piece  = found;
  return true;
}

// A page for each picture, of the first one's size
static Status
draw_pages(Paper* const      paper,
           const char* const svg,
           const double      unit,
           EngravedPiece     piece,
           Fault* const      fault)
{
  const double width  = unit * piece.width;
  const double height = unit * piece.height;
  Status       status =
    paper_picture(paper, piece.svg, piece.n, origin, width, height, fault);
  while (!status && engrave_next(&piece, svg)) {
    paper_next_page(paper);
    status =
      paper_picture(paper, piece.svg, piece.n, origin, width, height, fault);
  }
  return status;
}

static Status
save_drawn(const char* const svg,
           const PaperKind   kind,
           const char* const path,
           Fault* const      fault)
{
  const double  unit  = kind == PAPER_PDF ? ENGRAVED_POINTS : 1.0;
  EngravedPiece first = {.svg = NULL};
  Paper*        paper = NULL;
  if (!engrave_next(&first, svg)) {
    return tell(STATUS_SYNTAX, fault);
  }
  if (paper_open(&paper, kind, unit * first.width, unit * first.height)) {
    return fault_memory(fault, path);
  }
  Status status = draw_pages(paper, svg, unit, first, fault);
  if (!status) {
    status = paper_save(paper, path, fault);
  }
  paper_close(paper);
  return status;
}

Status
engrave_film(const char* const svg,
             const double      dots,
             char** const      png,
             size_t* const     size,
             Fault* const      fault)
{
  EngravedPiece piece = {.svg = NULL};
  Paper*        paper = NULL;
  if (!engrave_next(&piece, svg)) {
    return tell(STATUS_SYNTAX, fault);
  }
  const double most   = ENGRAVE_DOTS / piece.width;
  const double unit   = (dots < most ? dots : most) / PAPER_DOTS_A_POINT;
  const double width  = unit * piece.width;
  const double height = unit * piece.height;
  if (paper_open(&paper, PAPER_FILM, width, height)) {
    return fault_memory(fault, NULL);
  }
  Status status =
    paper_picture(paper, piece.svg, piece.n, origin, width, height, fault);
  if (!status) {
    status = paper_take(paper, png, size, fault);
  }
  paper_close(paper);
  return status;
}

Status
engrave_save(const char* const abc,
             const size_t      n_abc,
             const char* const path,
             Fault* const      fault)
{
  if (ends_in(path, ".abc")) {
    return file_save(path, abc, n_abc, FILE_OPEN, fault);
  }
  PaperKind kind   = PAPER_SVG;
  char*     svg    = NULL;
  size_t    size   = 0;
  Status    status = paper_kind(&kind, path, fault);
  if (!status) {
    const EngraveStyle style = {.has_pages = kind == PAPER_PDF};
    status = engrave_svg(abc, n_abc, &style, &svg, &size, fault);
  }
  if (!status) {
    status = kind == PAPER_SVG ? file_save(path, svg, size, FILE_OPEN, fault)
                               : save_drawn(svg, kind, path, fault);
  }
  free(svg);
  return status;
}
