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

static void
add_mark(Picture* const picture, const char* const line)
{
  unsigned    row    = 0;
  unsigned    column = 0;
  PictureMark mark;
  if (sscanf(line,
             "<abc type=\"N\" row=\"%u\" col=\"%u\" x=\"%lf\" y=\"%lf\" "
             "width=\"%lf\" height=\"%lf\"",
             &row,
             &column,
             &mark.x,
             &mark.y,
             &mark.w,
             &mark.h) == 6 &&
      find_tick(picture, offset_of(picture, row, column), &mark.tick)) {
    picture->marks[picture->n_marks++] = mark;
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
  picture->marks = calloc(n + 1, sizeof(*picture->marks));
  char* to       = picture->svg;
  for (const char* line = picture->svg; *line && picture->marks;) {
    const size_t size = strcspn(line, "\n");
    const size_t all  = size + (line[size] == '\n');
    if (strncmp(line, mark, strlen(mark)) == 0) {
      add_mark(picture, line);
    } else {
      memmove(to, line, all);
      to += all;
    }
    line += all;
  }
  if (picture->marks) {
    *to            = '\0';
    picture->n_svg = (size_t)(to - picture->svg);
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
