#include "responder/app/warmup_live.h"

#include "responder/app/command.h"
#include "responder/app/sitting.h"
#include "responder/app/warmup_play.h"

#include <stdlib.h>

// What lasts through all items
typedef struct {
  const WarmupShow* show;
  Sitting           sitting;
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

static SessionOptions
drill_session(const Player* const     player,
              const WarmupItem* const item,
              const Script* const     script)
{
  SessionOptions options = setup_session(player->show->setup);
  options.chart          = &player->chart;
  options.bars_per_turn  = item->bars;
  options.choruses       = 1;
  options.partner_begins = true;
  options.makes_room     = false;
  options.split_pitch    = 0; // All of it is melody, in either hand
  options.seed           = item->seed;
  options.plan           = (ClimbPlan){.success_step = 0.0};
  options.script         = script;
  return options;
}

static int
play_drill(Player* const           player,
           const WarmupItem* const item,
           StageResult* const      result)
{
  const Options* const options = player->sitting.options;
  Rng                  rng     = rng_seed(item->seed, 1);
  for (unsigned done = 0, n = 0; done < item->rounds; done += n) {
    n = rounds_at_once(item, done);
    lay_rounds(player, item, done, n, &rng);
    const Script         script      = {n, player->turns, false};
    const SessionOptions session     = drill_session(player, item, &script);
    const Performance    performance = {
         .session = &session,
         .click   = options_have(options, OPTION_CLICK),
         .sync    = options_have(options, OPTION_SYNC),
    };
    const Status status =
      stage_perform(player->sitting.stage, &performance, result);
    if (status) {
      command_say("the drill could not begin: %s", status_text(status));
      return EXIT_SYSTEM;
    }
    if (result->end != STAGE_OVER) {
      break;
    }
  }
  return EXIT_DONE;
}

// Trading

static int
play_trading(Player* const           player,
             const WarmupItem* const item,
             StageResult* const      result)
{
  Faults  faults         = {.n_faults = 0};
  Choices choices        = player->show->setup->choices;
  choices.choruses       = item->rounds;
  choices.partner_begins = true;
  choices.seed           = item->seed & INT32_MAX;
  if (setup_load(&player->trading, &choices, &faults)) {
    return command_fail_all(&faults);
  }
  player->session = (SittingSession){
    .setup = &player->trading, .kind = "warmup", .is_practice = true};
  return sitting_play(&player->sitting, &player->session, result);
}

// Through the plan

static int
play_item(Player* const player, const unsigned index, StageResult* const result)
{
  const WarmupShow* const show = player->show;
  const WarmupItem* const item = &show->warmup->items[index];
  *result                      = (StageResult){.end = STAGE_OVER};
  show->tell(show->context, index);
  (void)putchar('\n');
  (void)fflush(stdout);
  return item->trades ? play_trading(player, item, result)
                      : play_drill(player, item, result);
}

// What comes after an item: itself again, the next, or nothing
static unsigned
next_item(const Player* const player,
          const unsigned      index,
          const StageResult*  result)
{
  const unsigned n_items = player->show->warmup->n_items;
  if (result->end == STAGE_OVER || result->gesture == GESTURE_EASIER) {
    return index + 1;
  }
  return result->end == STAGE_SIGNAL || result->gesture == GESTURE_STOP
           ? n_items
           : index;
}

static int
play_all(Player* const player)
{
  const WarmupShow* const show = player->show;
  unsigned                i    = 0;
  while (i < show->warmup->n_items) {
    StageResult result;
    const int   code = play_item(player, i, &result);
    if (code) {
      return code;
    }
    if (result.gesture == GESTURE_SLOWER || result.gesture == GESTURE_FASTER) {
      sitting_obey(&show->setup->choices, result.gesture);
    }
    i = next_item(player, i, &result);
  }
  return EXIT_DONE;
}

int
warmup_live(const WarmupShow* const show)
{
  Player* const player = calloc(1, sizeof(*player));
  if (!player) {
    return command_fail_memory();
  }
  player->show             = show;
  player->sitting.options  = show->options;
  player->sitting.defaults = *show->defaults;
  int code = sitting_open(&player->sitting, &show->setup->choices);
  if (!code) {
    if (player->sitting.equipment.control.kind) {
      (void)puts("Tap to play one again, two taps to go on, hold to leave; tap "
                 "and hold\nslower, twice and hold faster.");
    }
    code = play_all(player);
    sitting_close(&player->sitting);
  }
  free(player);
  return code;
}
