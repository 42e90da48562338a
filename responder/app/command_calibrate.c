#include "responder/app/command.h"

#include "core/time/monotonic.h"
#include "profiles/choices/choices_file.h"
#include "responder/lesson/calibrating.h"
#include "responder/lesson/playing.h"

#include <stdio.h>
#include <stdlib.h>

enum { LOOK_MS = 10 };

static int
tell(const Calibrating* const calibrating, const Choices* const kept)
{
  Calibration found;
  Fault       fault;
  char        path[PLACE_PATH_CAPACITY];
  if (calibrating_end(calibrating, &found)) {
    command_say(
      "only a few of your %u taps were near a click; tap one key with "
      "every click, %d are needed",
      calibrating->n_taps,
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
calibrate(Playing* const       playing,
          const Choices* const kept,
          const double         tempo_bpm)
{
  Calibrating calibrating;
  if (!playing->equipment.wiring.has_in ||
      playing->equipment.wiring.awaits_in) {
    command_say("there is nothing to tap on; plug in a keyboard");
    return EXIT_SYSTEM;
  }
  (void)printf("%s\nTap any key with each click, %d times.\n",
               stage_text(playing->stage),
               CALIBRATING_CLICKS);
  (void)fflush(stdout);
  calibrating_begin(&calibrating, tempo_bpm);
  while (calibrating_go_on(&calibrating, playing->stage)) {
    if (stage_is_asked_to_stop(playing->stage)) {
      return EXIT_NO;
    }
    monotonic_sleep_ms(LOOK_MS);
  }
  return tell(&calibrating, kept);
}

static int
calibrate_with(Playing* const playing, const Options* const options)
{
  Faults            faults    = {.n_faults = 0};
  Notices           notices   = {.n = 0};
  const PlayingWish wish      = {.equipment = options_equipment(options),
                                 .record    = "none"};
  const bool        has_tempo = said_has(&options->asked, CHOICE_TEMPO);
  Choices           kept;
  Fault             fault;
  if (choices_load(&kept, &faults)) {
    return command_fail_all(&faults);
  }
  Choices choices = kept;
  choices_lay(&choices, &options->asked, CHOICE_BY_ASKING);
  const Status status =
    playing_open(playing, &wish, &choices, &notices, &fault);
  command_notice(&notices);
  if (status) {
    return command_fail(&fault);
  }
  const int code = calibrate(
    playing, &kept, has_tempo ? choices.tempo_bpm : CALIBRATING_TEMPO_BPM);
  playing_close(playing);
  return code;
}

static int
run(const Options* const options)
{
  if (options->n_operands) {
    return command_misuse("calibrate takes no file");
  }
  Playing* const playing = calloc(1, sizeof(*playing));
  if (!playing) {
    return command_fail_memory();
  }
  const int code = calibrate_with(playing, options);
  free(playing);
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
