#include "responder/app/sitting.h"

#include "core/files/folder.h"
#include "core/time/monotonic.h"
#include "responder/app/command.h"
#include "responder/app/sessions.h"
#include "responder/app/who.h"
#include "responder/tell/screen.h"
#include "responder/tell/tell.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum {
  NAMES_MOST = 99, ///< Recordings of one second
  LOOK_MS    = 20, ///< Between two looks at what there is to show
};

static const double tempo_step = 1.06; ///< Of a gesture; about six parts of 100

// Recordings

static Status
name_folder(Sitting* const sitting, Fault* const fault)
{
  const Options* const options = sitting->options;
  if (!options_have(options, OPTION_RECORD)) {
    return folder_of_data(SESSIONS_FOLDER, sitting->folder, fault);
  }
  const int n =
    snprintf(sitting->folder, sizeof(sitting->folder), "%s", options->record);
  return n < (int)sizeof(sitting->folder) - 64
           ? STATUS_OK
           : fault_set(fault,
                       STATUS_RANGE,
                       NULL,
                       0,
                       "the path of the recordings is too long");
}

static Status
choose_folder(Sitting* const sitting, Fault* const fault)
{
  const Status status = name_folder(sitting, fault);
  if (status == STATUS_MISSING) { // One can play without a place for it
    command_say("%s; nothing is recorded", fault->text);
  } else if (status) {
    return status;
  }
  if (status || strcmp(sitting->folder, "none") == 0) {
    sitting->folder[0] = '\0';
  }
  return sitting->folder[0] ? folder_make(sitting->folder, fault) : STATUS_OK;
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
name_recording(const Sitting* const sitting, SittingSession* const session)
{
  const time_t now      = time(NULL);
  struct tm    local    = {0};
  char         when[32] = "";
  (void)localtime_r(&now, &local);
  (void)strftime(when, sizeof(when), "%Y-%m-%d-%H%M%S", &local);
  session->path[0] = '\0';
  for (unsigned i = 1; sitting->folder[0] && i <= NAMES_MOST; ++i) {
    char again[8] = "";
    if (i > 1) {
      (void)snprintf(again, sizeof(again), "-%u", i);
    }
    (void)snprintf(session->path,
                   sizeof(session->path),
                   "%.*s/%s-%s%s.mid",
                   (int)sizeof(session->path) - 64,
                   sitting->folder,
                   session->kind,
                   when,
                   again);
    if (!is_taken(session->path)) {
      return;
    }
  }
}

// One session

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  SittingSession* const session = context;
  Fault                 fault;
  if (record->turn.by_player) {
    summary_add(&session->summary, &record->phrase);
  }
  if (session->practice.journal &&
      practice_turn(&session->practice, record, &fault)) {
    (void)command_fail(&fault);
    practice_end(&session->practice);
    session->practice.journal = NULL;
  }
}

static int
begin_practice(const Sitting* const sitting, SittingSession* const session)
{
  Fault fault;
  session->practice = (Practice){.journal = NULL};
  if (!session->is_practice) {
    return EXIT_DONE;
  }
  who_look(sitting->who);
  return practice_begin(&session->practice,
                        sitting->who,
                        session->setup,
                        session->kind,
                        &fault)
           ? command_fail(&fault)
           : EXIT_DONE;
}

static void
tell_result(const SittingSession* const session,
            const StageResult* const    result)
{
  (void)printf("\n");
  if (session->summary.n_turns) {
    tell_summary(stdout, &session->summary);
  }
  if (result->is_kept) {
    (void)printf("Kept as %s\n", session->path);
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

// Opening

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
open_stage(Sitting* const sitting, const Choices* const choices)
{
  Fault        fault;
  StageOptions stage = {
    .wiring  = sitting->equipment.wiring,
    .control = sitting->equipment.control,
    .thru    = options_have(sitting->options, OPTION_THRU),
    .speed   = 1,
  };
  give_voices(choices, stage.voices);
  if (stage_open(&sitting->stage, &stage, &fault)) {
    return command_fail(&fault);
  }
  (void)printf("%s\n", stage_text(sitting->stage));
  return EXIT_DONE;
}

int
sitting_open(Sitting* const sitting, const Choices* const choices)
{
  const EquipmentWish wish = options_equipment(sitting->options);
  Fault               fault;
  int                 code = EXIT_DONE;
  sitting->guardian        = (Guardian){.pid = 0};
  if (guardian_begin(&sitting->guardian)) { // Before any library makes a thread
    command_say("the system gave no process to end the notes of a crash");
  }
  if (choose_folder(sitting, &fault) ||
      equipment_choose(&sitting->equipment, &wish, choices, &fault)) {
    code = command_fail(&fault);
  } else {
    code = open_stage(sitting, choices);
  }
  if (code) {
    guardian_end(&sitting->guardian);
    return code;
  }
  stage_tell_guardian(sitting->stage, &sitting->guardian);
  return EXIT_DONE;
}

void
sitting_close(Sitting* const sitting)
{
  stage_close(sitting->stage);
  guardian_end(&sitting->guardian);
}

static void
show_news(const Sitting* const sitting,
          StageNews* const     news,
          Screen* const        screen,
          const TurnListener   listener,
          void* const          context)
{
  while (stage_take_news(sitting->stage, news)) {
    if (!news->is_turn) {
      screen_say(screen, news->words);
      continue;
    }
    screen_turn(screen, &news->turn);
    if (listener) {
      listener(context, &news->turn);
    }
  }
}

Status
sitting_perform(const Sitting* const     sitting,
                const Performance* const performance,
                StageNews* const         news,
                const TurnListener       listener,
                void* const              context,
                StageResult* const       result)
{
  const Status status = stage_begin(sitting->stage, performance);
  if (status) {
    return status;
  }
  Screen screen = screen_begin(stdout, performance->session);
  while (stage_goes_on(sitting->stage, result)) {
    show_news(sitting, news, &screen, listener, context);
    screen_beat(&screen, stage_now(sitting->stage));
    monotonic_sleep_ms(LOOK_MS);
  }
  show_news(sitting, news, &screen, listener, context);
  screen_end(&screen);
  stage_end(sitting->stage, result);
  return STATUS_OK;
}

int
sitting_play(const Sitting* const  sitting,
             SittingSession* const session,
             StageResult* const    result)
{
  name_recording(sitting, session);
  const Recording* const recording =
    recorded_of(&session->recorded, session->setup, session->path);
  session->summary = (Summary){.sentences = recording->session->sentences,
                               .practised = session->setup->choices.practised};
  const int code   = begin_practice(sitting, session);
  if (code) {
    return code;
  }
  const Performance performance = {
    .session   = recording->session,
    .click     = options_have(sitting->options, OPTION_CLICK),
    .sync      = options_have(sitting->options, OPTION_SYNC),
    .recording = session->path[0] ? recording : NULL,
  };
  tell_chart(stdout, recording->session);
  (void)fflush(stdout);
  const Status status = sitting_perform(
    sitting, &performance, &session->news, hear_turn, session, result);
  practice_end(&session->practice);
  if (status) {
    command_say("the session could not begin: %s", status_text(status));
    return EXIT_SYSTEM;
  }
  tell_result(session, result);
  return result->fault.status ? EXIT_SYSTEM : EXIT_DONE;
}

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
  choices->tempo_bpm = fmax(TEMPO_LEAST_BPM, fmin(bpm, TEMPO_MOST_BPM));
}

void
sitting_obey(Choices* const choices, const Gesture gesture)
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
