#include "responder/app/command.h"

#include "responder/app/begin.h"
#include "responder/app/ideas_desk.h"
#include "responder/app/ideas_file.h"
#include "responder/app/ideas_live.h"
#include "responder/app/kept.h"
#include "responder/app/outputs.h"
#include "responder/app/sitting.h"

#include <stdlib.h>
#include <string.h>

static bool
is_live(const Desk* const desk)
{
  return options_have(desk->options, OPTION_LIVE);
}

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
  if (options_have(options, OPTION_REPORT) && desk_report(desk)) {
    code = EXIT_SYSTEM;
  }
  if (options_have(options, OPTION_MUSICXML) && desk_notate(desk)) {
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
  desk_tell_way(context, index);
}

static int
play_live(Desk* const desk)
{
  const IdeasShow show = {
    .options = desk->options,
    .who     = &desk->who,
    .setup   = &desk->setup,
    .phrase  = &desk->opening.phrase,
    .found   = &desk->found,
    .tell    = tell_live,
    .context = desk,
  };
  return ideas_live(&show);
}

static int
develop_phrase(Desk* const desk)
{
  int code = desk_open(desk);
  if (code) {
    return code;
  }
  const SayRequest request =
    opening_request(&desk->opening, &desk->setup, &desk->history);
  develop(&desk->found,
          &desk->work,
          &request,
          desk_wanted(desk->options),
          desk->setup.choices.seed);
  desk_tell(desk);
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

// The command

static int
open_desk(Desk* const desk)
{
  Fault     fault;
  const int code = begin_who(&desk->who, desk->options);
  if (code) {
    return code;
  }
  const OptionSet notebook = OPTION_BIT(OPTION_KEEP) | OPTION_BIT(OPTION_KEPT);
  if (desk->who.has_bad_journal && !(desk->options->given & notebook)) {
    return EXIT_DONE; // One can go on without a notebook
  }
  return command_end(kept_load(&desk->kept, &desk->who, &fault), &fault);
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
  return lists ? desk_list_kept(desk) : develop_phrase(desk);
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
  Desk* const desk = calloc(1, sizeof(*desk));
  if (!desk) {
    return command_fail_memory();
  }
  desk->options = options;
  desk->span    = (OpeningSpan){options->span.first, options->span.last};
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
