#include "responder/app/warmup_live.h"

#include "responder/app/command.h"
#include "responder/app/course.h"
#include "responder/app/warmup_play.h"

#include <stdlib.h>

// What lasts through all items
typedef struct {
  const WarmupShow* show;
  SittingSession    session; ///< Of the trading
  Setup             trading;
  Chart             chart; ///< Of a drill, its rounds one after the other
  ScriptTurn        turns[WARMUP_MOST_ROUNDS];
} Player;

// Drills

static Scale
scale_of(const Chart* const form, const Chord* const chord)
{
  unsigned i = 0;
  while (i + 1 < form->n_changes &&
         !chord_equals(&form->changes[i].chord, chord)) {
    ++i;
  }
  return chart_scale_at(form, form->changes[i].tick);
}

static void
add_bars(Chart* const       chart,
         const Chord* const chord,
         const Scale        scale,
         const unsigned     bars)
{
  for (unsigned i = 0; i < bars; ++i) {
    const Tick tick                    = chart_ticks(chart);
    chart->changes[chart->n_changes++] = (ChordChange){tick, *chord, {0}, {0}};
    chart->scales[chart->n_bars]       = scale;
    chart->scale_by_chord[chart->n_bars] = false;
    ++chart->n_bars;
  }
}

// As many rounds as a form can have
static unsigned
rounds_at_once(const WarmupItem* const item, const unsigned done)
{
  const unsigned most = CHART_BAR_CAPACITY / (2 * item->bars);
  const unsigned left = item->rounds - done;
  return left < most ? left : most;
}

static void
lay_rounds(Player* const           player,
           const WarmupItem* const item,
           const unsigned          first,
           const unsigned          n,
           Rng* const              rng)
{
  const Setup* const setup = player->show->setup;
  const Chart* const form  = &setup->chart.chart;
  DrillRoom          room  = warmup_room(setup);
  room.rhythm              = item->rhythm;
  chart_begin(&player->chart, form->title, form->meter, form->key);
  for (unsigned i = 0; i < n; ++i) {
    Drill drill;
    drill_make(&drill, item->kind, &room, first + i, rng);
    warmup_script(&player->turns[i], item, setup, &drill);
    add_bars(&player->chart,
             &drill.chord,
             scale_of(form, &drill.chord),
             2 * item->bars);
  }
}

static int
play_drill(Player* const           player,
           const Sitting* const    sitting,
           const WarmupItem* const item,
           StageResult* const      result)
{
  const Setup* const setup = player->show->setup;
  Rng                rng   = rng_seed(item->seed, 1);
  for (unsigned done = 0, n = 0; done < item->rounds; done += n) {
    n = rounds_at_once(item, done);
    lay_rounds(player, item, done, n, &rng);
    const Script   script = {n, player->turns, false};
    SessionOptions session =
      course_session(setup, &player->chart, item->bars, &script);
    session.split_pitch = 0; // All of it is melody, in either hand
    session.seed        = item->seed;
    const int code      = course_perform(sitting, &session, NULL, NULL, result);
    if (code || result->end != STAGE_OVER) {
      return code;
    }
  }
  return EXIT_DONE;
}

// Trading

static int
play_trading(Player* const           player,
             const Sitting* const    sitting,
             const WarmupItem* const item,
             StageResult* const      result)
{
  Choices choices        = player->show->setup->choices;
  choices.choruses       = item->rounds;
  choices.partner_begins = true;
  choices.seed           = item->seed & INT32_MAX;
  player->trading        = *player->show->setup;
  setup_again(&player->trading, &choices);
  player->session = (SittingSession){
    .setup = &player->trading, .kind = "warmup", .is_practice = true};
  return sitting_play(sitting, &player->session, result);
}

// Through the plan

static int
play_item(void* const          context,
          const Sitting* const sitting,
          const unsigned       index,
          StageResult* const   result)
{
  Player* const           player = context;
  const WarmupItem* const item   = &player->show->warmup->items[index];
  return item->trades ? play_trading(player, sitting, item, result)
                      : play_drill(player, sitting, item, result);
}

int
warmup_live(const WarmupShow* const show)
{
  Player* const player = calloc(1, sizeof(*player));
  if (!player) {
    return command_fail_memory();
  }
  player->show   = show;
  const int code = course_run(&(Course){
    .options = show->options,
    .who     = show->who,
    .setup   = show->setup,
    .n       = show->warmup->n_items,
    .tell    = show->tell,
    .teller  = show->context,
    .play    = play_item,
    .player  = player,
  });
  free(player);
  return code;
}
