#include "responder/page/staves.h"

#include "responder/page/picture.h"
#include "responder/page/welcome.h"
#include "responder/record/notation.h"

#include <stdio.h>
#include <stdlib.h>

static const double cm_a_bar  = 2.6;
static const double cm_a_note = 0.28;
static const double cm_more   = 2.0; ///< For clef, key and meter

// The same music is drawn on one line, and where it is long in halves, too:
// which of them is larger, the room of a page decides
enum { WHOLE, HALVES, N_SHAPES };

static const unsigned halved_from = 4; // Bars

typedef struct {
  Job      job;
  unsigned n_cleared; ///< The page's, when it was asked for
  unsigned turn;
  Picture  pictures[N_SHAPES];
  Status   status;
  bool     is_asked; ///< By a request; else it is told to all
  WireCall call;
} Staff;

// On the worker's thread

static void
engrave(Job* const job)
{
  Staff* const staff = (Staff*)job;
  for (unsigned i = 0; i < N_SHAPES && !staff->status; ++i) {
    if (staff->pictures[i].abc) {
      staff->status = picture_draw(&staff->pictures[i]);
    }
  }
}

static void
engrave_live(Job* const job)
{
  Staff* const staff = (Staff*)job;
  engrave(job);
  for (unsigned i = 0; i < N_SHAPES && !staff->status; ++i) {
    if (staff->pictures[i].abc) {
      picture_draw_by_dots(&staff->pictures[i]);
    }
  }
}

// On the server's

static void
forget(Job* const job)
{
  Staff* const staff = (Staff*)job;
  for (unsigned i = 0; i < N_SHAPES; ++i) {
    picture_free(&staff->pictures[i]);
  }
  free(staff);
}

// Puts pictures and marks, or what is said in their place, into an object
static json_t*
add_pictures(const Staff* const staff, json_t* const object)
{
  if (staff->status) {
    (void)json_object_set_new(object,
                              "missing",
                              json_string(staff->status == STATUS_MISSING
                                            ? "install the package abcm2ps"
                                            : "no staff: abcm2ps failed"));
    return object;
  }
  picture_tell(&staff->pictures[WHOLE], object);
  if (staff->pictures[HALVES].abc) {
    json_t* const halves = json_object();
    picture_tell(&staff->pictures[HALVES], halves);
    (void)json_object_set_new(object, "halves", halves);
  }
  return object;
}

static void
tell_all(Page* const page, const Staff* const staff)
{
  json_t* const message = add_pictures(
    staff, json_pack("{ss si}", "tell", "staff", "turn", (int)staff->turn));
  char index[16];
  (void)snprintf(index, sizeof(index), "%u", staff->turn);
  face_tell(page, json_incref(message));
  (void)json_object_del(message, "png"); // Who comes later plays nothing yet
  (void)json_object_del(json_object_get(message, "halves"), "png");
  (void)json_object_set_new(page->staves, index, message);
  welcome_forget(page, STATE_TURNS);
}

static void
tell(void* const context, Job* const job)
{
  Page* const  page  = context;
  Staff* const staff = (Staff*)job;
  if (staff->is_asked) {
    face_answer(page, &staff->call, add_pictures(staff, json_object()));
  } else if (staff->n_cleared == page->n_cleared) {
    tell_all(page, staff);
  }
  forget(job);
}

static Status
write_shape(const StavesMusic* const music,
            const unsigned           n_lines,
            const unsigned           n_notes,
            Picture* const           picture)
{
  const unsigned  n_bars = (music->n_bars + n_lines - 1) / n_lines;
  const AbcLayout layout = {
    .bars_per_line = n_bars,
    .n_lines       = n_lines,
    .width_cm      = cm_more + cm_a_bar * n_bars + cm_a_note * n_notes,
  };
  return music->write(
    music->context, &layout, &picture->places, &picture->abc, &picture->n_abc);
}

// NULL if it cannot be written
static Staff*
make(const StavesMusic* const music)
{
  Staff* const staff = calloc(1, sizeof(*staff));
  if (!staff) {
    return NULL;
  }
  Picture* const halves = &staff->pictures[HALVES];
  staff->job = (Job){.work = engrave, .finish = tell, .forget = forget};
  if (write_shape(music, 1, music->n_notes, &staff->pictures[WHOLE]) ||
      (music->n_bars >= halved_from &&
       write_shape(music, 2, music->n_in_half, halves))) {
    forget(&staff->job);
    return NULL;
  }
  return staff;
}

static Status
write_notation(void* const            context,
               const AbcLayout* const layout,
               AbcPlaces* const       places,
               char** const           abc,
               size_t* const          size)
{
  return notation_abc_placed(context, layout, places, abc, size);
}

// In whichever half has more of them
static unsigned
notes_in_half(const Phrase* const phrase)
{
  const Tick middle = (phrase->start_tick + phrase->end_tick) / 2;
  unsigned   n      = 0;
  while (n < phrase->n_notes && phrase->notes[n].grid_tick < middle) {
    ++n;
  }
  return n > phrase->n_notes - n ? n : phrase->n_notes - n;
}

static Staff*
make_phrase(const SessionOptions* const session,
            const Turn                  turn,
            const Phrase* const         phrase)
{
  const NotationHead head = {
    .ear         = session_ear(session),
    .swing_ratio = feel_swing_ratio(session->feel, session->tempo_bpm),
    .is_excerpt  = true,
  };
  Notation* const notation = phrase->n_notes ? notation_open(&head) : NULL;
  if (!notation) {
    return NULL;
  }
  // What is over it the page says
  notation_add_phrase(notation, phrase, turn.by_player, turn.start, "");
  const StavesMusic music = {
    .n_bars    = (unsigned)((turn.end - turn.start) /
                         meter_bar_ticks(session->chart->meter)),
    .n_notes   = phrase->n_notes,
    .n_in_half = notes_in_half(phrase),
    .write     = write_notation,
    .context   = notation,
  };
  Staff* const staff = make(&music);
  notation_close(notation);
  return staff;
}

static json_t*
engraved(Staff* const staff)
{
  json_t* made = NULL;
  if (staff) {
    engrave(&staff->job);
    made = add_pictures(staff, json_object());
    forget(&staff->job);
  }
  return made;
}

json_t*
staves_picture(const StavesMusic* const music)
{
  return engraved(make(music));
}

json_t*
staves_engrave(const SessionOptions* const session,
               const Turn                  turn,
               const Phrase* const         phrase)
{
  return engraved(make_phrase(session, turn, phrase));
}

void
staves_give(Page* const                 page,
            const SessionOptions* const session,
            const TurnRecord* const     record)
{
  Staff* const staff = make_phrase(session, record->turn, &record->phrase);
  if (staff) {
    staff->job.work  = engrave_live;
    staff->turn      = record->turn.index;
    staff->n_cleared = page->n_cleared;
    worker_give(page->worker, &staff->job);
  }
}

json_t*
staves_answer(Page* const                 page,
              const SessionOptions* const session,
              const TurnRecord* const     record,
              WireCall* const             call)
{
  Staff* const staff = make_phrase(session, record->turn, &record->phrase);
  if (!staff) {
    return face_refuse(call, "turn", "nothing was played in this turn");
  }
  call->is_later  = true;
  staff->is_asked = true;
  staff->call     = *call;
  worker_give(page->worker, &staff->job);
  return NULL;
}
