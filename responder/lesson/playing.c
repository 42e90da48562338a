#include "responder/lesson/playing.h"

#include "core/files/folder.h"
#include "responder/lesson/sessions.h"
#include "responder/record/conversation.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

enum { NAMES_MOST = 99 }; // Recordings of one second

static const double tempo_step = 1.06; ///< Of a gesture; about six parts of 100

// Recordings

static Status
name_folder(Playing* const playing, Fault* const fault)
{
  const char* const record = playing->wish.record;
  if (!record) {
    return folder_of_data(SESSIONS_FOLDER, playing->folder, fault);
  }
  const int n =
    snprintf(playing->folder, sizeof(playing->folder), "%s", record);
  return n < (int)sizeof(playing->folder) - 64
           ? STATUS_OK
           : fault_say(
               fault, STATUS_RANGE, "the path of the recordings is too long");
}

static Status
choose_folder(Playing* const playing,
              Notices* const notices,
              Fault* const   fault)
{
  Status status = name_folder(playing, fault);
  if (!status && strcmp(playing->folder, "none") == 0) {
    playing->folder[0] = '\0';
  } else if (!status) {
    status = folder_make(playing->folder, fault);
  }
  if (!status || playing->wish.record) {
    return status;
  }
  // One can play without the usual place for it
  char text[FAULT_TEXT_CAPACITY];
  notices_add(
    notices, "%s; nothing is recorded", fault_text(fault, text, sizeof(text)));
  playing->folder[0] = '\0';
  return STATUS_OK;
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
name_recording(const Playing* const  playing,
               PlayingSession* const session,
               const char* const     kind)
{
  const time_t now      = time(NULL);
  struct tm    local    = {0};
  char         when[32] = "";
  (void)localtime_r(&now, &local);
  (void)strftime(when, sizeof(when), "%Y-%m-%d-%H%M%S", &local);
  session->path[0] = '\0';
  for (unsigned i = 1; playing->folder[0] && i <= NAMES_MOST; ++i) {
    char again[8] = "";
    if (i > 1) {
      (void)snprintf(again, sizeof(again), "-%u", i);
    }
    (void)snprintf(session->path,
                   sizeof(session->path),
                   "%.*s/%s-%s%s.mid",
                   (int)sizeof(session->path) - 64,
                   playing->folder,
                   kind,
                   when,
                   again);
    if (!is_taken(session->path)) {
      return;
    }
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

static Status
open_stage(Playing* const       playing,
           const Choices* const choices,
           Fault* const         fault)
{
  StageOptions stage = {
    .wiring   = playing->equipment.wiring,
    .control  = playing->equipment.control,
    .steering = playing->wish.steering,
    .thru     = playing->wish.thru,
    .speed    = 1,
  };
  give_voices(choices, stage.voices);
  return stage_open(&playing->stage, &stage, fault);
}

Status
playing_open(Playing* const           playing,
             const PlayingWish* const wish,
             const Choices* const     choices,
             Notices* const           notices,
             Fault* const             fault)
{
  memset(playing, 0, sizeof(*playing));
  playing->wish = *wish;
  if (guardian_begin(&playing->guardian)) { // Before any library makes a thread
    notices_add(notices,
                "the system gave no process to end the notes of a crash");
  }
  Status status = choose_folder(playing, notices, fault);
  if (!status) {
    status = equipment_choose(
      &playing->equipment, &wish->equipment, choices, notices, fault);
  }
  if (!status) {
    status = open_stage(playing, choices, fault);
  }
  playing->equipment.notices = NULL; // From here on nobody looks at them
  if (status) {
    guardian_end(&playing->guardian);
    return status;
  }
  stage_tell_guardian(playing->stage, &playing->guardian);
  return STATUS_OK;
}

void
playing_close(Playing* const playing)
{
  stage_close(playing->stage);
  guardian_end(&playing->guardian);
}

// One session

static Status
begin_stage(Playing* const           playing,
            const Performance* const performance,
            Fault* const             fault)
{
  const Status status = stage_begin(playing->stage, performance);
  return status ? fault_say(fault,
                            STATUS_SYSTEM,
                            "the session could not begin: %s",
                            status_text(status))
                : STATUS_OK;
}

Status
playing_begin(Playing* const        playing,
              PlayingSession* const session,
              const Setup* const    setup,
              const char* const     kind,
              const Who* const      who,
              Fault* const          fault)
{
  *session = (PlayingSession){.kept = {.status = STATUS_OK}};
  name_recording(playing, session, kind);
  const Recording* const recording =
    recorded_of(&session->recorded, setup, session->path);
  session->summary = (Summary){.sentences = recording->session->sentences,
                               .way       = setup->choices.way,
                               .practised = setup->choices.practised};
  Status status =
    who ? practice_begin(&session->practice, who, setup, kind, fault)
        : STATUS_OK;
  if (!status) {
    status = begin_stage(playing,
                         &(Performance){
                           .session   = recording->session,
                           .click     = playing->wish.click,
                           .sync      = playing->wish.sync,
                           .recording = session->path[0] ? recording : NULL,
                         },
                         fault);
  }
  if (status) {
    practice_end(&session->practice);
  }
  return status;
}

Status
playing_begin_try(Playing* const              playing,
                  PlayingSession* const       session,
                  const Setup* const          setup,
                  const SessionOptions* const of_try,
                  Fault* const                fault)
{
  *session = (PlayingSession){.kept = {.status = STATUS_OK}};
  name_recording(playing, session, "idea");
  (void)recorded_of(&session->recorded, setup, session->path);
  session->recorded.session           = *of_try;
  session->recorded.recording.choices = "An idea that was tried";
  session->summary = (Summary){.sentences = of_try->sentences};
  return begin_stage(
    playing,
    &(Performance){
      .session   = of_try,
      .click     = playing->wish.click,
      .sync      = playing->wish.sync,
      .recording = session->path[0] ? &session->recorded.recording : NULL,
    },
    fault);
}

Status
playing_begin_drill(Playing* const              playing,
                    const SessionOptions* const session,
                    Fault* const                fault)
{
  return begin_stage(playing,
                     &(Performance){.session = session,
                                    .click   = playing->wish.click,
                                    .sync    = playing->wish.sync},
                     fault);
}

bool
playing_goes_on(Playing* const playing, StageResult* const result)
{
  return stage_goes_on(playing->stage, result);
}

static void
note_turn(PlayingSession* const session, const TurnRecord* const record)
{
  if (record->turn.by_player) {
    summary_add(&session->summary, &record->phrase);
    summary_judge(&session->summary, &record->outcome);
  }
  session->has_turn = session->practice.journal != NULL;
  if (session->has_turn) {
    session->turn = practice_note(&session->practice, record);
  }
}

// From then on turns last as long, and the learner stands there
static void
keep_change(PlayingSession* const session, const SessionChange* const change)
{
  Practice* const practice = &session->practice;
  if (change->tempo_bpm > 0.0) {
    practice->tempo_bpm = change->tempo_bpm;
  }
  if (change->rung.level[DIMENSION_NOTES]) {
    practice->stand.rung = change->rung;
  }
}

const StageNews*
playing_take_news(Playing* const playing, PlayingSession* const session)
{
  StageNews* const news = &playing->news;
  if (!stage_take_news(playing->stage, news)) {
    return NULL;
  }
  if (news->is_turn && session) {
    note_turn(session, &news->turn);
  }
  if (news->is_time_change && session) {
    keep_change(session, &news->change);
  }
  return news;
}

void
playing_keep(PlayingSession* const session)
{
  const Practice* const practice = &session->practice;
  if (session->has_turn && practice->journal &&
      journal_add_turn(
        practice->journal, practice->session, &session->turn, &session->kept)) {
    practice_end(&session->practice);
  }
  session->has_turn = false;
}

void
playing_end(Playing* const        playing,
            PlayingSession* const session,
            StageResult* const    result)
{
  stage_end(playing->stage, result);
  if (session) {
    practice_end(&session->practice);
  }
}

// Between sessions

static void
move_rung(Rung* const rung, const int by)
{
  for (unsigned i = 0; i < N_DIMENSIONS; ++i) {
    const int most  = (int)dimension_rungs((Dimension)i);
    const int level = rung->level[i] + by;
    rung->level[i]  = (uint8_t)(level < 1 ? 1 : level > most ? most : level);
  }
}

static void
move_tempo(Choices* const choices, const double factor)
{
  const double bpm   = round(choices->tempo_bpm * factor);
  choices->tempo_bpm = fmax(TEMPO_LEAST_BPM, fmin(bpm, TEMPO_MOST_BPM));
}

void
playing_obey(Choices* const choices, const Gesture gesture)
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

unsigned
playing_next(const unsigned           index,
             const unsigned           n,
             const StageResult* const result)
{
  if (result->end == STAGE_OVER || result->gesture == GESTURE_EASIER) {
    return index + 1;
  }
  return result->end == STAGE_SIGNAL || result->gesture == GESTURE_STOP ? n
                                                                        : index;
}
