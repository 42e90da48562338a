#include "responder/page/staves.h"

#include "core/engrave/engrave.h"
#include "responder/page/base64.h"
#include "responder/page/welcome.h"
#include "responder/record/notation.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double cm_a_bar  = 2.6;
static const double cm_a_note = 0.28;
static const double cm_more   = 2.0; ///< For clef, key and meter
static const double dots      = 3.0; ///< To a pixel of the SVG

// A note of the picture, in the units of its viewBox
typedef struct {
  Tick   tick;
  double x, y, w, h;
} Mark;

typedef struct {
  Job       job;
  unsigned  session; ///< Which one, of this start
  unsigned  turn;
  char*     abc;
  size_t    n_abc;
  AbcPlaces places;
  char*     svg;
  size_t    n_svg;
  char*     png; ///< As text; NULL if it is not drawn by dots
  Mark*     marks;
  size_t    n_marks;
  Status    status;
  bool      is_asked; ///< By a request; else it is told to all
  WireCall  call;
} Staff;

// On the worker's thread

// The offset of a row (from 1) and column (from 0) of the text
static size_t
offset_of(const Staff* const staff, const unsigned row, const unsigned column)
{
  const char* line = staff->abc;
  for (unsigned i = 1; i < row && line; ++i) {
    line = strchr(line, '\n');
    line = line ? line + 1 : NULL;
  }
  return line ? (size_t)(line - staff->abc) + column : 0;
}

// The tick of what was written last before an offset
static bool
find_tick(const Staff* const staff, const size_t offset, Tick* const tick)
{
  bool is_found = false;
  for (size_t i = 0;
       i < staff->places.n && staff->places.places[i].offset <= offset;
       ++i) {
    *tick    = staff->places.places[i].tick;
    is_found = true;
  }
  return is_found;
}

static void
add_mark(Staff* const staff, const char* const line)
{
  unsigned row    = 0;
  unsigned column = 0;
  Mark     mark;
  if (sscanf(line,
             "<abc type=\"N\" row=\"%u\" col=\"%u\" x=\"%lf\" y=\"%lf\" "
             "width=\"%lf\" height=\"%lf\"",
             &row,
             &column,
             &mark.x,
             &mark.y,
             &mark.w,
             &mark.h) == 6 &&
      find_tick(staff, offset_of(staff, row, column), &mark.tick)) {
    staff->marks[staff->n_marks++] = mark;
  }
}

// Takes the marks out of the picture
static void
take_marks(Staff* const staff)
{
  static const char mark[] = "<abc ";
  size_t            n      = 0;
  for (const char* at = staff->svg; (at = strstr(at, mark)); ++at) {
    ++n;
  }
  staff->marks = calloc(n + 1, sizeof(*staff->marks));
  char* to     = staff->svg;
  for (const char* line = staff->svg; *line && staff->marks;) {
    const size_t size = strcspn(line, "\n");
    const size_t all  = size + (line[size] == '\n');
    if (strncmp(line, mark, strlen(mark)) == 0) {
      add_mark(staff, line);
    } else {
      memmove(to, line, all);
      to += all;
    }
    line += all;
  }
  if (staff->marks) {
    *to          = '\0';
    staff->n_svg = (size_t)(to - staff->svg);
  }
}

static void
engrave(Job* const job)
{
  Staff* const       staff = (Staff*)job;
  const EngraveStyle style = {.has_marks = true};
  Fault              fault;
  staff->status = engrave_svg(
    staff->abc, staff->n_abc, &style, &staff->svg, &staff->n_svg, &fault);
  if (!staff->status) {
    take_marks(staff);
  }
}

// ... by dots, too: while one plays, a browser's own drawing of it would hold
// up the keys. Without librsvg it does that
static void
engrave_live(Job* const job)
{
  Staff* const staff = (Staff*)job;
  char*        png   = NULL;
  size_t       size  = 0;
  Fault        fault;
  engrave(job);
  if (!staff->status && !engrave_film(staff->svg, dots, &png, &size, &fault)) {
    staff->png = base64_text(png, size);
    free(png);
  }
}

// On the server's

static void
forget(Job* const job)
{
  Staff* const staff = (Staff*)job;
  free(staff->abc);
  free(staff->places.places);
  free(staff->svg);
  free(staff->png);
  free(staff->marks);
  free(staff);
}

static json_t*
marks_of(const Staff* const staff)
{
  json_t* const list = json_array();
  for (size_t i = 0; i < staff->n_marks; ++i) {
    const Mark* const mark = &staff->marks[i];
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

// Puts picture and marks, or what is missing, into an object
static json_t*
add_picture(const Staff* const staff, json_t* const object)
{
  if (staff->status) {
    (void)json_object_set_new(
      object, "missing", json_string("install the package abcm2ps"));
  } else {
    (void)json_object_set_new(
      object, "svg", json_stringn(staff->svg, staff->n_svg));
    (void)json_object_set_new(object, "marks", marks_of(staff));
    if (staff->png) {
      (void)json_object_set_new(object, "png", json_string(staff->png));
    }
  }
  return object;
}

static void
tell_all(Page* const page, const Staff* const staff)
{
  json_t* const message = add_picture(
    staff, json_pack("{ss si}", "tell", "staff", "turn", (int)staff->turn));
  char index[16];
  (void)snprintf(index, sizeof(index), "%u", staff->turn);
  json_t* const kept = json_copy(message);
  (void)json_object_del(kept, "png"); // Who comes later plays nothing yet
  (void)json_object_set_new(page->staves, index, kept);
  welcome_forget(page, STATE_TURNS);
  face_tell(page, message);
}

static void
tell(void* const context, Job* const job)
{
  Page* const  page      = context;
  Staff* const staff     = (Staff*)job;
  const bool   has_words = !staff->status || staff->status == STATUS_MISSING;
  if (staff->is_asked) {
    face_answer(
      page,
      &staff->call,
      has_words
        ? add_picture(staff, json_object())
        : face_refuse(&staff->call, NULL, "the turn could not be engraved"));
  } else if (has_words && staff->session == page->n_begun) {
    tell_all(page, staff);
  }
  forget(job);
}

AbcLayout
staves_layout(const unsigned n_bars, const unsigned n_notes)
{
  return (AbcLayout){
    .bars_per_line = n_bars + 1, // A pick-up has a bar of its own
    .width_cm      = cm_more + cm_a_bar * n_bars + cm_a_note * n_notes,
  };
}

static Status
write_abc(Staff* const                staff,
          const SessionOptions* const session,
          const Turn                  turn,
          const Phrase* const         phrase)
{
  const NotationHead head = {
    .ear         = session_ear(session),
    .swing_ratio = feel_swing_ratio(session->feel, session->tempo_bpm),
    .is_excerpt  = true,
  };
  const unsigned  n_bars   = (unsigned)((turn.end - turn.start) /
                                     meter_bar_ticks(session->chart->meter));
  const AbcLayout layout   = staves_layout(n_bars, phrase->n_notes);
  Notation* const notation = notation_open(&head);
  if (!notation) {
    return STATUS_MEMORY;
  }
  // What is over it the page says
  notation_add_phrase(notation, phrase, turn.by_player, turn.start, "");
  const Status status = notation_abc_placed(
    notation, &layout, &staff->places, &staff->abc, &staff->n_abc);
  notation_close(notation);
  return status;
}

static Staff*
make(const SessionOptions* const session, const TurnRecord* const record)
{
  Staff* const staff =
    record->phrase.n_notes ? calloc(1, sizeof(*staff)) : NULL;
  if (!staff) {
    return NULL;
  }
  staff->job  = (Job){.work = engrave, .finish = tell, .forget = forget};
  staff->turn = record->turn.index;
  if (write_abc(staff, session, record->turn, &record->phrase)) {
    forget(&staff->job);
    return NULL;
  }
  return staff;
}

json_t*
staves_picture(char* const abc, const size_t n_abc, const AbcPlaces places)
{
  Staff* const staff = calloc(1, sizeof(*staff));
  json_t*      made  = NULL;
  if (!staff) {
    free(abc);
    free(places.places);
    return NULL;
  }
  staff->abc    = abc;
  staff->n_abc  = n_abc;
  staff->places = places;
  engrave(&staff->job);
  if (!staff->status || staff->status == STATUS_MISSING) {
    made = add_picture(staff, json_object());
  }
  forget(&staff->job);
  return made;
}

json_t*
staves_engrave(const SessionOptions* const session,
               const Turn                  turn,
               const Phrase* const         phrase)
{
  Staff* const staff = phrase->n_notes ? calloc(1, sizeof(*staff)) : NULL;
  json_t*      made  = NULL;
  if (staff && !write_abc(staff, session, turn, phrase)) {
    engrave(&staff->job);
    made = staff->status && staff->status != STATUS_MISSING
             ? NULL
             : add_picture(staff, json_object());
  }
  if (staff) {
    forget(&staff->job);
  }
  return made;
}

void
staves_give(Page* const                 page,
            const SessionOptions* const session,
            const TurnRecord* const     record)
{
  Staff* const staff = make(session, record);
  if (staff) {
    staff->job.work = engrave_live;
    staff->session  = page->n_begun;
    worker_give(page->worker, &staff->job);
  }
}

json_t*
staves_answer(Page* const                 page,
              const SessionOptions* const session,
              const TurnRecord* const     record,
              WireCall* const             call)
{
  Staff* const staff = make(session, record);
  if (!staff) {
    return face_refuse(call, "turn", "nothing was played in this turn");
  }
  call->is_later  = true;
  staff->is_asked = true;
  staff->call     = *call;
  worker_give(page->worker, &staff->job);
  return NULL;
}
