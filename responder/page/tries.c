#include "responder/page/tries.h"

#include "responder/lesson/tries.h"
#include "responder/page/hear.h"
#include "responder/page/play.h"

#include <stdlib.h>

static json_t*
exercise_of(const Page* const page, const unsigned number)
{
  const Answer* const answer = &page->ideas->found.ways[number - 1].answer;
  json_t* const       told   = json_array_get(page->told, number - 1);
  return json_pack("{si si ss ss sO*}",
                   "number",
                   (int)number,
                   "of",
                   (int)page->ideas->found.n,
                   "name",
                   move_name(answer->move),
                   "words",
                   answer->why,
                   "staff",
                   json_object_get(told, "staff"));
}

static Status
begin(Page* const page, const unsigned number, Fault* const fault)
{
  SessionOptions* const session = &page->tries->session;
  session->listens_behind       = play_ticks_behind(session->tempo_bpm);
  const Status status = playing_begin_drill(&page->playing, session, fault);
  if (!status) {
    play_has_begun(page,
                   (FaceLive){.kind     = FACE_TRIES,
                              .session  = session,
                              .exercise = exercise_of(page, number)});
  }
  return status;
}

static unsigned
number_of(const Page* const page)
{
  return (unsigned)json_integer_value(
    json_object_get(page->live.exercise, "number"));
}

void
tries_go_on(Page* const page, const StageResult* const result)
{
  Tries* const   tries  = page->tries;
  const unsigned number = number_of(page);
  const bool     again =
    result->end == STAGE_GESTURE && result->gesture == GESTURE_AGAIN;
  Fault fault = {.status = STATUS_OK};
  if (again) {
    tries_begin(tries, number - 1);
  }
  if ((again || result->end == STAGE_OVER) && tries_next(tries) &&
      !begin(page, number, &fault)) {
    return;
  }
  face_say(page,
           "news",
           fault.status            ? fault.text
           : tries_are_vain(tries) ? "Nobody tried it; it waits for you."
                                   : "That was the idea, tried.");
  play_has_ended(page, result);
}

void
tries_forget(Page* const page)
{
  if (page->is_begun && page->live.kind == FACE_TRIES) {
    play_end(page);
  }
  free(page->tries);
  page->tries = NULL;
}

json_t*
tries_try(Page* const page, WireCall* const call)
{
  const unsigned number = (unsigned)call->values[0].number;
  if (!page->ideas || number > page->ideas->found.n) {
    return face_refuse(call, "number", "there is no idea %u", number);
  }
  if (page->is_begun) {
    return face_refuse(call, NULL, "something is being played; stop it first");
  }
  tries_forget(page);
  page->tries = calloc(1, sizeof(*page->tries));
  if (!page->tries || tries_open(page->tries, page->ideas)) {
    return face_refuse(
      call, NULL, "its bars have too many chords to be played over");
  }
  hear_stop(page);
  tries_begin(page->tries, number - 1);
  (void)tries_next(page->tries);
  return begin(page, number, &call->fault) ? NULL : json_object();
}
