#include "responder/page/controls.h"

#include "responder/page/play.h"
#include "responder/page/warm_up.h"

#include <stdio.h>

static json_t*
gesture(Page* const page, WireCall* const call, const Gesture which)
{
  if (!page->is_begun) {
    return face_refuse(call, NULL, "nothing is being played");
  }
  stage_gesture(page->playing.stage, which);
  return json_object();
}

json_t*
controls_stop(Page* const page, WireCall* const call)
{
  return gesture(page, call, GESTURE_STOP);
}

json_t*
controls_again(Page* const page, WireCall* const call)
{
  return page->is_begun ? gesture(page, call, GESTURE_AGAIN)
                        : play_begin(page, call);
}

json_t*
controls_skip(Page* const page, WireCall* const call)
{
  return page->is_begun && page->live.kind != FACE_WARMS_UP
           ? face_refuse(call, NULL, "there is nothing to skip")
           : gesture(page, call, GESTURE_EASIER); // Two taps go on, as there
}

static json_t*
stand_still(Page* const page, WireCall* const call, const bool pauses)
{
  if (!page->is_begun) {
    return face_refuse(call, NULL, "nothing is being played");
  }
  stage_pause(page->playing.stage, pauses);
  return json_object();
}

json_t*
controls_pause(Page* const page, WireCall* const call)
{
  return stand_still(page, call, true);
}

json_t*
controls_go_on(Page* const page, WireCall* const call)
{
  return stand_still(page, call, false);
}

// Where the learner stands by now, unless another rung was asked for
static void
stand_where_climbed(Page* const page)
{
  const PlayingSession* const kept    = page->live.kept;
  Choices* const              choices = &page->next.choices;
  if (!page->is_asked && kept && kept->practice.journal &&
      climb_has_plan(&page->trading.choices.plan)) {
    choices->rung = kept->practice.stand.rung;
  }
}

static void
say_change(Page* const page, const bool is_tempo)
{
  const Choices* const choices = &page->next.choices;
  const uint8_t* const level   = choices->rung.level;
  char                 words[FACE_TEXT];
  if (is_tempo) {
    (void)snprintf(words,
                   sizeof(words),
                   "The tempo is %.0f from the next turn on.",
                   choices->tempo_bpm);
  } else {
    (void)snprintf(words,
                   sizeof(words),
                   "Notes %u, rhythm %u, shape %u, ornament %u from the next "
                   "turn on.",
                   (unsigned)level[DIMENSION_NOTES],
                   (unsigned)level[DIMENSION_RHYTHM],
                   (unsigned)level[DIMENSION_SHAPE],
                   (unsigned)level[DIMENSION_ORNAMENT]);
  }
  face_say(page, "news", words);
}

// From the next turn on, and for what is played next
static json_t*
change(Page* const page, WireCall* const call, const Gesture which)
{
  Choices* const choices  = &page->next.choices;
  const bool     is_tempo = which == GESTURE_SLOWER || which == GESTURE_FASTER;
  SessionChange  asked    = {.from = 0};
  if (page->is_begun && !is_tempo && page->live.kind != FACE_TRADES) {
    return face_refuse(call, NULL, "what is played here is written already");
  }
  stand_where_climbed(page);
  playing_obey(choices, which);
  page->has_own_tempo = page->has_own_tempo || is_tempo;
  if (page->is_begun) {
    asked.tempo_bpm = is_tempo ? choices->tempo_bpm : 0.0;
    asked.rung      = is_tempo ? (Rung){{0}} : choices->rung;
    stage_change(page->playing.stage, &asked);
    page->is_asked = true;
    say_change(page, is_tempo);
    page->trading.choices.rung = choices->rung;
    if (page->live.kind == FACE_WARMS_UP) {
      warm_up_tempo(page, choices->tempo_bpm);
    }
  }
  face_tell_state(page, STATE_CHOICES | (page->is_begun ? 0U : STATE_FORM));
  return json_object();
}

json_t*
controls_slower(Page* const page, WireCall* const call)
{
  return change(page, call, GESTURE_SLOWER);
}

json_t*
controls_faster(Page* const page, WireCall* const call)
{
  return change(page, call, GESTURE_FASTER);
}

json_t*
controls_easier(Page* const page, WireCall* const call)
{
  return change(page, call, GESTURE_EASIER);
}

json_t*
controls_harder(Page* const page, WireCall* const call)
{
  return change(page, call, GESTURE_HARDER);
}
