/// @file core/paper/paper.h A page to draw on, kept as SVG, PDF or PNG.
///
/// Lengths are points, 1/72 inch, from the upper left corner; x goes right, y
/// down. Only paper.c knows the library that draws.
///
/// The coloured inks are the palette of Okabe & Ito, "Color Universal Design"
/// (2008), which people of every kind of colour vision tell apart; what they
/// tell is to be told by shape or dashes, too.
///
/// Memory: a Paper is taken by paper_open() and given back by paper_close(). A
/// call that fails inside (memory, mostly) is told by paper_save().

#ifndef CORE_PAPER_PAPER_H
#define CORE_PAPER_PAPER_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"

#include <stdbool.h>
#include <stddef.h>

/// A page in the making; opaque.
typedef struct Paper Paper;

typedef enum {
  PAPER_SVG,
  PAPER_PDF,
  PAPER_PNG,
  PAPER_FILM, ///< A PNG with nothing behind what is drawn
} PaperKind;

typedef enum {
  INK_BLACK,
  INK_ORANGE,
  INK_SKY,
  INK_GREEN,
  INK_YELLOW,
  INK_BLUE,
  INK_VERMILION,
  INK_PURPLE,
  INK_GREY, ///< For what stands behind: axes
  INK_PALE, ///< ... and the lines of a grid
  INK_WHITE,
} PaperInk;

enum { N_INKS = 11 };

typedef enum {
  PAPER_SOLID,
  PAPER_DASHED,
  PAPER_DOTTED,
  PAPER_DASH_DOT
} PaperDash;

typedef enum { PAPER_LEFT, PAPER_CENTRE, PAPER_RIGHT } PaperAlign;

typedef struct {
  double x;
  double y;
} PaperPoint;

typedef struct {
  PaperInk  ink;
  PaperDash dash;
  double    width;
} PaperPen;

/// How letters look; of DejaVu Sans, or the sans serif face that the system
/// has.
typedef struct {
  PaperInk   ink;
  PaperAlign align; ///< Which end of the text stands at its point
  double     size;
  bool       is_bold;
  bool       runs_up; ///< Turned a quarter to the left
} PaperType;

/// Where the ink of something drawn falls.
typedef struct {
  bool   is_text;
  double left;
  double top;
  double right;
  double bottom;
} PaperMark;

/// Is told of each thing as it is drawn, on the page at hand.
typedef void (*PaperWatch)(void* watcher, const PaperMark* mark);

#define PAPER_DOTS_A_POINT 2.0 ///< Of what is drawn by dots

/// Find the kind of a file by the end of its name: `.svg`, `.pdf`, `.png`.
/// @return STATUS_OK, or STATUS_RANGE with the fault written.
MUST_USE Status
paper_kind(PaperKind* kind, const char* path, Fault* fault);

/**
   Take a white page, or a clear film.

   @param width, height 1..14400 points; a PNG and a film have
   PAPER_DOTS_A_POINT pixels to the point.
   @param[out] paper Written on success only.
   @return STATUS_OK, or STATUS_MEMORY.
*/
MUST_USE Status
paper_open(Paper** paper, PaperKind kind, double width, double height);

/// Give it back; NULL does nothing.
void
paper_close(Paper* paper);

/// Leave the page as it is and take a new one of its size; PDF only.
void
paper_next_page(Paper* paper);

/// Say what the file is called, where its kind has a place for that: PDF.
/// @param title UTF-8
void
paper_title(Paper* paper, const char* title);

/// Have everything that is drawn from now on told to `watch`.
void
paper_watch(Paper* paper, PaperWatch watch, void* watcher);

/// Draw a line through `n` points, 2 or more.
void
paper_line(Paper* paper, PaperPen pen, const PaperPoint* points, size_t n);

/// Fill the area within `n` points, 3 or more.
void
paper_area(Paper* paper, PaperInk ink, const PaperPoint* points, size_t n);

/// Fill a box; `corner` is its upper left.
void
paper_box(Paper*     paper,
          PaperInk   ink,
          PaperPoint corner,
          double     width,
          double     height);

void
paper_disc(Paper* paper, PaperInk ink, PaperPoint centre, double radius);

/// Write a line of UTF-8; `at` lies on its base line. Bytes that are no UTF-8
/// spoil the page: paper_save() then fails.
void
paper_text(Paper* paper, PaperType type, PaperPoint at, const char* text);

/**
   Draw an SVG into a box, as large as it fits, by the module that knows
   librsvg.

   @param svg `n_svg` bytes.
   @param[out] fault Written on failure, without a file.
   @return STATUS_OK; STATUS_SYNTAX if it is none; or as module_open().
*/
MUST_USE Status
paper_picture(Paper*      paper,
              const char* svg,
              size_t      n_svg,
              PaperPoint  corner,
              double      width,
              double      height,
              Fault*      fault);

/// Whether the face has all letters of a text; one that it lacks is drawn as a
/// box.
/// @param text UTF-8
bool
paper_has_letters(Paper* paper, const char* text);

/// Return how long a text would be.
double
paper_text_width(Paper* paper, PaperType type, const char* text);

/**
   Finish the page and put it into a file; nothing can be drawn after that.

   @return STATUS_OK; STATUS_MEMORY or STATUS_SYSTEM with the fault written, and
   what was there before is there still.
*/
MUST_USE Status
paper_save(Paper* paper, const char* path, Fault* fault);

/**
   Finish the page as paper_save() does, and keep it in memory.

   @param[out] bytes Owned by the caller: free(). Written on success only.
   @return STATUS_OK; STATUS_MEMORY or STATUS_SYSTEM with the fault written.
*/
MUST_USE Status
paper_take(Paper* paper, char** bytes, size_t* size, Fault* fault);

#endif // CORE_PAPER_PAPER_H
