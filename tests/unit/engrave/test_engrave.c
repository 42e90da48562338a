#include "core/engrave/child.h"
#include "core/engrave/engrave.h"
#include "core/paper/paper.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char tune[] = "X:1\nM:4/4\nL:1/16\nK:C\nC4 E4 G4 c4|]\n";

static void
need_engraver(void)
{
  if (system("command -v abcm2ps >/dev/null") != 0) {
    cr_skip_test("there is no abcm2ps here");
  }
}

static unsigned
count_of(const char* text, const char* const word)
{
  unsigned n = 0;
  for (; (text = strstr(text, word)) != NULL; ++text) {
    ++n;
  }
  return n;
}

static char*
engraved(const char* const text, const EngraveStyle style)
{
  char*  svg  = NULL;
  size_t size = 0;
  Fault  fault;
  cr_assert_eq(engrave_svg(text, strlen(text), &style, &svg, &size, &fault),
               STATUS_OK);
  cr_assert_eq(strlen(svg), size);
  return svg;
}

Test(engrave, an_svg_that_scales_and_tells_no_day)
{
  need_engraver();
  char* const svg = engraved(tune, (EngraveStyle){.colour = NULL});
  cr_assert_eq(strncmp(svg, "<svg", 4), 0);
  cr_assert_not_null(strstr(svg, "viewBox=\"0 0 "));
  cr_assert_null(strstr(svg, "Creat"));
  cr_assert_null(strstr(svg, "CommandLine"));
  cr_assert_not_null(strstr(svg, "color=\"black\""));
  char* const again = engraved(tune, (EngraveStyle){.colour = NULL});
  cr_assert_str_eq(svg, again);
  free(again);
  free(svg);
}

Test(engrave, colour_marks_and_pages)
{
  need_engraver();
  char* const marked =
    engraved(tune, (EngraveStyle){.colour = "#1b2f4b", .has_marks = true});
  cr_assert_not_null(strstr(marked, "color=\"#1b2f4b\""));
  cr_assert_eq(count_of(marked, "<abc type=\"N\""), 4); // One a note
  free(marked);

  static char text[8192];
  size_t      n = (size_t)snprintf(text, sizeof(text), "X:1\nL:1/4\nK:C\n");
  for (unsigned i = 0; i < 60; ++i) {
    n += (size_t)snprintf(text + n, sizeof(text) - n, "CDEF|GABc|\n");
  }
  char* const pages = engraved(text, (EngraveStyle){.has_pages = true});
  cr_assert_gt(count_of(pages, "<svg"), 1);
  cr_assert_eq(count_of(pages, "viewBox"), count_of(pages, "<svg"));

  // One after the other, each whole
  EngravedPiece piece = {.svg = NULL};
  unsigned      n_of  = 0;
  for (; engrave_next(&piece, pages); ++n_of) {
    cr_assert_eq(strncmp(piece.svg, "<svg", 4), 0);
    cr_assert_eq(strncmp(piece.svg + piece.n - 6, "</svg>", 6), 0);
    cr_assert(piece.width > 100.0 && piece.height > 100.0);
  }
  cr_assert_eq(n_of, count_of(pages, "<svg"));
  free(pages);
}

Test(engrave, pages_of_a_pdf)
{
  need_engraver();
  static char text[8192];
  char        path[64];
  Fault       fault;
  size_t      n = (size_t)snprintf(text, sizeof(text), "X:1\nL:1/4\nK:C\n");
  for (unsigned i = 0; i < 60; ++i) {
    n += (size_t)snprintf(text + n, sizeof(text) - n, "CDEF|GABc|\n");
  }
  (void)snprintf(path, sizeof(path), "engraved-%d.pdf", (int)getpid());
  cr_assert_eq(
    engrave_save(text, n, path, &fault), STATUS_OK, "%s", fault.text);
  char        head[5];
  FILE* const file = fopen(path, "rb");
  cr_assert_eq(fread(head, 1, sizeof(head), file), sizeof(head));
  cr_assert_eq(memcmp(head, "%PDF-", sizeof(head)), 0);
  cr_assert_eq(fclose(file), 0);
  cr_assert_eq(unlink(path), 0);
}

Test(engrave, a_png_by_its_ending)
{
  static const unsigned char head[] = {0x89, 'P', 'N', 'G', '\r', '\n'};
  need_engraver();
  char  path[64];
  Fault fault;
  (void)snprintf(path, sizeof(path), "engraved-%d.png", (int)getpid());
  cr_assert(engrave_can_save(path));
  cr_assert_eq(engrave_save(tune, strlen(tune), path, &fault), STATUS_OK);
  unsigned char bytes[sizeof(head)];
  FILE* const   file = fopen(path, "rb");
  cr_assert_eq(fread(bytes, 1, sizeof(bytes), file), sizeof(bytes));
  cr_assert_eq(memcmp(bytes, head, sizeof(head)), 0);
  cr_assert_eq(fclose(file), 0);
  cr_assert_eq(unlink(path), 0);
  cr_assert_not(engrave_can_save("notes.xml"));
}

// IHDR of PNG (3rd edition, 11.2.2): width and height, most significant byte
// first
Test(engrave, a_film_has_so_many_dots_to_a_pixel)
{
  static const char box[]     = "<svg xmlns=\"http://www.w3.org/2000/svg\" "
                                "viewBox=\"0 0 %u 40\"></svg>";
  const unsigned    rows[][3] = {{100, 300, 120}, {3600, 1100, 12}};
  for (unsigned i = 0; i < 2; ++i) {
    char   svg[128];
    char*  png  = NULL;
    size_t size = 0;
    Fault  fault;
    (void)snprintf(svg, sizeof(svg), box, rows[i][0]);
    cr_assert_eq(
      engrave_film(svg, 3.0, &png, &size, &fault), STATUS_OK, "%s", fault.text);
    const unsigned char* const at = (const unsigned char*)png;
    cr_assert_gt(size, 33);
    cr_assert_eq((unsigned)at[18] << 8 | at[19], rows[i][1]);
    cr_assert_eq((unsigned)at[22] << 8 | at[23], rows[i][2]);
    free(png);
  }
  char*  png  = NULL;
  size_t size = 0;
  Fault  fault;
  cr_assert_eq(engrave_film("none", 3.0, &png, &size, &fault), STATUS_SYNTAX);
  cr_assert_null(png);
}

Test(engrave, nothing_that_is_no_picture)
{
  static const char half[] = "<svg xmlns=\"http://www.w3.org/2000/svg\"";
  EngravedPiece     piece  = {.svg = NULL};
  Paper*            paper  = NULL;
  Fault             fault;
  cr_assert_not(engrave_next(&piece, "none"));
  cr_assert_not(engrave_next(&piece, half));
  cr_assert_null(piece.svg);
  cr_assert_eq(paper_open(&paper, PAPER_PDF, 100.0, 100.0), STATUS_OK);
  cr_assert_eq(
    paper_picture(
      paper, half, strlen(half), (PaperPoint){0.0, 0.0}, 100.0, 100.0, &fault),
    STATUS_SYNTAX);
  paper_close(paper);
}

// The other program is not there, makes nothing, or fails

Test(engrave, says_what_is_missing)
{
  char*  svg  = NULL;
  size_t size = 0;
  Fault  fault;
  cr_assert_eq(setenv("PATH", "/nowhere", 1), 0);
  cr_assert_eq(
    engrave_svg(
      tune, strlen(tune), &(EngraveStyle){.colour = NULL}, &svg, &size, &fault),
    STATUS_MISSING);
  cr_assert_not_null(strstr(fault.text, "install the package abcm2ps"));
  cr_assert_null(svg);
}

Test(engrave, makes_nothing_of_no_tune)
{
  need_engraver();
  char*  svg  = NULL;
  size_t size = 0;
  Fault  fault;
  cr_assert_eq(
    engrave_svg(
      "rubbish", 7, &(EngraveStyle){.colour = NULL}, &svg, &size, &fault),
    STATUS_SYNTAX);
  cr_assert_null(svg);
}

typedef struct {
  const char* words[4];
  Status      status;
} ChildRow;

Test(engrave, children_end)
{
  static const ChildRow rows[] = {
    {{"cat", NULL}, STATUS_OK},
    {{"false", NULL}, STATUS_SYNTAX},
    {{"no-such-program-here", NULL}, STATUS_MISSING},
    {{"sleep", "100", NULL}, STATUS_FULL}, // Hangs
    {{"yes", NULL}, STATUS_FULL},          // Never stops
    {{"sh", "-c", "kill -9 $$", NULL}, STATUS_SYNTAX},
  };
  for (unsigned i = 0; i < sizeof(rows) / sizeof(*rows); ++i) {
    char*        output = NULL;
    size_t       size   = 0;
    const Status status = child_run(rows[i].words, 1, "abc", 3, &output, &size);
    cr_assert_eq(status, rows[i].status, "%s", rows[i].words[0]);
    cr_assert(status || (size == 3 && strcmp(output, "abc") == 0));
    free(output);
  }
}
