#include "responder/app/command.h"

#include "profiles/journal/day.h"
#include "responder/app/draw.h"
#include "responder/app/ideas_file.h"
#include "responder/app/ideas_live.h"
#include "responder/app/intake.h"
#include "responder/app/kept.h"
#include "responder/app/notation.h"
#include "responder/app/opening.h"
#include "responder/app/outputs.h"
#include "responder/app/report.h"
#include "responder/app/sessions.h"
#include "responder/app/sitting.h"
#include "responder/app/tell.h"
#include "responder/app/warn.h"

#include <stdlib.h>
#include <string.h>

enum { USUAL_COUNT = 6, INDENT = 4 };

static const int64_t ms_a_day = INT64_C(86400000);

// What is on the table, kept in one piece
typedef struct {
  const Options* options;
  Defaults       defaults;
  Setup          setup;
  Who            who;
  JournalIdeas   kept;
  OpeningSpan    span;
  Opening        opening;
  SayHistory     history; ///< Nothing was said yet
  DevelopWork    work;
  Developments   found;
  Chart          bars; ///< Of the phrase alone
  TurnRecord     record;
  FILE*          stream;
} Desk;

static int
fail(const Status status, const Fault* const fault)
{
  return status ? command_fail(fault) : EXIT_DONE;
}

// The phrase to begin with

static int
load_setup(Desk* const desk, const Choices* const choices)
{
  Faults faults = {.n_faults = 0};
  return setup_load(&desk->setup, choices, &faults) ? command_fail_all(&faults)
                                                    : EXIT_DONE;
}

static int
open_take(Desk* const desk)
{
  const Options* const options = desk->options;
  Choices              choices;
  Take                 take;
  Fault                fault;
  int                  code = intake(&choices, &take, options);
  if (code) {
    return code;
  }
  code = load_setup(desk, &choices);
  if (!code) {
    code = fail(
      opening_of_take(&desk->opening, &desk->setup, &take, desk->span, &fault),
      &fault);
  }
  take_free(&take);
  return code;
}

// Which of the notebook is meant; 0 and a fault said if there is no such one
static size_t
kept_number(const Desk* const desk)
{
  const char* const text = desk->options->operands[0];
  char*             end  = NULL;
  const long        n    = strtol(text, &end, 10);
  if (end == text || *end || n < 1 || (size_t)n > desk->kept.n_ideas) {
    (void)command_misuse("--kept %.40s: the notebook of %s holds %zu idea%s; "
                         "barter ideas --kept lists them",
                         text,
                         desk->who.learner.name,
                         desk->kept.n_ideas,
                         desk->kept.n_ideas == 1 ? "" : "s");
    return 0;
  }
  return (size_t)n;
}

static int
lay_kept(Desk* const desk, const size_t number)
{
  const JournalIdea* const kept  = &desk->kept.ideas[number - 1];
  const Meter              meter = desk->setup.chart.chart.meter;
  Idea                     idea;
  unsigned                 tonic = 0;
  char                     text[METER_TEXT_CAPACITY];
  if (!kept_idea(kept, &idea, &tonic)) {
    return command_misuse("idea %zu of the notebook is damaged", number);
  }
  if (strcmp(kept->meter, meter_text(meter, text)) != 0) {
    return command_misuse("idea %zu of the notebook is in %s, the chart %s in "
                          "%s; --chart chooses another",
                          number,
                          kept->meter,
                          desk->setup.choices.chart,
                          text);
  }
  opening_of_idea(&desk->opening, &desk->setup, idea, tonic, desk->span);
  (void)snprintf(desk->opening.words,
                 sizeof(desk->opening.words),
                 "Idea %zu of the notebook, a %s",
                 number,
                 kept->origin);
  return EXIT_DONE;
}

static int
open_kept(Desk* const desk, const Choices* const choices)
{
  const size_t number = kept_number(desk);
  if (!number) {
    return EXIT_USE;
  }
  const int code = load_setup(desk, choices);
  return code ? code : lay_kept(desk, number);
}

static int
open_suggestion(Desk* const desk, const Choices* const choices)
{
  Fault     fault;
  const int code = load_setup(desk, choices);
  return code ? code
              : fail(opening_suggest(
                       &desk->opening, &desk->setup, desk->span, &fault),
                     &fault);
}

// Whoever says what to play over does not mean the last session
static bool
may_recall(const Options* const options)
{
  const OptionSet own = OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
                        OPTION_BIT(OPTION_FEEL) | OPTION_BIT(OPTION_TEMPO) |
                        OPTION_BIT(OPTION_SPAN);
  return !(options->given & own);
}

// Goes on from the last session if there is one with a note of the player's
static int
open_session(Desk* const desk, const Choices* const choices)
{
  SessionFound session;
  Fault        fault;
  Status       status = may_recall(desk->options)
                          ? sessions_latest(&session, &desk->who, &fault)
                          : STATUS_MISSING;
  if (!status && !load_setup(desk, &session.choices)) {
    status = opening_of_recording(
      &desk->opening, &desk->setup, session.path, session.bar_one, &fault);
    desk->setup.choices.rung = choices->rung;
    desk->setup.choices.seed = choices->seed;
  }
  if (!status) { // The learner's own rung, or where the ladder begins
    for (unsigned i = 0; i < N_DIMENSIONS; ++i) {
      uint8_t* const level = &desk->setup.choices.rung.level[i];
      *level = *level ? *level : desk->setup.ladder.start.level[i];
    }
    return EXIT_DONE;
  }
  return status == STATUS_MISSING ? open_suggestion(desk, choices)
                                  : command_fail(&fault);
}

static int
open_phrase(Desk* const desk)
{
  const Options* const options = desk->options;
  Faults               faults  = {.n_faults = 0};
  Choices              choices;
  if (options->n_operands && !options_have(options, OPTION_KEPT)) {
    return open_take(desk);
  }
  if (setup_choose(&choices, options, &faults)) {
    return command_fail_all(&faults);
  }
  return options_have(options, OPTION_KEPT) ? open_kept(desk, &choices)
                                            : open_session(desk, &choices);
}

// Telling

static void
tell_bars(FILE* const stream, const Phrase* const phrase, const Tick bar)
{
  const int first = (int)(phrase->start_tick / bar) + 1;
  const int last  = (int)(phrase->end_tick / bar);
  if (first == last) {
    (void)fprintf(stream, ", bar %d\n", first);
  } else {
    (void)fprintf(stream, ", bars %d-%d\n", first, last);
  }
}

static void
tell_phrase(const Desk* const desk, const Phrase* const phrase)
{
  const Chart* const chart = &desk->setup.chart.chart;
  tell_notes(desk->stream, chart, phrase);
  if (options_have(desk->options, OPTION_DRAW)) {
    draw_phrase(desk->stream, chart, phrase);
  }
}

static void
tell_head(const Desk* const desk)
{
  const Setup* const setup = &desk->setup;
  const Chart* const chart = &setup->chart.chart;
  char               key[KEY_TEXT_CAPACITY];
  char               meter[METER_TEXT_CAPACITY];
  char               rung[RUNG_TEXT_CAPACITY];
  (void)fprintf(desk->stream,
                "%s, in %s, %s, %s at %.0f; on %s\n",
                chart->title,
                key_text(chart->key, key),
                meter_text(chart->meter, meter),
                setup->feel.name,
                setup->choices.tempo_bpm,
                rung_text(setup->choices.rung, rung));
  tell_legend(desk->stream);
  if (options_have(desk->options, OPTION_DRAW)) {
    draw_legend(desk->stream);
  }
  (void)fprintf(desk->stream, "\n%s", desk->opening.words);
  tell_bars(desk->stream, &desk->opening.phrase, meter_bar_ticks(chart->meter));
  tell_phrase(desk, &desk->opening.phrase);
}

static const char*
practise_words(const Desk* const desk, const Move move)
{
  return sentence(&desk->setup.sentences,
                  (SentenceKind)(SENTENCE_PRACTISE_REPEAT + (unsigned)move),
                  0);
}

static void
tell_way(const Desk* const desk, const unsigned index)
{
  const Development* const way = &desk->found.ways[index];
  char                     words[128];
  (void)fprintf(desk->stream,
                "\n%2u. %s (likeness %.0f %%)\n",
                index + 1,
                move_name(way->answer.move),
                100.0 * (double)way->likeness.whole);
  tell_phrase(desk, &way->answer.heard);
  tell_words(desk->stream, INDENT, way->answer.why);
  (void)snprintf(words,
                 sizeof(words),
                 "To practise: %s",
                 practise_words(desk, way->answer.move));
  tell_words(desk->stream, INDENT, words);
}

static bool
is_live(const Desk* const desk)
{
  return options_have(desk->options, OPTION_LIVE);
}

static unsigned
wanted(const Options* const options)
{
  return options_have(options, OPTION_COUNT) ? options->count : USUAL_COUNT;
}

static void
tell_all(const Desk* const desk)
{
  tell_head(desk);
  for (unsigned i = 0; i < desk->found.n && !is_live(desk); ++i) {
    tell_way(desk, i);
  }
  if (desk->found.n < wanted(desk->options)) {
    (void)fprintf(desk->stream,
                  "\nThere are no more that differ; another --seed or --rung "
                  "finds others.\n");
  }
}

// The report

static Turn
turn_of(const Desk* const desk, const unsigned index)
{
  const Phrase* const phrase = &desk->opening.phrase;
  const Tick          bar    = meter_bar_ticks(desk->setup.chart.chart.meter);
  return (Turn){
    .index     = index,
    .by_player = index == 1,
    .start     = phrase->start_tick,
    .end       = phrase->end_tick,
    .first_bar = (unsigned)(phrase->start_tick / bar) + 1,
  };
}

static void
report_ways(Desk* const desk, Report* const report)
{
  TurnRecord* const record = &desk->record;
  *record =
    (TurnRecord){.turn = turn_of(desk, 1), .phrase = desk->opening.phrase};
  report_add_turn(report, record);
  for (unsigned i = 0; i < desk->found.n; ++i) {
    const Development* const way = &desk->found.ways[i];
    *record                      = (TurnRecord){.turn   = turn_of(desk, i + 2),
                                                .phrase = way->answer.heard,
                                                .move   = way->answer.move};
    memcpy(record->why, way->answer.why, sizeof(record->why));
    report_add_idea(
      report, record, way->likeness, practise_words(desk, way->answer.move));
  }
}

static int
write_report(Desk* const desk)
{
  const Phrase* const phrase = &desk->opening.phrase;
  const Chart* const  chart  = &desk->setup.chart.chart;
  const ReportHead    head   = {
         .chart         = chart,
         .feel          = desk->setup.feel.name,
         .tempo_bpm     = desk->setup.choices.tempo_bpm,
         .seed          = desk->setup.choices.seed,
         .bars_per_turn = (unsigned)((phrase->end_tick - phrase->start_tick) /
                                meter_bar_ticks(chart->meter)),
  };
  Fault         fault;
  Report* const report = report_open(&head);
  if (!report) {
    return command_fail_memory();
  }
  report_ways(desk, report);
  const int code =
    fail(report_write(report, desk->options->report, &fault), &fault);
  report_close(report);
  return code;
}

// Notation

// The phrase, and its developments one after the other, over the same bars
static void
note_ways(const Desk* const desk, Notation* const notation)
{
  const Phrase* const phrase = &desk->opening.phrase;
  const Tick          length = phrase->end_tick - phrase->start_tick;
  char                label[64];
  notation_add_phrase(notation, phrase, true, 0, "the phrase");
  for (unsigned i = 0; i < desk->found.n; ++i) {
    const Answer* const answer = &desk->found.ways[i].answer;
    (void)snprintf(
      label, sizeof(label), "%u. %s", i + 1, move_name(answer->move));
    notation_add_phrase(
      notation, &answer->heard, false, (Tick)(i + 1) * length, label);
  }
}

static int
write_notation(Desk* const desk)
{
  const Phrase* const  phrase  = &desk->opening.phrase;
  const SessionOptions session = setup_session(&desk->setup);
  const Tick           bar     = meter_bar_ticks(session.chart->meter);
  NotationHead         head    = {
               .ear         = session_ear(&session),
               .swing_ratio = feel_swing_ratio(session.feel, session.tempo_bpm),
  };
  Fault fault;
  head.ear.chart = &desk->bars;
  if (chart_part(&desk->bars,
                 session.chart,
                 (unsigned)(phrase->start_tick / bar),
                 (unsigned)((phrase->end_tick - phrase->start_tick) / bar))) {
    return command_fail_memory();
  }
  Notation* const notation = notation_open(&head);
  if (!notation) {
    return command_fail_memory();
  }
  note_ways(desk, notation);
  const int code =
    fail(notation_save(
           notation, session.chart->title, desk->options->musicxml, &fault),
         &fault);
  notation_close(notation);
  return code;
}

// What is asked for beyond words

// Writes all that is asked for: what one file refuses, the others still get
static int
write_files(Desk* const desk)
{
  const Options* const options = desk->options;
  const IdeasFile file = {&desk->setup, &desk->opening.phrase, &desk->found};
  Fault           fault;
  int             code = EXIT_DONE;
  if (!is_live(desk) && options_have(options, OPTION_OUT) &&
      ideas_file_save(&file, options->out, &fault)) {
    code = command_fail(&fault);
  }
  if (options_have(options, OPTION_WAV) &&
      ideas_file_render(&file, options->wav, options->soundfont, &fault)) {
    code = command_fail(&fault);
  }
  if (options_have(options, OPTION_REPORT) && write_report(desk)) {
    code = EXIT_SYSTEM;
  }
  if (options_have(options, OPTION_MUSICXML) && write_notation(desk)) {
    code = EXIT_SYSTEM;
  }
  return code;
}

static int
keep(Desk* const desk)
{
  const unsigned n      = desk->options->keep;
  size_t         number = 0;
  bool           is_new = false;
  Fault          fault;
  if (n > desk->found.n) {
    return command_misuse(
      "--keep %u: there are %u ideas; --count asks for more", n, desk->found.n);
  }
  if (kept_add(&desk->who,
               &desk->setup,
               &desk->found.ways[n - 1].answer,
               &number,
               &is_new,
               &fault)) {
    return command_fail(&fault);
  }
  (void)fprintf(desk->stream,
                is_new ? "\nKept idea %u as number %zu in the notebook of %s.\n"
                       : "\nIdea %u is number %zu in the notebook of %s "
                         "already.\n",
                n,
                number,
                desk->who.learner.name);
  return EXIT_DONE;
}

static void
tell_live(void* const context, const unsigned index)
{
  tell_way(context, index);
}

static int
play_live(Desk* const desk)
{
  const IdeasShow show = {
    .options  = desk->options,
    .defaults = &desk->defaults,
    .setup    = &desk->setup,
    .phrase   = &desk->opening.phrase,
    .found    = &desk->found,
    .tell     = tell_live,
    .context  = desk,
  };
  return ideas_live(&show);
}

static int
develop_phrase(Desk* const desk)
{
  int code = open_phrase(desk);
  if (code) {
    return code;
  }
  const SayRequest request =
    opening_request(&desk->opening, &desk->setup, &desk->history);
  develop(&desk->found,
          &desk->work,
          &request,
          wanted(desk->options),
          desk->setup.choices.seed);
  tell_all(desk);
  code = write_files(desk);
  if (!code && is_live(desk)) {
    code = play_live(desk);
  }
  if (options_have(desk->options, OPTION_KEEP)) {
    const int kept = keep(desk);
    code           = code ? code : kept;
  }
  return code;
}

// The notebook

static void
tell_kept(Desk* const desk, const size_t number)
{
  const JournalIdea* const kept = &desk->kept.ideas[number - 1];
  char                     day[DAY_TEXT_CAPACITY];
  char                     meter[METER_TEXT_CAPACITY];
  Idea                     idea;
  unsigned                 tonic = 0;
  (void)fprintf(desk->stream,
                "\n%2zu. %s, %s, %s in %s, %s\n",
                number,
                day_text((int32_t)(kept->kept_ms / ms_a_day), day),
                kept->origin,
                kept->chart,
                kept->key,
                kept->meter);
  if (kept_idea(kept, &idea, &tonic) &&
      strcmp(kept->meter, meter_text(desk->setup.chart.chart.meter, meter)) ==
        0) {
    opening_of_idea(&desk->opening, &desk->setup, idea, tonic, desk->span);
    tell_phrase(desk, &desk->opening.phrase);
  }
}

static int
list_kept(Desk* const desk)
{
  Faults  faults = {.n_faults = 0};
  Choices choices;
  if (!desk->kept.n_ideas) {
    (void)fprintf(desk->stream,
                  "The notebook of %s is empty; barter ideas --keep N puts one "
                  "in\n",
                  desk->who.learner.name);
    return EXIT_DONE;
  }
  if (setup_choose(&choices, desk->options, &faults)) {
    return command_fail_all(&faults);
  }
  const int code = load_setup(desk, &choices);
  if (code) {
    return code;
  }
  char key[KEY_TEXT_CAPACITY];
  (void)fprintf(desk->stream,
                "The notebook of %s, over %s in %s\n",
                desk->who.learner.name,
                desk->setup.chart.chart.title,
                key_text(desk->setup.chart.chart.key, key));
  tell_legend(desk->stream);
  for (size_t i = 1; i <= desk->kept.n_ideas; ++i) {
    tell_kept(desk, i);
  }
  return EXIT_DONE;
}

// The command

static int
open_desk(Desk* const desk)
{
  Faults faults = {.n_faults = 0};
  Fault  fault;
  if (setup_defaults(&desk->defaults, &faults) ||
      who_find(&desk->who, desk->options, &desk->defaults, &faults)) {
    return command_fail_all(&faults);
  }
  return fail(kept_load(&desk->kept, &desk->who, &fault), &fault);
}

static int
sit_down(Desk* const desk)
{
  const Options* const options = desk->options;
  const bool lists = options_have(options, OPTION_KEPT) && !options->n_operands;
  const int  code  = open_desk(desk);
  if (code) {
    return code;
  }
  return lists ? list_kept(desk) : develop_phrase(desk);
}

// No file takes the place of the take, or of another
static int
check_outputs(const Options* const options)
{
  const bool has_take =
    options->n_operands && !options_have(options, OPTION_KEPT);
  char    path[IDEAS_PATH_CAPACITY];
  Options files = *options;
  if (options_have(options, OPTION_LIVE)) {
    files.given &= ~OPTION_BIT(OPTION_OUT); // It is a port
  } else if (options_have(options, OPTION_OUT)) {
    files.out = ideas_file_path(options->out, path);
  }
  return outputs_apart(has_take ? options->operands[0] : NULL, &files);
}

static int
run(const Options* const options)
{
  if (options->n_operands > 1) {
    return command_misuse("ideas takes one file: barter ideas TAKE.mid, or "
                          "none");
  }
  if (options_have(options, OPTION_SPAN) &&
      options->last_bar - options->first_bar >= OPENING_BARS_MOST) {
    return command_misuse("--bars %u-%u: a phrase may have %d bars",
                          options->first_bar,
                          options->last_bar,
                          OPENING_BARS_MOST);
  }
  const int apart = check_outputs(options);
  if (apart) {
    return apart;
  }
  Desk* const desk = calloc(1, sizeof(*desk));
  if (!desk) {
    return command_fail_memory();
  }
  desk->options = options;
  desk->span    = (OpeningSpan){options->first_bar, options->last_bar};
  desk->stream =
    options_have(options, OPTION_REPORT) && strcmp(options->report, "-") == 0
      ? stderr
      : stdout;
  const int code = sit_down(desk);
  journal_ideas_free(&desk->kept);
  free(desk);
  return code;
}

const Command command_ideas = {
  .name     = "ideas",
  .operands = "[TAKE.mid]",
  .summary  = "other ways on from a phrase",
  .words =
    "Develops a phrase in ways that differ, from near to far: the first "
    "phrase\n"
    "of a take, or the one at --bars. Without a take it is the last one that "
    "you\n"
    "played in your last session or, where a chart is named or there is none,\n"
    "one to begin with. --kept lists your notebook, --kept N goes on from it. "
    "--out\n"
    "names a folder; with --live, which plays them for you to try, a port.",
  .options = OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
             OPTION_BIT(OPTION_TEMPO) | OPTION_BIT(OPTION_FEEL) |
             OPTION_BIT(OPTION_SPAN) | OPTION_BIT(OPTION_COUNT) |
             OPTION_BIT(OPTION_RUNG) | OPTION_BIT(OPTION_SEED) |
             OPTION_BIT(OPTION_TRACK) | OPTION_BIT(OPTION_LEAD_IN) |
             OPTION_BIT(OPTION_OUT) | OPTION_BIT(OPTION_WAV) |
             OPTION_BIT(OPTION_SOUNDFONT) | OPTION_BIT(OPTION_REPORT) |
             OPTION_BIT(OPTION_MUSICXML) | OPTION_BIT(OPTION_KEEP) |
             OPTION_BIT(OPTION_KEPT) | OPTION_BIT(OPTION_DRAW) |
             OPTION_BIT(OPTION_LEARNER) | OPTION_BIT(OPTION_LIVE) |
             SITTING_OPTIONS,
  .run = run,
};
