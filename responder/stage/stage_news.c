#include "responder/stage/stage_parts.h"

#include <stdio.h>

static bool
take_trouble(Stage* const stage, StageNews* const news)
{
  const unsigned n_skips = atomic_load(&stage->engine.n_skips);
  const bool     is_new  = n_skips != stage->n_skips;
  stage->n_skips         = n_skips;
  if (is_new) {
    (void)snprintf(news->words,
                   sizeof(news->words),
                   "The machine held its breath; we go on from here.");
  }
  return is_new;
}

// The player's keys are passed on as they come; else to look twice within the
// engine's notice is enough
static void
look_for_notes(Stage* const stage)
{
  const int64_t look_ns = engine_notice_ns(&stage->clock, &stage->pace) / 2;
  const bool    hurries = atomic_load(&stage->thru) || look_ns < NS_PER_MS;
  sender_look_every(&stage->sender, hurries ? NS_PER_MS : look_ns);
}

bool
stage_take_time_change(Stage* const stage, TimeChange* const change)
{
  const bool is_new = ring_pop(&stage->engine.times, change);
  if (is_new) {
    stage->clock = change->clock;
    look_for_notes(stage);
  }
  return is_new;
}

static bool
take_otherwise(Stage* const stage, StageNews* const news)
{
  TimeChange change;
  const bool is_new = stage_take_time_change(stage, &change);
  if (is_new) {
    news->change    = change.change;
    news->is_paused = change.is_paused;
    news->words[0]  = '\0';
  }
  if (is_new && change.is_paused) {
    sender_hush(&stage->sender);
  }
  return is_new;
}

bool
stage_take_news(Stage* const stage, StageNews* const news)
{
  news->is_turn        = ring_pop(&stage->engine.told, &news->turn);
  news->is_time_change = !news->is_turn && take_otherwise(stage, news);
  return news->is_turn || news->is_time_change ||
         ring_pop(&stage->supervisor.lines, news->words) ||
         take_trouble(stage, news);
}
