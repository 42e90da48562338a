#include "core/engrave/picture.h"

#include <cairo-pdf.h>
#include <cairo.h>
#include <librsvg/rsvg.h>
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static const double DPI           = 96.0; // What a pixel of CSS is
static const double POINTS_PER_PX = 0.75;
static const double PNG_ENLARGES  = 2.0;
static const double MOST_PX       = 30000.0; // More than cairo's pictures have
static const char   END_OF_PAGE[] = "</svg>";

typedef struct {
  RsvgHandle* handle;
  double      width; // Pixels of CSS
  double      height;
} Picture;

static bool
picture_open(Picture* const picture, const char* const svg, const size_t n)
{
  picture->handle =
    rsvg_handle_new_from_data((const guint8*)svg, (gsize)n, NULL);
  if (!picture->handle) {
    return false;
  }
  rsvg_handle_set_dpi(picture->handle, DPI);
  return rsvg_handle_get_intrinsic_size_in_pixels(
           picture->handle, &picture->width, &picture->height) &&
         picture->width >= 1.0 && picture->height >= 1.0;
}

static bool
picture_draw(const Picture* const picture, cairo_t* const cairo)
{
  const RsvgRectangle all = {0.0, 0.0, picture->width, picture->height};
  return rsvg_handle_render_document(picture->handle, cairo, &all, NULL);
}

static void
picture_close(Picture* const picture)
{
  if (picture->handle) {
    g_object_unref(picture->handle);
  }
}

// What a surface writes goes on to a stream
static cairo_status_t
keep(void* const stream, const unsigned char* const bytes, const unsigned n)
{
  return fwrite(bytes, 1, n, stream) == n ? CAIRO_STATUS_SUCCESS
                                          : CAIRO_STATUS_WRITE_ERROR;
}

static bool
add_page(cairo_surface_t* const pdf, const char* const svg, const size_t n)
{
  Picture picture = {.handle = NULL};
  bool    is_good = picture_open(&picture, svg, n);
  if (is_good) {
    cairo_pdf_surface_set_size(
      pdf, picture.width * POINTS_PER_PX, picture.height * POINTS_PER_PX);
    cairo_t* const cairo = cairo_create(pdf);
    cairo_scale(cairo, POINTS_PER_PX, POINTS_PER_PX);
    is_good = picture_draw(&picture, cairo);
    cairo_show_page(cairo);
    cairo_destroy(cairo);
  }
  picture_close(&picture);
  return is_good;
}

static Status
write_pdf(FILE* const stream, const char* svg, const size_t n_svg)
{
  const char* const      end = svg + n_svg;
  cairo_surface_t* const pdf =
    cairo_pdf_surface_create_for_stream(keep, stream, 595.0, 842.0);
  unsigned n_pages = 0;
  bool     is_good = true;
  for (const char* close = svg;
       is_good && (close = strstr(svg, END_OF_PAGE)) != NULL && close < end;
       ++n_pages) {
    close += strlen(END_OF_PAGE);
    is_good = add_page(pdf, svg, (size_t)(close - svg));
    svg     = close;
  }
  cairo_surface_finish(pdf);
  const cairo_status_t drawn = cairo_surface_status(pdf);
  cairo_surface_destroy(pdf);
  return !is_good || n_pages == 0        ? STATUS_SYNTAX
         : drawn != CAIRO_STATUS_SUCCESS ? STATUS_MEMORY
                                         : STATUS_OK;
}

static Status
write_png(FILE* const stream, const char* const svg, const size_t n_svg)
{
  Picture picture = {.handle = NULL};
  if (!picture_open(&picture, svg, n_svg) ||
      picture.height * PNG_ENLARGES > MOST_PX) {
    picture_close(&picture);
    return STATUS_SYNTAX;
  }
  cairo_surface_t* const png =
    cairo_image_surface_create(CAIRO_FORMAT_RGB24,
                               (int)ceil(picture.width * PNG_ENLARGES),
                               (int)ceil(picture.height * PNG_ENLARGES));
  cairo_t* const cairo = cairo_create(png);
  cairo_set_source_rgb(cairo, 1.0, 1.0, 1.0);
  cairo_paint(cairo);
  cairo_scale(cairo, PNG_ENLARGES, PNG_ENLARGES);
  const bool is_drawn = picture_draw(&picture, cairo);
  cairo_destroy(cairo);
  const cairo_status_t written =
    cairo_surface_write_to_png_stream(png, keep, stream);
  cairo_surface_destroy(png);
  picture_close(&picture);
  return !is_drawn                         ? STATUS_SYNTAX
         : written != CAIRO_STATUS_SUCCESS ? STATUS_MEMORY
                                           : STATUS_OK;
}

static Status
make(Status (*const write)(FILE*, const char*, size_t),
     const char* const svg,
     const size_t      n_svg,
     char** const      bytes,
     size_t* const     size)
{
  char*       written = NULL;
  size_t      length  = 0;
  FILE* const stream  = open_memstream(&written, &length);
  if (!stream) {
    return STATUS_MEMORY;
  }
  Status status = write(stream, svg, n_svg);
  if (fclose(stream) != 0 && !status) {
    status = STATUS_MEMORY;
  }
  if (status) {
    free(written);
    return status;
  }
  *bytes = written;
  *size  = length;
  return STATUS_OK;
}

Status
picture_pdf(const char* const svg,
            const size_t      n_svg,
            char** const      bytes,
            size_t* const     size)
{
  return make(write_pdf, svg, n_svg, bytes, size);
}

Status
picture_png(const char* const svg,
            const size_t      n_svg,
            char** const      bytes,
            size_t* const     size)
{
  return make(write_png, svg, n_svg, bytes, size);
}
