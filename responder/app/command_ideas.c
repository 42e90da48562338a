#include "responder/app/command.h"

#include "responder/app/begin.h"
#include "responder/app/endings.h"
#include "responder/app/ideas_kept.h"
#include "responder/app/outputs.h"
#include "responder/app/show.h"
#include "responder/lesson/desk.h"
#include "responder/lesson/ideas_file.h"
#include "responder/lesson/kept.h"
#include "responder/lesson/tries.h"
#include "responder/tell/ideas_tell.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { USUAL_COUNT = 6 };

// What is on the table while a phrase is developed, kept in one piece
typedef struct {
  const Options* options;
  FILE*          stream;
  OpeningSpan    span;
  bool           draws;
  IdeasKept      kept;
  Desk           desk;
  Tries          tries;
} Table;

// What to begin with

static int
open_take(Table* const table)
{
  Faults  faults = {.n_faults = 0};
  Choices choices;
  Take    take;
  int     code = begin_take(&choices, &take, &table->kept.who, table->options);
  if (code) {
    return code;
  }
  const Status status =
    desk_take(&table->desk, &choices, &take, table->span, &faults);
  code = begin_loaded(&table->desk.setup, status, &faults);
  take_free(&take);
  return code;
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

static int
open_kept(Table* const table)
{
  const IdeasKept* const kept   = &table->kept;
  Desk* const            desk   = &table->desk;
  Faults                 faults = {.n_faults = 0};
  const size_t number = ideas_kept_number(kept, table->options->operands[0]);
  if (!number) {
    return EXIT_USE;
  }
  const Choices choices = ideas_kept_choose(kept, number);
  const Status  status =
    desk_kept(desk, &choices, &kept->ideas, number, table->span, &faults);
  return begin_loaded(&desk->setup, status, &faults);
}

static int
open_desk(Table* const table)
{
  const Options* const options = table->options;
  Desk* const          desk    = &table->desk;
  const bool           is_kept = options_have(options, OPTION_KEPT);
  Faults               faults  = {.n_faults = 0};
  if (options->n_operands && !is_kept) {
    return open_take(table);
  }
  if (is_kept) {
    return open_kept(table);
  }
  const Choices choices = begin_choose(&table->kept.who, options);
  const Status  status =
    may_recall(options)
       ? desk_last(desk, &choices, &table->kept.who, table->span, &faults)
       : desk_suggest(desk, &choices, table->span, &faults);
  return begin_loaded(&desk->setup, status, &faults);
}

// What is made of it

// Writes all that is asked for: what one file refuses, the others still get
static int
write_files(Table* const table)
{
  const Options* const options = table->options;
  Desk* const          desk    = &table->desk;
  const IdeasFile file    = {&desk->setup, &desk->opening.phrase, &desk->found};
  const bool      is_live = options_have(options, OPTION_LIVE);
  const Watch     watch   = {outputs_show, NULL};
  Fault           fault;
  int             code = EXIT_DONE;
  if (!is_live && options_have(options, OPTION_OUT) &&
      ideas_file_save(&file, options->out, &fault)) {
    code = command_fail(&fault);
  }
  if (options_have(options, OPTION_WAV) &&
      ideas_file_render(
        &file, options->wav, options->soundfont, &watch, &fault)) {
    code = command_fail(&fault);
  }
  if (options_have(options, OPTION_REPORT) &&
      outputs_report(desk_report(desk), options->report, FILE_OPEN, &fault)) {
    code = command_fail(&fault);
  }
  if (options_have(options, OPTION_MUSICXML) &&
      desk_notate(desk, options->musicxml, &fault)) {
    code = command_fail(&fault);
  }
  if (options_have(options, OPTION_SCORE) &&
      desk_engrave(desk, options->score, &fault)) {
    code = command_fail(&fault);
  }
  return code;
}

static int
keep(const Table* const table)
{
  const Desk* const desk   = &table->desk;
  const unsigned    n      = table->options->keep;
  size_t            number = 0;
  bool              is_new = false;
  Fault             fault;
  if (n > desk->found.n) {
    return command_misuse(
      "--keep %u: there are %u ideas; --count asks for more", n, desk->found.n);
  }
  if (kept_add(&table->kept.who,
               &desk->setup,
               &desk->found.ways[n - 1].answer,
               &number,
               &is_new,
               &fault)) {
    return command_fail(&fault);
  }
  (void)fprintf(table->stream,
                is_new ? "\nKept idea %u as number %zu in the notebook of %s.\n"
                       : "\nIdea %u is number %zu in the notebook of %s "
                         "already.\n",
                n,
                number,
                table->kept.who.learner.name);
  return EXIT_DONE;
}

// Live

static void
tell_way(void* const context, const unsigned index)
{
  const Table* const table = context;
  ideas_tell_way(table->stream,
                 &table->desk,
                 index,
                 table->draws,
                 options_have(table->options, OPTION_LIVE));
}

static void
hear_turn(void* const context, const TurnRecord* const record)
{
  tries_hear(context, record);
}

static int
play_once(Show* const show, Tries* const tries, StageResult* const result)
{
  Fault fault;
  if (tries_play(tries, &show->playing, &fault)) {
    return command_fail(&fault);
  }
  show_session(show, &tries->session, &tries->kept, hear_turn, tries, result);
  tries_end(tries, &show->playing, result);
  if (result->is_kept) {
    (void)printf("Kept as %s\n", tries->kept.path);
    (void)fflush(stdout);
  }
  return result->fault.status ? command_fail(&result->fault) : EXIT_DONE;
}

// Plays one until it was tried; when nobody is there to try it, that was the
// last
static int
play_one(void* const        context,
         Show* const        show,
         const unsigned     index,
         StageResult* const result)
{
  Table* const table = context;
  Tries* const tries = &table->tries;
  int          code  = EXIT_DONE;
  tries_begin(tries, index);
  while (!code && result->end == STAGE_OVER && tries_next(tries)) {
    code = play_once(show, tries, result);
  }
  if (!code && result->end == STAGE_OVER && tries_are_vain(tries)) {
    (void)puts("Nothing was played; we go on another time.");
    *result = (StageResult){.end = STAGE_GESTURE, .gesture = GESTURE_STOP};
  }
  return code;
}

static int
play_live(Table* const table)
{
  if (tries_open(&table->tries, &table->desk)) {
    command_say("the phrase has too many chords to be played over");
    return EXIT_SYSTEM;
  }
  return show_course(&(Course){
    .options = table->options,
    .choices = &table->desk.setup.choices,
    .n       = table->desk.found.n,
    .tell    = tell_way,
    .play    = play_one,
    .context = table,
  });
}

// The command

static int
develop_phrase(Table* const table)
{
  const Options* const options = table->options;
  Desk* const          desk    = &table->desk;
  const bool           is_live = options_have(options, OPTION_LIVE);
  const unsigned       wanted =
    options_have(options, OPTION_COUNT) ? options->count : USUAL_COUNT;
  int code = open_desk(table);
  if (code) {
    return code;
  }
  desk_develop(desk, wanted);
  ideas_tell_head(table->stream, desk, table->draws);
  for (unsigned i = 0; i < desk->found.n && !is_live; ++i) {
    tell_way(table, i);
  }
  if (desk->found.n < wanted) {
    (void)fprintf(table->stream,
                  "\nThere are no more that differ; another --seed or --rung "
                  "finds others.\n");
  }
  code = write_files(table);
  if (!code && is_live) {
    code = play_live(table);
  }
  if (options_have(options, OPTION_KEEP)) {
    const int kept = keep(table);
    code           = code ? code : kept;
  }
  return code;
}

static int
sit_down(Table* const table)
{
  const Options* const options = table->options;
  const bool lists = options_have(options, OPTION_KEPT) && !options->n_operands;
  const int  code  = ideas_kept_open(&table->kept, options);
  if (code) {
    return code;
  }
  return ideas_kept_is_change(options) ? ideas_kept_change(&table->kept)
         : lists ? ideas_kept_list(&table->kept, &table->desk, table->span)
                 : develop_phrase(table);
}

// No file takes the place of the take, or of another
static int
check_outputs(const Options* const options)
{
  const bool has_take = options->n_operands &&
                        !options_have(options, OPTION_KEPT) &&
                        !ideas_kept_is_change(options);
  char    path[IDEAS_PATH_CAPACITY];
  Options files = *options;
  if (options_have(options, OPTION_LIVE)) {
    files.given &= ~OPTION_BIT(OPTION_OUT); // It is a port
  } else if (options_have(options, OPTION_OUT)) {
    const int code =
      endings_check("--out", options->out, "a folder of MIDI files", ".mid");
    if (code) {
      return code;
    }
    const char* const ending = strrchr(options->out, '.');
    if (ending && strcasecmp(ending, ".mid") == 0) {
      return command_misuse("--out %.200s: it is to be a folder, in which each "
                            "idea gets a MIDI file; name it without .mid",
                            options->out);
    }
    files.out = ideas_file_path(options->out, path);
  }
  // Their folder is made
  return outputs_check(
    has_take ? options->operands[0] : NULL, &files, OPTION_BIT(OPTION_OUT));
}

static int
run(const Options* const options)
{
  if (options->n_operands > 1 && !ideas_kept_is_change(options)) {
    return command_misuse("ideas takes one file: barter ideas TAKE.mid, or "
                          "none");
  }
  if (options_have(options, OPTION_SPAN) &&
      options->span.last - options->span.first >= OPENING_BARS_MOST) {
    return command_misuse("--bars %u-%u: a phrase may have %d bars",
                          options->span.first,
                          options->span.last,
                          OPENING_BARS_MOST);
  }
  const int apart = check_outputs(options);
  if (apart) {
    return apart;
  }
  Table* const table = calloc(1, sizeof(*table));
  if (!table) {
    return command_fail_memory();
  }
  table->options = options;
  table->stream  = outputs_stream(options);
  table->span    = (OpeningSpan){options->span.first, options->span.last};
  table->draws   = options_have(options, OPTION_DRAW);
  const int code = sit_down(table);
  journal_ideas_free(&table->kept.ideas);
  free(table);
  return code;
}

const Command command_ideas = {
  .name     = "ideas",
  .operands = "[TAKE.mid | rename N NAME | remove N]",
  .summary  = "other ways on from a phrase",
  .words =
    "Develops a phrase in ways that differ, from near to far: the first "
    "phrase\n"
    "of a take, or the one at --bars. Without a take it is the last one that "
    "you\n"
    "played in your last session or, where a chart is named or there is none,\n"
    "one to begin with. --out names a folder; with --live, which plays them "
    "for\n"
    "you to try, a port.\n"
    "\n"
    "Your notebook, of what --keep put in:\n"
    "  --kept           list it, each idea over its own chart\n"
    "  --kept N         go on from one\n"
    "  rename N NAME    call one something; \"\" takes the name away\n"
    "  remove N         take one out",
  .options = OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
             OPTION_BIT(OPTION_TEMPO) | OPTION_BIT(OPTION_FEEL) |
             OPTION_BIT(OPTION_SPAN) | OPTION_BIT(OPTION_COUNT) |
             OPTION_BIT(OPTION_RUNG) | OPTION_BIT(OPTION_SEED) |
             OPTION_BIT(OPTION_TRACK) | OPTION_BIT(OPTION_LEAD_IN) |
             OPTION_BIT(OPTION_OUT) | OPTION_BIT(OPTION_WAV) |
             OPTION_BIT(OPTION_SOUNDFONT) | OPTION_BIT(OPTION_REPORT) |
             OPTION_BIT(OPTION_MUSICXML) | OPTION_BIT(OPTION_SCORE) |
             OPTION_BIT(OPTION_KEEP) | OPTION_BIT(OPTION_KEPT) |
             OPTION_BIT(OPTION_DRAW) | OPTION_BIT(OPTION_LEARNER) |
             OPTION_BIT(OPTION_LIVE) | SHOW_OPTIONS,
  .run = run,
};
