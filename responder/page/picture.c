#include "responder/page/picture.h"

#include "core/engrave/engrave.h"
#include "responder/page/base64.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double   dots    = 3.0; // To a pixel of the SVG
static const unsigned seconds = 2;   // Others wait; it takes a hundredth of one

// The offset of a row (from 1) and column (from 0) of the text
static size_t
offset_of(const Picture* const picture,
          const unsigned       row,
          const unsigned       column)
{
  const char* line = picture->abc;
  for (unsigned i = 1; i < row && line; ++i) {
    line = strchr(line, '\n');
    line = line ? line + 1 : NULL;
  }
  return line ? (size_t)(line - picture->abc) + column : 0;
}

// The tick of what was written last before an offset
static bool
find_tick(const Picture* const picture, const size_t offset, Tick* const tick)
{
  bool is_found = false;
  for (size_t i = 0;
       i < picture->places.n && picture->places.places[i].offset <= offset;
       ++i) {
    *tick    = picture->places.places[i].tick;
    is_found = true;
  }
  return is_found;
}

// Which line of staves a row of the text is on, from 0: its first voice begins
// it
static unsigned
line_of(const Picture* const picture, const unsigned row)
{
  static const char begins[] = "V:1\n";
  const char* const end      = picture->abc + offset_of(picture, row, 0);
  unsigned          n        = 0;
  for (const char* at = picture->abc;
       (at = strstr(at, begins)) != NULL && at < end;
       ++at) {
    ++n;
  }
  return n ? n - 1 : 0;
}

// How far all that stands on one line reaches
typedef struct {
  double top, bottom;
} Reach;

enum { MOST_LINES = 4 };

typedef struct {
  Picture* picture;
  Reach    lines[MOST_LINES];
  unsigned n_lines;
} Marking;

static void
add_mark(Marking* const marking, const char* const line)
{
  Picture* const picture = marking->picture;
  char           type    = ' ';
  unsigned       row     = 0;
  unsigned       column  = 0;
  PictureMark    mark;
  double         y      = 0.0;
  double         height = 0.0;
  if (sscanf(line,
             "<abc type=\"%c\" row=\"%u\" col=\"%u\" x=\"%lf\" y=\"%lf\" "
             "width=\"%lf\" height=\"%lf\"",
             &type,
             &row,
             &column,
             &mark.x,
             &y,
             &mark.w,
             &height) != 7) {
    return;
  }
  mark.line = line_of(picture, row);
  if (mark.line >= MOST_LINES) {
    return;
  }
  Reach* const reach = &marking->lines[mark.line];
  for (; marking->n_lines <= mark.line; ++marking->n_lines) {
    marking->lines[marking->n_lines] = (Reach){y, y};
  }
  reach->top    = y < reach->top ? y : reach->top;
  reach->bottom = y + height > reach->bottom ? y + height : reach->bottom;
  if (type == 'N' &&
      find_tick(picture, offset_of(picture, row, column), &mark.tick)) {
    picture->marks[picture->n_marks++] = mark;
  }
}

// Gives each mark the height of its line: half of what lies between two is each
// one's
static void
give_heights(const Marking* const marking)
{
  Picture* const picture = marking->picture;
  EngravedPiece  piece   = {.svg = NULL};
  (void)engrave_next(&piece, picture->svg);
  for (size_t i = 0; i < picture->n_marks; ++i) {
    PictureMark* const mark   = &picture->marks[i];
    const Reach* const lines  = marking->lines;
    const unsigned     n      = mark->line;
    const double       bottom = n + 1 < marking->n_lines
                                  ? (lines[n].bottom + lines[n + 1].top) / 2.0
                                  : piece.height;
    mark->y = n > 0 ? (lines[n - 1].bottom + lines[n].top) / 2.0 : 0.0;
    mark->h = bottom - mark->y;
  }
}

// Takes the marks out of the picture
static void
take_marks(Picture* const picture)
{
  static const char mark[] = "<abc ";
  size_t            n      = 0;
  for (const char* at = picture->svg; (at = strstr(at, mark)); ++at) {
    ++n;
  }
  Marking marking = {.picture = picture};
  picture->marks  = calloc(n + 1, sizeof(*picture->marks));
  char* to        = picture->svg;
  for (const char* line = picture->svg; *line && picture->marks;) {
    const size_t size = strcspn(line, "\n");
    const size_t all  = size + (line[size] == '\n');
    if (strncmp(line, mark, strlen(mark)) == 0) {
      add_mark(&marking, line);
    } else {
      memmove(to, line, all);
      to += all;
    }
    line += all;
  }
  if (picture->marks) {
    *to            = '\0';
    picture->n_svg = (size_t)(to - picture->svg);
    give_heights(&marking);
  }
}

Status
picture_draw(Picture* const picture)
{
  const EngraveStyle style = {.has_marks = true, .seconds = seconds};
  Fault              fault;
  const Status       status = engrave_svg(picture->abc,
                                    picture->n_abc,
                                    &style,
                                    &picture->svg,
                                    &picture->n_svg,
                                    &fault);
  if (!status) {
    take_marks(picture);
  }
  return status;
}

void
picture_draw_by_dots(Picture* const picture)
{
  char*  png  = NULL;
  size_t size = 0;
  Fault  fault;
  if (!engrave_film(picture->svg, dots, &png, &size, &fault)) {
    picture->png = base64_text(png, size);
    free(png);
  }
}

static json_t*
marks_of(const Picture* const picture)
{
  json_t* const list = json_array();
  for (size_t i = 0; i < picture->n_marks; ++i) {
    const PictureMark* const mark = &picture->marks[i];
    (void)json_array_append_new(list,
                                json_pack("{sI sf sf sf sf}",
                                          "tick",
                                          (json_int_t)mark->tick,
                                          "x",
                                          mark->x,
                                          "y",
                                          mark->y,
                                          "w",
                                          mark->w,
                                          "h",
                                          mark->h));
  }
  return list;
}

void
picture_tell(const Picture* const picture, json_t* const object)
{
  (void)json_object_set_new(
    object, "svg", json_stringn(picture->svg, picture->n_svg));
  (void)json_object_set_new(object, "marks", marks_of(picture));
  if (picture->png) {
    (void)json_object_set_new(object, "png", json_string(picture->png));
  }
}

void
picture_free(Picture* const picture)
{
  free(picture->abc);
  free(picture->places.places);
  free(picture->svg);
  free(picture->png);
  free(picture->marks);
}
