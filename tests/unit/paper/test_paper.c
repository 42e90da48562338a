#include "core/paper/axes.h"

#include "core/files/file.h"
#include "support/practice.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char folder[PRACTICE_PATH_CAPACITY];

static void
set_up(void)
{
  practice_folder(folder);
}

static void
tear_down(void)
{
  practice_remove(folder);
}

/// Draw a page of one box, and load the file that it is saved in.
static unsigned char*
draw(const char* const name, size_t* const size)
{
  char      path[PRACTICE_PATH_CAPACITY];
  PaperKind kind  = PAPER_SVG;
  Paper*    paper = NULL;
  char*     bytes = NULL;
  Fault     fault;
  practice_path(path, folder, name);
  cr_assert_eq(paper_kind(&kind, path, &fault), STATUS_OK);
  cr_assert_eq(paper_open(&paper, kind, 100.0, 50.0), STATUS_OK);
  paper_box(paper, INK_VERMILION, (PaperPoint){10.0, 10.0}, 20.0, 20.0);
  paper_text(
    paper, (PaperType){.size = 8.0}, (PaperPoint){50.0, 25.0}, "C\u266f");
  cr_assert_eq(paper_save(paper, path, &fault), STATUS_OK, "%s", fault.text);
  paper_close(paper);
  cr_assert_eq(file_load(path, 1U << 20, &bytes, size, &fault), STATUS_OK);
  return (unsigned char*)bytes;
}

// How such files begin: PNG (Portable Network Graphics, 3rd edition, 5.2), PDF
// (ISO 32000-1, 7.5.2)
Test(paper,
     is_of_the_kind_that_its_name_says,
     .init = set_up,
     .fini = tear_down)
{
  size_t               size = 0;
  unsigned char* const png  = draw("p.PNG", &size);
  cr_assert_eq(memcmp(png, "\x89PNG\r\n\x1a\n", 8), 0);
  // IHDR: width and height in pixels, most significant byte first
  cr_assert_eq(png[18] << 8 | png[19], 200);
  cr_assert_eq(png[22] << 8 | png[23], 100);
  free(png);
  unsigned char* const pdf = draw("p.pdf", &size);
  cr_assert_eq(memcmp(pdf, "%PDF-1.", 7), 0);
  free(pdf);
  unsigned char* const svg = draw("p.svg", &size);
  cr_assert_not_null(strstr((const char*)svg, "width=\"100pt\""));
  cr_assert_not_null(strstr((const char*)svg, "</svg>"));
  free(svg);
}

// PNG (3rd edition), table 11.1: colour type 6 is red, green, blue and alpha, 2
// is without alpha
Test(paper, a_film_has_nothing_behind_it)
{
  const PaperKind     kinds[]  = {PAPER_FILM, PAPER_PNG};
  const unsigned char colour[] = {6, 2};
  for (unsigned i = 0; i < 2; ++i) {
    Paper* paper = NULL;
    char*  bytes = NULL;
    size_t size  = 0;
    Fault  fault;
    cr_assert_eq(paper_open(&paper, kinds[i], 100.0, 50.0), STATUS_OK);
    cr_assert_eq(paper_take(paper, &bytes, &size, &fault), STATUS_OK);
    paper_close(paper);
    cr_assert_gt(size, 33);
    cr_assert_eq(memcmp(bytes, "\x89PNG\r\n\x1a\n", 8), 0);
    cr_assert_eq(bytes[19], (char)200); // IHDR: width, then height
    cr_assert_eq(bytes[23], 100);
    cr_assert_eq((unsigned char)bytes[25], colour[i]);
    free(bytes);
  }
}

Test(paper, other_kinds_are_refused)
{
  static const char* const names[] = {"p", "p.jpg", "svg", ".", "a.svg/b"};
  for (unsigned i = 0; i < sizeof(names) / sizeof(*names); ++i) {
    PaperKind kind = PAPER_PNG;
    Fault     fault;
    cr_assert_eq(paper_kind(&kind, names[i], &fault), STATUS_RANGE);
    cr_assert_not_null(strstr(fault.text, ".svg, .png or .pdf"));
  }
}

Test(paper, what_is_no_text_is_told_of, .init = set_up, .fini = tear_down)
{
  char   path[PRACTICE_PATH_CAPACITY];
  Paper* paper = NULL;
  Fault  fault;
  practice_path(path, folder, "p.svg");
  cr_assert_eq(paper_open(&paper, PAPER_SVG, 100.0, 50.0), STATUS_OK);
  paper_text(paper, (PaperType){.size = 8.0}, (PaperPoint){0.0, 9.0}, "\xff");
  cr_assert_eq(paper_save(paper, path, &fault), STATUS_SYSTEM);
  paper_close(paper);
}

Test(paper, knows_which_letters_its_face_has)
{
  Paper* paper = NULL;
  cr_assert_eq(paper_open(&paper, PAPER_PDF, 100.0, 100.0), STATUS_OK);
  cr_assert(paper_has_letters(paper, "Für später, G\u266D"));
  cr_assert(paper_has_letters(paper, "\u0410\u0434\u0430")); // Cyrillic
  cr_assert(paper_has_letters(paper, ""));
  // Of no script: private use
  cr_assert_not(paper_has_letters(paper, "a\U0010FFFDb"));
  paper_close(paper);
}

Test(paper, wider_texts_are_wider)
{
  Paper*          paper = NULL;
  const PaperType type  = {.size = 10.0};
  cr_assert_eq(paper_open(&paper, PAPER_SVG, 100.0, 50.0), STATUS_OK);
  const double one = paper_text_width(paper, type, "notes");
  const double two = paper_text_width(paper, type, "notesnotes");
  cr_assert_gt(one, 0.0);
  cr_assert_float_eq(two, 2.0 * one, 0.2 * one);
  cr_assert_float_eq(paper_text_width(paper, type, ""), 0.0, 1e-9);
  paper_close(paper);
}

// 1, 2 or 5 times a power of ten, and about as many ticks as were asked for
Test(axes, steps_are_round)
{
  for (double range = 0.013; range < 1e6; range *= 1.37) {
    for (unsigned n = 2; n <= 8; ++n) {
      const double step   = axes_step(range, n);
      const double power  = pow(10.0, floor(log10(step) + 1e-9));
      const double first  = round(step / power);
      const double n_made = range / step;
      cr_assert(first == 1.0 || first == 2.0 || first == 5.0, "%g", step);
      cr_assert_float_eq(step / power, first, 1e-6);
      cr_assert(n_made <= n * (1.0 + 1e-9) && n_made >= n / 2.6,
                "%g by %g, not %u",
                range,
                step,
                n);
    }
  }
}

static const char*
label(const double value, char text[AXES_TEXT_CAPACITY])
{
  (void)snprintf(text, AXES_TEXT_CAPACITY, "%.10g", value);
  cr_assert_str_neq(text, "-0");
  return text;
}

// Lines with gaps, single points, many points and none are drawn
// The first and the last label are there, and none lies over another
Test(axes, labels_do_not_meet)
{
  enum { MOST = 12 };
  const double gap = 3.0;
  for (unsigned n = 1; n <= MOST; ++n) {
    for (double step = 0.5; step < 80.0; step *= 1.3) {
      double   centres[MOST];
      double   widths[MOST];
      bool     is_shown[MOST];
      double   end     = -1e9;
      unsigned n_shown = 0;
      for (unsigned i = 0; i < n; ++i) {
        centres[i] = i * step;
        widths[i]  = 30.0 + i % 3;
      }
      axes_thin(n, centres, widths, gap, is_shown);
      cr_assert(is_shown[0] && is_shown[n - 1]);
      for (unsigned i = 0; i < n; ++i) {
        if (is_shown[i]) {
          cr_assert_geq(centres[i] - widths[i] / 2.0, end - 1e-9, "%u", i);
          end = centres[i] + widths[i] / 2.0 + gap;
          ++n_shown;
        }
      }
      if (step > 36.0) { // Room for all of them
        cr_assert_eq(n_shown, n);
      }
    }
  }
}

Test(axes, lines_of_every_sort_are_drawn, .init = set_up, .fini = tear_down)
{
  enum { N = 1000 };
  static double x[N];
  static double y[N];
  char          path[PRACTICE_PATH_CAPACITY];
  Paper*        paper = NULL;
  Fault         fault;
  for (unsigned i = 0; i < N; ++i) {
    x[i] = i;
    y[i] = i % 7 == 3 || i < 3 ? NAN : (double)(i % 50);
  }
  const Axes axes = {
    .title    = "All of it",
    .y_name   = "%",
    .x_name   = "one after the other",
    .width    = 300.0,
    .height   = 200.0,
    .x_most   = N,
    .y_most   = 50.0,
    .y_step   = 10.0,
    .n_places = 3,
    .x_places = {0.0, 100.0, 900.0},
    .x_label  = label,
    .y_label  = label,
  };
  cr_assert_eq(paper_open(&paper, PAPER_SVG, 300.0, 200.0), STATUS_OK);
  axes_draw(paper, &axes);
  for (int mark = AXES_DISC; mark <= AXES_DIAMOND; ++mark) {
    const AxesLine line = {
      "line", INK_BLUE, (PaperDash)mark, (AxesMark)mark, mark % 2 == 1, 1.0};
    axes_line(paper, &axes, &line, x, y, N);
    axes_line(paper, &axes, &line, x, y, 4);
    axes_line(paper, &axes, &line, x, y, 0);
    axes_legend(paper, &axes, &line, 1);
  }
  axes_bars(paper, &axes, INK_SKY, x + 4, y + 4, 3, 1.0);
  practice_path(path, folder, "p.svg");
  cr_assert_eq(paper_save(paper, path, &fault), STATUS_OK, "%s", fault.text);
  paper_close(paper);
}
