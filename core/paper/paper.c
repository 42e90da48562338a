#include "core/paper/paper.h"

#include "core/files/file.h"
#include "core/module/module.h"
#include "core/picture/picture_module.h"

#include <assert.h>
#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

static const double quarter_turn = 1.5707963267948966;

// It has sharps and flats; where it is missing, the system's own takes its
// place
static const char face[] = "DejaVu Sans";

struct Paper {
  PaperKind        kind;
  cairo_surface_t* surface;
  cairo_t*         pen;
  char*            bytes; ///< Of the file, as they come
  size_t           n_bytes;
  size_t           capacity;
  bool             is_out_of_memory;
  PaperWatch       watch; ///< NULL if nobody does
  void*            watcher;
};

// Okabe & Ito 2008, as 8-bit red, green, blue; the greys are ours
static const unsigned char inks[N_INKS][3] = {
  [INK_BLACK]     = {0, 0, 0},
  [INK_ORANGE]    = {230, 159, 0},
  [INK_SKY]       = {86, 180, 233},
  [INK_GREEN]     = {0, 158, 115},
  [INK_YELLOW]    = {240, 228, 66},
  [INK_BLUE]      = {0, 114, 178},
  [INK_VERMILION] = {213, 94, 0},
  [INK_PURPLE]    = {204, 121, 167},
  [INK_GREY]      = {110, 110, 110},
  [INK_PALE]      = {220, 220, 220},
  [INK_WHITE]     = {255, 255, 255},
};

Status
paper_kind(PaperKind* const kind, const char* const path, Fault* const fault)
{
  static const char* const endings[] = {
    [PAPER_SVG] = ".svg",
    [PAPER_PDF] = ".pdf",
    [PAPER_PNG] = ".png",
  };
  const char* const ending = strrchr(path, '.');
  for (unsigned i = 0; ending && i < sizeof(endings) / sizeof(*endings); ++i) {
    if (strcasecmp(ending, endings[i]) == 0) {
      *kind = (PaperKind)i;
      return STATUS_OK;
    }
  }
  return fault_in(fault,
                  STATUS_RANGE,
                  path,
                  "the end of the name says no kind of picture; .svg, .png or "
                  ".pdf does");
}

/// Keep bytes that the library writes.
static cairo_status_t
keep_bytes(void* const                closure,
           const unsigned char* const bytes,
           const unsigned             n)
{
  Paper* const paper = closure;
  if (paper->n_bytes + n > paper->capacity) {
    const size_t capacity = 2 * (paper->n_bytes + n) + 4096;
    char* const  grown    = realloc(paper->bytes, capacity);
    if (!grown) {
      paper->is_out_of_memory = true;
      return CAIRO_STATUS_WRITE_ERROR;
    }
    paper->bytes    = grown;
    paper->capacity = capacity;
  }
  memcpy(paper->bytes + paper->n_bytes, bytes, n);
  paper->n_bytes += n;
  return CAIRO_STATUS_SUCCESS;
}

static cairo_surface_t*
make_surface(Paper* const paper, const double width, const double height)
{
  switch (paper->kind) {
    case PAPER_SVG:
      return cairo_svg_surface_create_for_stream(
        keep_bytes, paper, width, height);
    case PAPER_PDF:
      return cairo_pdf_surface_create_for_stream(
        keep_bytes, paper, width, height);
    case PAPER_PNG:
    case PAPER_FILM:
      break;
  }
  return cairo_image_surface_create(
    paper->kind == PAPER_FILM ? CAIRO_FORMAT_ARGB32 : CAIRO_FORMAT_RGB24,
    (int)(width * PAPER_DOTS_A_POINT),
    (int)(height * PAPER_DOTS_A_POINT));
}

static bool
is_of_dots(const PaperKind kind)
{
  return kind == PAPER_PNG || kind == PAPER_FILM;
}

static void
choose_ink(Paper* const paper, const PaperInk ink)
{
  const unsigned char* const rgb = inks[ink];
  cairo_set_source_rgb(
    paper->pen, rgb[0] / 255.0, rgb[1] / 255.0, rgb[2] / 255.0);
}

static void
whiten(Paper* const paper)
{
  choose_ink(paper, INK_WHITE);
  cairo_paint(paper->pen);
}

/// Text keeps its proportions at every size: a page looks the same in a file
/// that is drawn by dots and in one that is drawn by lines.
static void
leave_letters_unhinted(cairo_t* const pen)
{
  cairo_font_options_t* const options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options(pen, options);
  cairo_font_options_destroy(options);
}

Status
paper_open(Paper** const   paper,
           const PaperKind kind,
           const double    width,
           const double    height)
{
  Paper* const opened = calloc(1, sizeof(*opened));
  if (!opened) {
    return STATUS_MEMORY;
  }
  opened->kind    = kind;
  opened->surface = make_surface(opened, width, height);
  opened->pen     = cairo_create(opened->surface);
  if (cairo_status(opened->pen)) {
    paper_close(opened);
    return STATUS_MEMORY;
  }
  if (kind == PAPER_SVG) {
    cairo_svg_surface_set_document_unit(opened->surface, CAIRO_SVG_UNIT_PT);
  } else if (is_of_dots(kind)) {
    cairo_scale(opened->pen, PAPER_DOTS_A_POINT, PAPER_DOTS_A_POINT);
  }
  cairo_set_line_join(opened->pen, CAIRO_LINE_JOIN_ROUND);
  leave_letters_unhinted(opened->pen);
  if (kind != PAPER_FILM) {
    whiten(opened);
  }
  *paper = opened;
  return STATUS_OK;
}

void
paper_close(Paper* const paper)
{
  if (paper) {
    cairo_destroy(paper->pen);
    cairo_surface_destroy(paper->surface);
    free(paper->bytes);
    free(paper);
  }
}

// Pages

void
paper_next_page(Paper* const paper)
{
  assert(paper->kind == PAPER_PDF);
  cairo_show_page(paper->pen);
  whiten(paper);
}

void
paper_title(Paper* const paper, const char* const title)
{
  if (paper->kind == PAPER_PDF) {
    cairo_pdf_surface_set_metadata(
      paper->surface, CAIRO_PDF_METADATA_TITLE, title);
  }
}

void
paper_watch(Paper* const paper, const PaperWatch watch, void* const watcher)
{
  paper->watch   = watch;
  paper->watcher = watcher;
}

static void
tell(const Paper* const paper, const PaperMark mark)
{
  if (paper->watch && mark.right > mark.left && mark.bottom > mark.top) {
    paper->watch(paper->watcher, &mark);
  }
}

// Drawing

static void
stroke(Paper* const paper)
{
  PaperMark mark = {.is_text = false};
  cairo_stroke_extents(
    paper->pen, &mark.left, &mark.top, &mark.right, &mark.bottom);
  tell(paper, mark);
  cairo_stroke(paper->pen);
}

static void
fill(Paper* const paper)
{
  PaperMark mark = {.is_text = false};
  cairo_fill_extents(
    paper->pen, &mark.left, &mark.top, &mark.right, &mark.bottom);
  tell(paper, mark);
  cairo_fill(paper->pen);
}

static void
trace(Paper* const paper, const PaperPoint* const points, const size_t n)
{
  cairo_new_path(paper->pen);
  for (size_t i = 0; i < n; ++i) {
    cairo_line_to(paper->pen, points[i].x, points[i].y);
  }
}

static void
choose_pen(Paper* const paper, const PaperPen pen)
{
  static const double patterns[][4] = {
    [PAPER_SOLID]    = {0.0},
    [PAPER_DASHED]   = {5.0, 3.0, 5.0, 3.0},
    [PAPER_DOTTED]   = {1.0, 2.0, 1.0, 2.0},
    [PAPER_DASH_DOT] = {6.0, 2.0, 1.0, 2.0},
  };
  choose_ink(paper, pen.ink);
  cairo_set_line_width(paper->pen, pen.width);
  cairo_set_dash(
    paper->pen, patterns[pen.dash], pen.dash == PAPER_SOLID ? 0 : 4, 0.0);
}

void
paper_line(Paper* const            paper,
           const PaperPen          pen,
           const PaperPoint* const points,
           const size_t            n)
{
  choose_pen(paper, pen);
  trace(paper, points, n);
  stroke(paper);
}

void
paper_area(Paper* const            paper,
           const PaperInk          ink,
           const PaperPoint* const points,
           const size_t            n)
{
  choose_ink(paper, ink);
  trace(paper, points, n);
  fill(paper);
}

void
paper_box(Paper* const     paper,
          const PaperInk   ink,
          const PaperPoint corner,
          const double     width,
          const double     height)
{
  choose_ink(paper, ink);
  cairo_rectangle(paper->pen, corner.x, corner.y, width, height);
  fill(paper);
}

void
paper_disc(Paper* const     paper,
           const PaperInk   ink,
           const PaperPoint centre,
           const double     radius)
{
  choose_ink(paper, ink);
  cairo_new_path(paper->pen);
  cairo_arc(paper->pen, centre.x, centre.y, radius, 0.0, 4.0 * quarter_turn);
  fill(paper);
}

// Letters

static void
choose_type(Paper* const paper, const PaperType type)
{
  choose_ink(paper, type.ink);
  cairo_select_font_face(paper->pen,
                         face,
                         CAIRO_FONT_SLANT_NORMAL,
                         type.is_bold ? CAIRO_FONT_WEIGHT_BOLD
                                      : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(paper->pen, type.size);
}

static cairo_text_extents_t
extents_of(Paper* const paper, const PaperType type, const char* const text)
{
  cairo_text_extents_t extents;
  choose_type(paper, type);
  cairo_text_extents(paper->pen, text, &extents);
  return extents;
}

bool
paper_has_letters(Paper* const paper, const char* const text)
{
  cairo_glyph_t* glyphs   = NULL;
  int            n_glyphs = 0;
  bool           lacks    = false;
  choose_type(paper, (PaperType){.size = 10.0});
  if (!cairo_scaled_font_text_to_glyphs(cairo_get_scaled_font(paper->pen),
                                        0.0,
                                        0.0,
                                        text,
                                        -1,
                                        &glyphs,
                                        &n_glyphs,
                                        NULL,
                                        NULL,
                                        NULL)) {
    for (int i = 0; i < n_glyphs; ++i) {
      lacks =
        lacks || glyphs[i].index == 0; // The face's sign for what it lacks
    }
    cairo_glyph_free(glyphs);
  }
  return !lacks;
}

double
paper_text_width(Paper* const      paper,
                 const PaperType   type,
                 const char* const text)
{
  return extents_of(paper, type, text).x_advance;
}

/// Tell where the ink of a text falls whose beginning lies `back` before `at`.
static void
tell_text(const Paper* const                paper,
          const PaperType                   type,
          const PaperPoint                  at,
          const double                      back,
          const cairo_text_extents_t* const extents)
{
  const double left  = extents->x_bearing - back;
  const double right = left + extents->width;
  const double top   = extents->y_bearing;
  const double foot  = top + extents->height;
  tell(
    paper,
    type.runs_up
      ? (PaperMark){true, at.x + top, at.y - right, at.x + foot, at.y - left}
      : (PaperMark){true, at.x + left, at.y + top, at.x + right, at.y + foot});
}

void
paper_text(Paper* const      paper,
           const PaperType   type,
           const PaperPoint  at,
           const char* const text)
{
  const cairo_text_extents_t extents = extents_of(paper, type, text);
  const double               back    = type.align == PAPER_LEFT ? 0.0
                                       : type.align == PAPER_CENTRE ? extents.x_advance / 2.0
                                                                    : extents.x_advance;
  tell_text(paper, type, at, back, &extents);
  cairo_save(paper->pen);
  cairo_translate(paper->pen, at.x, at.y);
  if (type.runs_up) {
    cairo_rotate(paper->pen, -quarter_turn);
  }
  cairo_move_to(paper->pen, -back, 0.0);
  cairo_show_text(paper->pen, text);
  cairo_restore(paper->pen);
}

// Pictures

Status
paper_picture(Paper* const      paper,
              const char* const svg,
              const size_t      n_svg,
              const PaperPoint  corner,
              const double      width,
              const double      height,
              Fault* const      fault)
{
  const void*  table  = NULL;
  const Status status = module_open(PICTURE_MODULE, &table, fault);
  if (status) {
    return status;
  }
  const PictureModule* const module = table;
  const double               box[4] = {corner.x, corner.y, width, height};
  tell(paper,
       (PaperMark){
         false, corner.x, corner.y, corner.x + width, corner.y + height});
  choose_ink(paper, INK_BLACK);
  return module->draw(paper->pen, svg, n_svg, box)
           ? fault_say(fault, STATUS_SYNTAX, "engraved notes make no picture")
           : STATUS_OK;
}

// Keeping

static cairo_status_t
finish(Paper* const paper)
{
  cairo_status_t status = cairo_status(paper->pen);
  if (!status && is_of_dots(paper->kind)) {
    status =
      cairo_surface_write_to_png_stream(paper->surface, keep_bytes, paper);
  }
  if (!status) {
    cairo_surface_finish(paper->surface);
    status = cairo_surface_status(paper->surface);
  }
  return status;
}

static Status
finish_or_say(Paper* const paper, const char* const path, Fault* const fault)
{
  const cairo_status_t status = finish(paper);
  if (status == CAIRO_STATUS_NO_MEMORY || paper->is_out_of_memory) {
    return fault_memory(fault, path);
  }
  return status ? fault_in(fault,
                           STATUS_SYSTEM,
                           path,
                           "cannot be drawn: %s",
                           cairo_status_to_string(status))
                : STATUS_OK;
}

Status
paper_save(Paper* const paper, const char* const path, Fault* const fault)
{
  const Status status = finish_or_say(paper, path, fault);
  return status
           ? status
           : file_save(path, paper->bytes, paper->n_bytes, FILE_OPEN, fault);
}

Status
paper_take(Paper* const  paper,
           char** const  bytes,
           size_t* const size,
           Fault* const  fault)
{
  const Status status = finish_or_say(paper, NULL, fault);
  if (!status) {
    *bytes       = paper->bytes;
    *size        = paper->n_bytes;
    paper->bytes = NULL;
  }
  return status;
}
