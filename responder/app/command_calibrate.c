#include "responder/app/command.h"

#include "core/midi/gm.h"
#include "core/settings/places.h"
#include "core/time/monotonic.h"
#include "profiles/choices/choices_file.h"
#include "responder/app/equipment.h"
#include "responder/stage/calibration.h"
#include "responder/stage/stage.h"

enum {
  N_CLICKS     = 28,
  N_LEAD       = 4, ///< The first ones, to find the beat; not counted
  FIRST_MS     = 1000,
  AHEAD_MS     = 200,
  LOOK_MS      = 10,
  NOTE_ON      = 0x90,
  CLICK_STRONG = 110,
  CLICK_WEAK   = 90,
};

static const double usual_tempo_bpm = 100.0;

// A row of clicks and the taps to it
typedef struct {
  int64_t  clicks_ns[N_CLICKS];
  int64_t  taps_ns[CALIBRATION_MOST];
  unsigned n_taps;
} Taps;

static void
lay_clicks(Taps* const taps, const double tempo_bpm)
{
  const int64_t begin = monotonic_ns() + FIRST_MS * NS_PER_MS;
  for (unsigned i = 0; i < N_CLICKS; ++i) {
    taps->clicks_ns[i] = begin + (int64_t)(60e9 / tempo_bpm * i);
  }
}

static void
take_taps(Stage* const stage, Taps* const taps)
{
  MidiMessage message;
  while (stage_take(stage, &message)) {
    if ((message.bytes[0] & 0xF0U) == NOTE_ON &&
        message.time_ns > taps->clicks_ns[N_LEAD - 1] &&
        taps->n_taps < CALIBRATION_MOST) {
      taps->taps_ns[taps->n_taps++] = message.time_ns;
    }
  }
}

// False if a signal asked to stop
static bool
click_and_listen(Stage* const stage, Taps* const taps)
{
  unsigned      n_clicked = 0;
  const int64_t interval  = taps->clicks_ns[1] - taps->clicks_ns[0];
  const int64_t end       = taps->clicks_ns[N_CLICKS - 1] + interval;
  for (int64_t now = monotonic_ns(); now < end; now = monotonic_ns()) {
    while (n_clicked < N_CLICKS &&
           taps->clicks_ns[n_clicked] < now + AHEAD_MS * NS_PER_MS) {
      const bool is_strong = n_clicked % 4 == 0;
      stage_click(stage,
                  taps->clicks_ns[n_clicked++],
                  is_strong ? GM_HI_WOOD_BLOCK : GM_LOW_WOOD_BLOCK,
                  is_strong ? CLICK_STRONG : CLICK_WEAK);
    }
    if (stage_is_asked_to_stop(stage)) {
      return false;
    }
    take_taps(stage, taps);
    monotonic_sleep_ms(LOOK_MS);
  }
  return true;
}

static int
tell(const Taps* const taps, const Choices* const kept)
{
  Calibration found;
  Fault       fault;
  char        path[PLACE_PATH_CAPACITY];
  if (calibration_of(&found,
                     taps->clicks_ns + N_LEAD,
                     N_CLICKS - N_LEAD,
                     taps->taps_ns,
                     taps->n_taps)) {
    command_say(
      "only a few of your %u taps were near a click; tap one key with "
      "every click, %d are needed",
      taps->n_taps,
      CALIBRATION_LEAST);
    return EXIT_NO;
  }
  (void)printf("You are heard %.0f ms %s, give or take %.0f ms, by %u taps.\n",
               found.lag_ms < 0.0 ? -found.lag_ms : found.lag_ms,
               found.lag_ms < 0.0 ? "early" : "late",
               found.spread_ms,
               found.n_taps);
  // Repp 2005, Psychonomic Bulletin & Review 12 (from memory): -80 to 0 ms
  (void)printf("(Most people tap a little before a click, up to 80 ms.)\n");
  if (equipment_keep(kept, NULL, &found.lag_ms, path, &fault)) {
    return command_fail(&fault);
  }
  (void)printf("Kept in %s; the listener takes it off.\n", path);
  return EXIT_DONE;
}

static int
calibrate(Stage* const stage, const Choices* const kept, const double tempo_bpm)
{
  Taps taps = {.n_taps = 0};
  (void)printf("%s\nTap any key with each click, %d times.\n",
               stage_text(stage),
               N_CLICKS);
  (void)fflush(stdout);
  lay_clicks(&taps, tempo_bpm);
  return click_and_listen(stage, &taps) ? tell(&taps, kept) : EXIT_NO;
}

static int
run(const Options* const options)
{
  Choices      choices;
  Choices      kept;
  Equipment    equipment;
  Faults       faults = {.n_faults = 0};
  Fault        fault;
  Stage*       stage = NULL;
  StageOptions plan  = {.speed = 1};
  if (options->n_operands) {
    return command_misuse("calibrate takes no file");
  }
  if (choices_load(&choices, &faults)) {
    return command_fail_all(&faults);
  }
  kept = choices;
  choices_lay(&choices, &options->asked, CHOICE_BY_ASKING);
  const EquipmentWish wish = options_equipment(options);
  if (equipment_choose(&equipment, &wish, &choices, &fault)) {
    return command_fail(&fault);
  }
  if (!equipment.wiring.has_in) {
    command_say("there is nothing to tap on; plug in a keyboard");
    return EXIT_SYSTEM;
  }
  plan.wiring = equipment.wiring;
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    const ChoiceSound sound = choices.sounds[part];
    plan.voices[part] =
      (Voice){conversation_channel(part), sound.program, sound.level};
  }
  if (stage_open(&stage, &plan, &fault)) {
    return command_fail(&fault);
  }
  const int code =
    calibrate(stage,
              &kept,
              said_has(&options->asked, CHOICE_TEMPO) ? choices.tempo_bpm
                                                      : usual_tempo_bpm);
  stage_close(stage);
  return code;
}

const Command command_calibrate = {
  .name     = "calibrate",
  .operands = "",
  .summary  = "measure how late you are heard",
  .words =
    "Clicks; you tap one key with each click. What your hands and the "
    "equipment\n"
    "are late by, always, is kept, and the listener takes it off. Do it again\n"
    "when you change the keyboard or the sound.",
  .options = OPTION_BIT(OPTION_TEMPO) | OPTION_BIT(OPTION_IN) |
             OPTION_BIT(OPTION_OUT) | OPTION_BIT(OPTION_VIRTUAL) |
             OPTION_BIT(OPTION_MIDI) | OPTION_BIT(OPTION_SOUNDFONT),
  .run = run,
};
