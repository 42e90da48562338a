#include "responder/app/command.h"

#include "responder/app/begin.h"
#include "responder/app/choosing.h"
#include "responder/app/intake.h"
#include "responder/app/kept.h"
#include "responder/app/outputs.h"
#include "responder/app/practice.h"
#include "responder/app/warn.h"
#include "responder/app/who.h"
#include "responder/record/drive.h"
#include "responder/record/notation.h"
#include "responder/record/recorded.h"
#include "responder/record/recording.h"
#include "responder/record/report.h"
#include "responder/record/take.h"
#include "responder/session/summary.h"
#include "responder/setup/setup.h"
#include "responder/tell/draw.h"
#include "responder/tell/tell.h"

#include <stdlib.h>
#include <string.h>

// A conversation, and where what is said about it goes
typedef struct {
  const Setup*   setup;
  SessionOptions session;
  FILE*          stream;
  Report*        report;   ///< NULL if none is wanted
  Notation*      notation; ///< NULL if none is wanted
  bool           draws;
  Summary        summary;
  Practice       practice; ///< Without a journal if it was none
  Status         kept;     ///< STATUS_OK as long as all was kept that should be
} Telling;

// Keeps a turn before it is told of; the first that cannot be kept is the last
// that is tried
static void
keep_turn(Telling* const telling, const TurnRecord* const record)
{
  Fault fault;
  if (telling->practice.journal && !telling->kept &&
      practice_turn(&telling->practice, record, &fault)) {
    telling->kept = fault.status;
    (void)command_fail(&fault);
  }
}

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  Telling* const telling = context;
  keep_turn(telling, record);
  if (record->turn.by_player) {
    summary_add(&telling->summary, &record->phrase);
  }
  tell_turn(telling->stream, telling->session.chart, record);
  if (telling->draws) {
    draw_phrase(telling->stream, telling->session.chart, &record->phrase);
  }
  if (telling->report) {
    report_add_turn(telling->report, record);
  }
  if (telling->notation) {
    notation_add_turn(telling->notation, record);
  }
}

// As many choruses as hold the whole take. A last note that lands on the first
// beat after one needs no other: that is where the band ends.
static unsigned
choruses_for(const Take* const take, const Chart* const chart)
{
  const Tick beat     = meter_beat_ticks(chart->meter);
  const Tick choruses = (take->last - beat) / chart_ticks(chart) + 1;
  return (unsigned)(choruses < 1               ? 1
                    : choruses > CHORUSES_MOST ? CHORUSES_MOST
                                               : choruses);
}

static Status
converse(Telling* const      telling,
         Conversation* const conversation,
         const Take* const   take,
         Fault* const        fault)
{
  const SessionOptions* const session = &telling->session;
  HeardKey*                   keys    = NULL;
  DrivePlayer player = {.hear_turn = hear_turn, .context = telling};
  Status      status = take_keys(take, &keys, &player.n_keys);
  if (!status) {
    player.keys = keys;
    tell_chart(telling->stream, session);
    tell_legend(telling->stream);
    if (telling->draws) {
      draw_legend(telling->stream);
    }
    status = drive_session(conversation, session, &player);
  }
  free(keys);
  if (status) {
    return fault_set(fault, status, NULL, 0, "%s", status_text(status));
  }
  tell_summary(telling->stream, &telling->summary);
  if (telling->report) {
    report_add_summary(telling->report, &telling->summary);
  }
  return STATUS_OK;
}

static Status
write_notation(const Telling* const      telling,
               const Conversation* const conversation,
               const char* const         path,
               Fault* const              fault)
{
  notation_add_rest(telling->notation, conversation);
  return notation_save(
    telling->notation, telling->setup->chart.chart.title, path, fault);
}

// Writes all that is asked for: what one file refuses, the others still get
static int
write_out(const Telling* const      telling,
          const Conversation* const conversation,
          const Options* const      options)
{
  const Rendering sound = recorded_sound(telling->setup, options->soundfont);
  int             code  = EXIT_DONE;
  Recorded        recorded;
  Fault           fault;
  if (options_have(options, OPTION_OUT) &&
      recording_save(conversation,
                     recorded_of(&recorded, telling->setup, options->out),
                     &fault)) {
    code = command_fail(&fault);
  }
  if (options_have(options, OPTION_WAV) &&
      render_conversation(conversation, &sound, options->wav, &fault)) {
    code = command_fail(&fault);
  }
  if (telling->report &&
      outputs_report(
        report_text(telling->report), options->report, FILE_OPEN, &fault)) {
    code = command_fail(&fault);
  }
  if (telling->notation &&
      write_notation(telling, conversation, options->musicxml, &fault)) {
    code = command_fail(&fault);
  }
  return code;
}

static Report*
open_report(const Setup* const setup, const SessionOptions* const session)
{
  const ReportHead head = {
    .chart         = session->chart,
    .feel          = setup->feel.name,
    .tempo_bpm     = session->tempo_bpm,
    .seed          = session->seed,
    .bars_per_turn = session->bars_per_turn,
  };
  return report_open(&head);
}

static Notation*
open_notation(const SessionOptions* const session)
{
  const NotationHead head = {
    .ear         = session_ear(session),
    .swing_ratio = feel_swing_ratio(session->feel, session->tempo_bpm),
  };
  return notation_open(&head);
}

static int
tell_all(Telling* const       telling,
         const Take* const    take,
         const Options* const options)
{
  Fault        fault;
  Conversation conversation;
  if (converse(telling, &conversation, take, &fault)) {
    return command_fail(&fault);
  }
  const int code = write_out(telling, &conversation, options);
  conversation_free(&conversation);
  return code;
}

// Whether this was practice, the player says
static int
begin_practice(Telling* const       telling,
               const Who* const     who,
               const Options* const options)
{
  Fault fault;
  if (!options_have(options, OPTION_PRACTICE)) {
    return EXIT_DONE;
  }
  return practice_begin(
           &telling->practice, who, telling->setup, "answer", &fault)
           ? command_fail(&fault)
           : EXIT_DONE;
}

static int
answer_take(const Setup* const   setup,
            const Who* const     who,
            const Take* const    take,
            const Options* const options)
{
  const bool reports = options_have(options, OPTION_REPORT);
  Telling    telling = {
       .setup   = setup,
       .session = setup_session(setup),
       .summary = {.sentences = &setup->sentences,
                   .practised = setup->choices.practised},
       .draws   = options_have(options, OPTION_DRAW),
       .stream = reports && strcmp(options->report, "-") == 0 ? stderr : stdout,
  };
  if (reports && !(telling.report = open_report(setup, &telling.session))) {
    return command_fail_memory();
  }
  if (options_have(options, OPTION_MUSICXML) &&
      !(telling.notation = open_notation(&telling.session))) {
    report_close(telling.report);
    return command_fail_memory();
  }
  int code = begin_practice(&telling, who, options);
  if (!code) {
    code = tell_all(&telling, take, options);
    code = telling.kept && !code ? EXIT_SYSTEM : code;
    practice_end(&telling.practice);
  }
  report_close(telling.report);
  notation_close(telling.notation);
  return code;
}

static void
warn_of_changes(const Choices* const then, const Choices* const now)
{
  static const char* const names[] = {"chart", "feel", "ladder"};
  for (unsigned i = 0; i < 3; ++i) {
    if (then->sums[i] != now->sums[i]) {
      (void)fprintf(stderr,
                    "barter: the %s has changed since this was recorded; the "
                    "answers may differ\n",
                    names[i]);
    }
  }
}

static int
replay(Setup* const setup, const Options* const options)
{
  const char* const path = options->replay;
  Fault             fault;
  Choices           choices;
  Tick              bar_one = 0;
  Take              take;
  if (recorded_choices(&choices, &bar_one, path, &fault)) {
    return command_fail(&fault);
  }
  const int loaded = begin_setup(setup, &choices);
  if (loaded) {
    return loaded;
  }
  warn_of_changes(&choices, &setup->choices);
  if (take_load(&take, path, (TakeChoice){.track = "player"}, &fault)) {
    return command_fail(&fault);
  }
  warn_of_damage(path, &take);
  take_shift(&take, -bar_one); // A recording counts from its count-in
  const int code = answer_take(setup, NULL, &take, options);
  take_free(&take);
  return code;
}

static void
open_room(const Setup* const setup, Take* const take)
{
  const Chart* const chart = &setup->chart.chart;
  take_make_room(take,
                 (TakeRoom){
                   .form  = chart_ticks(chart) / 2, // It has its room already
                   .group = setup->choices.bars * meter_bar_ticks(chart->meter),
                   .pick_up    = meter_beat_ticks(chart->meter) / 2,
                   .room_first = setup->choices.partner_begins,
                 });
}

static int
answer_loaded(Setup* const         setup,
              const Who* const     who,
              const Choices* const choices,
              Take* const          take,
              const Options* const options)
{
  const int code = begin_setup(setup, choices);
  if (code) {
    return code;
  }
  const Chart* const chart = &setup->chart.chart;
  if (choices->makes_room) {
    open_room(setup, take);
  }
  if (!choices->choruses) {
    setup->choices.choruses = choruses_for(take, chart);
  }
  if (options_have(options, OPTION_PRACTICE)) {
    kept_offer(setup, who);
  }
  const Tick bar = meter_bar_ticks(chart->meter);
  const Tick end = setup->choices.choruses * chart_ticks(chart);
  warn_of_rest(options->operands[0], take, end + bar, chart->meter);
  return answer_take(setup, who, take, options);
}

static int
answer_file(Setup* const setup, const Options* const options)
{
  Who     who;
  Choices choices;
  Take    take;
  int     code = begin_who(&who, options);
  if (code || (code = intake(&choices, &take, &who, options))) {
    return code;
  }
  if (options_have(options, OPTION_PRACTICE)) { // Only this moves the ladder
    choose_climb(&choices, &who);
  }
  code = answer_loaded(setup, &who, &choices, &take, options);
  take_free(&take);
  return code;
}

// A replay brings its own choices
static bool
may_replay(const Options* const options)
{
  const OptionSet results =
    OPTION_BIT(OPTION_REPLAY) | OPTION_BIT(OPTION_OUT) |
    OPTION_BIT(OPTION_WAV) | OPTION_BIT(OPTION_SOUNDFONT) |
    OPTION_BIT(OPTION_REPORT) | OPTION_BIT(OPTION_DRAW) |
    OPTION_BIT(OPTION_MUSICXML);
  return !(options->given & ~results);
}

static int
run(const Options* const options)
{
  const bool replays = options_have(options, OPTION_REPLAY);
  if (options->n_operands != (replays ? 0 : 1)) {
    return command_misuse("answer takes one file: barter answer TAKE.mid --out "
                          "FILE.mid, or barter answer --replay FILE.mid --out "
                          "OTHER.mid");
  }
  if (replays && !may_replay(options)) {
    return command_misuse(
      "a replay brings its own choices; only --out, --wav, "
      "--soundfont, --report, --musicxml and --draw go with it");
  }
  const int apart =
    outputs_apart(replays ? options->replay : options->operands[0], options);
  if (apart) {
    return apart;
  }
  Setup* const setup = calloc(1, sizeof(*setup));
  if (!setup) {
    return command_fail_memory();
  }
  const int code =
    replays ? replay(setup, options) : answer_file(setup, options);
  free(setup);
  return code;
}

const Command command_answer = {
  .name     = "answer",
  .operands = "TAKE.mid",
  .summary  = "answer a take: the conversation as a file",
  .words =
    "Answers each turn of a take over a chart, at the take's tempo or --tempo.",
  .options = OPTIONS_OF_SESSION | OPTION_BIT(OPTION_TRACK) |
             OPTION_BIT(OPTION_LEAD_IN) | OPTION_BIT(OPTION_OUT) |
             OPTION_BIT(OPTION_WAV) | OPTION_BIT(OPTION_SOUNDFONT) |
             OPTION_BIT(OPTION_REPORT) | OPTION_BIT(OPTION_REPLAY) |
             OPTION_BIT(OPTION_LEARNER) | OPTION_BIT(OPTION_PRACTICE) |
             OPTION_BIT(OPTION_MUSICXML) | OPTION_BIT(OPTION_DRAW),
  .run = run,
};
