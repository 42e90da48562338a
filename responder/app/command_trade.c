#include "responder/app/command.h"

#include "core/files/folder.h"
#include "core/settings/places.h"
#include "core/time/monotonic.h"
#include "responder/app/equipment.h"
#include "responder/app/practice.h"
#include "responder/app/recording.h"
#include "responder/app/setup.h"
#include "responder/app/tell.h"
#include "responder/app/today.h"
#include "responder/app/who.h"
#include "responder/session/summary.h"
#include "responder/stage/stage.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum {
  WAIT_S      = 600, ///< For a gesture between sessions
  LEARN_S     = 30,
  NAMES_MOST  = 99, ///< Recordings of one second
  SLOWEST_BPM = 30,
  FASTEST_BPM = 320,
};

static const double tempo_step = 1.06; ///< Of a gesture; about six parts of 100

// What lasts through all sessions of one start
typedef struct {
  const Options* options;
  Defaults       defaults;
  Choices        choices;
  Equipment      equipment;
  Setup          setup;
  Stage*         stage;
  bool           has_seed; ///< The player chose; else every session is new
  char           folder[PLACE_PATH_CAPACITY]; ///< Empty: nothing is recorded
  // Of one session
  char           path[PLACE_PATH_CAPACITY];
  SessionOptions session;
  Summary        summary;
  Practice       practice;
} Trade;

// Recordings

static Status
choose_folder(Trade* const trade, Fault* const fault)
{
  const Options* const options = trade->options;
  const char* const    data    = getenv("XDG_DATA_HOME");
  const char* const    home    = getenv("HOME");
  int                  n       = 0;
  if (options_have(options, OPTION_RECORD)) {
    n =
      strcmp(options->record, "none") == 0
        ? 0
        : snprintf(trade->folder, sizeof(trade->folder), "%s", options->record);
  } else if (data && data[0] == '/') {
    n = snprintf(
      trade->folder, sizeof(trade->folder), "%s/barter/sessions", data);
  } else {
    n = snprintf(trade->folder,
                 sizeof(trade->folder),
                 "%s/.local/share/barter/sessions",
                 home ? home : "");
  }
  if (n >= (int)sizeof(trade->folder) - 64) {
    return fault_set(
      fault, STATUS_RANGE, NULL, 0, "the path of the recordings is too long");
  }
  return trade->folder[0] ? folder_make(trade->folder, fault) : STATUS_OK;
}

static bool
is_taken(const char* const path)
{
  FILE* const file = fopen(path, "rb");
  if (file) {
    (void)fclose(file);
  }
  return file != NULL;
}

static void
name_recording(Trade* const trade)
{
  const time_t now      = time(NULL);
  struct tm    local    = {0};
  char         when[32] = "";
  (void)localtime_r(&now, &local);
  (void)strftime(when, sizeof(when), "%Y-%m-%d-%H%M%S", &local);
  trade->path[0] = '\0';
  for (unsigned i = 1; trade->folder[0] && i <= NAMES_MOST; ++i) {
    char again[8] = "";
    if (i > 1) {
      (void)snprintf(again, sizeof(again), "-%u", i);
    }
    (void)snprintf(trade->path,
                   sizeof(trade->path),
                   "%.*s/trade-%s%s.mid",
                   (int)sizeof(trade->path) - 64,
                   trade->folder,
                   when,
                   again);
    if (!is_taken(trade->path)) {
      return;
    }
  }
}

static Status
save(void* const               context,
     const Conversation* const conversation,
     Fault* const              fault)
{
  const Trade* const trade = context;
  return recording_save(conversation, &trade->setup, trade->path, fault);
}

// One session

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  Trade* const trade = context;
  Fault        fault;
  if (record->turn.by_player) {
    summary_add(&trade->summary, &record->phrase);
  }
  if (trade->practice.journal &&
      practice_turn(&trade->practice, record, &fault)) {
    (void)command_fail(&fault);
    practice_end(&trade->practice);
    trade->practice.journal = NULL;
  }
}

// Who names a learner practises
static bool
is_practice(const Trade* const trade)
{
  return options_have(trade->options, OPTION_PRACTICE) ||
         options_have(trade->options, OPTION_LEARNER);
}

static int
load_session(Trade* const trade)
{
  Faults faults = {.n_faults = 0};
  if (!trade->has_seed) {
    trade->choices.seed = (uint64_t)now_ms() & INT32_MAX;
  }
  if ((is_practice(trade) &&
       setup_climb(&trade->choices, trade->options, &faults)) ||
      setup_load(&trade->setup, &trade->choices, &faults)) {
    return command_fail_all(&faults);
  }
  trade->choices = trade->setup.choices; // Tempo and feel, where left open
  trade->session = setup_session(&trade->setup);
  trade->summary = (Summary){.sentences = trade->session.sentences};
  name_recording(trade);
  return EXIT_DONE;
}

static int
begin_practice(Trade* const trade)
{
  Faults faults = {.n_faults = 0};
  Fault  fault;
  Who    who;
  trade->practice = (Practice){.journal = NULL};
  if (!is_practice(trade)) {
    return EXIT_DONE;
  }
  if (who_find(&who, trade->options, &trade->defaults, &faults)) {
    return command_fail_all(&faults);
  }
  return practice_begin(&trade->practice,
                        &who,
                        &trade->setup,
                        "trade",
                        trade->options,
                        &fault)
           ? command_fail(&fault)
           : EXIT_DONE;
}

static void
tell_result(const Trade* const trade, const StageResult* const result)
{
  (void)printf("\n");
  if (trade->summary.n_turns) {
    tell_summary(stdout, &trade->summary);
  }
  if (result->is_kept) {
    (void)printf("Kept as %s\n", trade->path);
  }
  (void)fflush(stdout);
  if (result->fault.status) {
    (void)command_fail(&result->fault);
  }
  if (result->n_lost) {
    command_say("%u keys or notes came too thick and were lost",
                result->n_lost);
  }
}

static int
play(Trade* const trade, StageResult* const result)
{
  int code = load_session(trade);
  if (!code) {
    code = begin_practice(trade);
  }
  if (code) {
    return code;
  }
  const Performance performance = {
    .session   = &trade->session,
    .click     = options_have(trade->options, OPTION_CLICK),
    .sync      = options_have(trade->options, OPTION_SYNC),
    .save      = trade->path[0] ? save : NULL,
    .hear_turn = hear_turn,
    .context   = trade,
  };
  tell_chart(stdout, &trade->session);
  (void)fflush(stdout);
  const Status status = stage_perform(trade->stage, &performance, result);
  practice_end(&trade->practice);
  if (climb_has_plan(&trade->choices.plan)) {
    trade->choices.rung = trade->practice.stand.rung; // The next begins there
  }
  if (status) {
    command_say("the session could not begin: %s", status_text(status));
    return EXIT_SYSTEM;
  }
  tell_result(trade, result);
  return result->fault.status ? EXIT_SYSTEM : EXIT_DONE;
}

// Between sessions

static void
move_rung(Rung* const rung, const int by)
{
  static const uint8_t most[N_DIMENSIONS] = {
    [DIMENSION_NOTES]    = N_NOTES_RUNGS,
    [DIMENSION_RHYTHM]   = N_RHYTHM_RUNGS,
    [DIMENSION_SHAPE]    = N_SHAPE_RUNGS,
    [DIMENSION_ORNAMENT] = N_ORNAMENT_RUNGS,
  };
  for (unsigned i = 0; i < N_DIMENSIONS; ++i) {
    const int level = rung->level[i] + by;
    rung->level[i]  = (uint8_t)(level < 1         ? 1
                                : level > most[i] ? most[i]
                                                  : level);
  }
}

static void
move_tempo(Choices* const choices, const double factor)
{
  const double bpm   = round(choices->tempo_bpm * factor);
  choices->tempo_bpm = fmax(SLOWEST_BPM, fmin(bpm, FASTEST_BPM));
}

static void
obey(Choices* const choices, const Gesture gesture)
{
  switch (gesture) {
    case GESTURE_EASIER:
      move_rung(&choices->rung, -1);
      break;
    case GESTURE_HARDER:
      move_rung(&choices->rung, 1);
      break;
    case GESTURE_SLOWER:
      move_tempo(choices, 1.0 / tempo_step);
      break;
    case GESTURE_FASTER:
      move_tempo(choices, tempo_step);
      break;
    case GESTURE_NONE:
    case GESTURE_AGAIN:
    case GESTURE_STOP:
      break;
  }
}

// Whether the player begins, or begins again, before the patience ends
static bool
wait_for_player(Trade* const trade)
{
  Gesture gesture = GESTURE_NONE;
  if (!trade->equipment.control.kind) {
    return false;
  }
  (void)printf("Tap to begin; two taps easier, three harder; tap and hold "
               "slower,\ntwice and hold faster; hold to leave.\n");
  (void)fflush(stdout);
  if (stage_wait(trade->stage, WAIT_S, &gesture) != STAGE_GESTURE ||
      gesture == GESTURE_STOP) {
    return false;
  }
  obey(&trade->choices, gesture);
  return true;
}

static int
play_on(Trade* const trade)
{
  int code = EXIT_DONE;
  if (trade->equipment.control.kind && !wait_for_player(trade)) {
    return code;
  }
  for (bool goes_on = true; goes_on && !code;) {
    StageResult result = {.end = STAGE_OVER};
    code               = play(trade, &result);
    if (code || result.end == STAGE_SIGNAL) {
      break;
    }
    if (result.end == STAGE_GESTURE && result.gesture != GESTURE_STOP) {
      obey(&trade->choices, result.gesture);
    } else {
      goes_on = wait_for_player(trade);
    }
  }
  return code;
}

static int
learn_control(Trade* const trade)
{
  const int64_t until = monotonic_ns() + LEARN_S * NS_PER_S;
  char          path[PLACE_PATH_CAPACITY];
  char          text[TRIGGER_TEXT_CAPACITY];
  Trigger       trigger;
  MidiMessage   message;
  Fault         fault;
  (void)printf("Press the key or pedal that you want to steer with.\n");
  (void)fflush(stdout);
  while (monotonic_ns() < until && !stage_is_asked_to_stop(trade->stage)) {
    while (stage_take(trade->stage, &message)) {
      if (!trigger_learn(&message, &trigger)) {
        continue;
      }
      if (equipment_keep(&trigger, NULL, path, &fault)) {
        return command_fail(&fault);
      }
      (void)printf(
        "Learnt %s; kept in %s\n", trigger_text(trigger, text), path);
      return EXIT_DONE;
    }
    monotonic_sleep_ms(10);
  }
  command_say("nothing was pressed");
  return EXIT_NO;
}

// All of it

static void
give_voices(const Choices* const choices, Voice voices[N_PARTS])
{
  for (Part part = PART_PLAYER; part <= PART_DRUMS; ++part) {
    voices[part] = (Voice){conversation_channel(part),
                           choices->sounds[part].program,
                           choices->sounds[part].level};
  }
}

static int
open_stage(Trade* const trade)
{
  Fault        fault;
  StageOptions stage = {
    .wiring  = trade->equipment.wiring,
    .control = trade->equipment.control,
    .thru    = options_have(trade->options, OPTION_THRU),
    .speed   = 1,
    .stream  = stdout,
  };
  give_voices(&trade->choices, stage.voices);
  if (stage_open(&trade->stage, &stage, &fault)) {
    return command_fail(&fault);
  }
  (void)printf("%s\n", stage_text(trade->stage));
  return EXIT_DONE;
}

static int
trade_with(Trade* const trade)
{
  const Options* const options = trade->options;
  Faults               faults  = {.n_faults = 0};
  Fault                fault;
  if (setup_defaults(&trade->defaults, &faults) ||
      setup_choose(&trade->choices, options, &faults)) {
    return command_fail_all(&faults);
  }
  trade->has_seed =
    trade->defaults.has_seed || options_have(options, OPTION_SEED);
  trade->choices.choruses = options_have(options, OPTION_CHORUSES)
                              ? options->choruses
                              : trade->defaults.choruses;
  if (setup_load(&trade->setup, &trade->choices, &faults)) {
    return command_fail_all(&faults); // Before anything is opened
  }
  trade->choices    = trade->setup.choices;
  Guardian guardian = {.pid = 0};
  if (guardian_begin(&guardian)) { // Before any library makes a thread
    command_say("the system gave no process to end the notes of a crash");
  }
  if (choose_folder(trade, &fault) ||
      equipment_choose(&trade->equipment, options, &trade->defaults, &fault)) {
    guardian_end(&guardian);
    return command_fail(&fault);
  }
  int code = open_stage(trade);
  if (!code) {
    stage_tell_guardian(trade->stage, &guardian);
    code = options_have(options, OPTION_LEARN_CONTROL) ? learn_control(trade)
                                                       : play_on(trade);
  }
  stage_close(trade->stage);
  guardian_end(&guardian);
  return code;
}

static int
run(const Options* const options)
{
  if (options->n_operands) {
    return command_misuse("trade takes no file; barter answer TAKE.mid answers "
                          "one");
  }
  Trade* const trade = calloc(1, sizeof(*trade));
  if (!trade) {
    return command_fail_memory();
  }
  trade->options = options;
  const int code = trade_with(trade);
  free(trade);
  return code;
}

const Command command_trade = {
  .name     = "trade",
  .operands = "",
  .summary  = "trade bars live, at a keyboard",
  .words =
    "Counts in, plays a band, and answers what you play, turn by turn. The\n"
    "first keyboard found is heard (barter ports lists them), the built-in\n"
    "sound plays unless --out names a MIDI port. With a --control, one key or\n"
    "pedal steers: tap to begin or begin again, hold to stop, two taps "
    "easier,\n"
    "three harder, tap and hold slower, twice and hold faster. Every session "
    "is\n"
    "recorded; barter answer --replay makes it again.",
  .options = OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
             OPTION_BIT(OPTION_TEMPO) | OPTION_BIT(OPTION_FEEL) |
             OPTION_BIT(OPTION_BARS) | OPTION_BIT(OPTION_CHORUSES) |
             OPTION_BIT(OPTION_FIRST) | OPTION_BIT(OPTION_RUNG) |
             OPTION_BIT(OPTION_SEED) | OPTION_BIT(OPTION_MAKE_ROOM) |
             OPTION_BIT(OPTION_IN) | OPTION_BIT(OPTION_OUT) |
             OPTION_BIT(OPTION_VIRTUAL) | OPTION_BIT(OPTION_MIDI) |
             OPTION_BIT(OPTION_SOUNDFONT) | OPTION_BIT(OPTION_THRU) |
             OPTION_BIT(OPTION_CLICK) | OPTION_BIT(OPTION_SYNC) |
             OPTION_BIT(OPTION_RECORD) | OPTION_BIT(OPTION_CONTROL) |
             OPTION_BIT(OPTION_LEARN_CONTROL) | OPTION_BIT(OPTION_LEARNER) |
             OPTION_BIT(OPTION_PRACTICE),
  .run = run,
};
