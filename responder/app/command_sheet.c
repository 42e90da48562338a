#include "responder/app/command.h"

#include "core/paper/paper.h"
#include "profiles/sheet/print.h"
#include "responder/app/begin.h"
#include "responder/lesson/choosing.h"
#include "responder/lesson/printing.h"

#include <stdio.h>
#include <stdlib.h>

// What a sheet is made of; large, so kept in place
typedef struct {
  Setup    setup;
  Who      who;
  Printing printing;
} Paperwork;

static int
prepare(Paperwork* const work, const Options* const options)
{
  const int code = begin_who(&work->who, options);
  if (code) {
    return code;
  }
  Choices choices = begin_choose(&work->who, options);
  choose_climb(&choices, &work->who);
  return begin_setup(&work->setup, &choices);
}

static void
tell(const Paperwork* const work, const char* const path)
{
  const Chart* const chart = &work->setup.chart.chart;
  const unsigned     n     = work->printing.pages.n_pages;
  char               key[KEY_TEXT_CAPACITY];
  (void)printf("%s in %s: %u page%s, written to %s%s\n",
               chart->title,
               key_text(chart->key, key),
               n,
               n == 1 ? "" : "s",
               path,
               sheet_is_split(&work->printing.pages, path)
                 ? ", a number before its ending for each page"
                 : "");
}

static int
print(Paperwork* const work, const Options* const options)
{
  Fault     fault;
  PaperKind kind = PAPER_PDF;
  if (paper_kind(&kind, options->out, &fault)) {
    return command_fail(&fault);
  }
  const int code = prepare(work, options);
  if (code) {
    return code;
  }
  printing_lay(&work->printing,
               &work->setup,
               options->is_letter ? SHEET_LETTER : SHEET_A4);
  if (printing_save(&work->printing, options->out, &fault)) {
    return command_fail(&fault);
  }
  tell(work, options->out);
  return EXIT_DONE;
}

static int
run(const Options* const options)
{
  if (options->n_operands) {
    return command_misuse("sheet takes no file; --chart says of what");
  }
  if (!options_have(options, OPTION_OUT)) {
    return command_misuse("sheet needs --out FILE.pdf, .svg or .png");
  }
  Paperwork* const work = calloc(1, sizeof(*work));
  if (!work) {
    return command_fail_memory();
  }
  const int code = print(work, options);
  free(work);
  return code;
}

const Command command_sheet = {
  .name     = "sheet",
  .operands = "",
  .summary  = "a page to print: form, chords, scales with fingers, a rhythm",
  .words =
    "Writes what to have before you at the keyboard, for a chart, a key and\n"
    "where the learner stands. A PDF holds all pages; of an SVG or PNG with\n"
    "more than one, each page is a file of its own: NAME-1.svg, NAME-2.svg.",
  .options = OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
             OPTION_BIT(OPTION_TEMPO) | OPTION_BIT(OPTION_FEEL) |
             OPTION_BIT(OPTION_BARS) | OPTION_BIT(OPTION_FIRST) |
             OPTION_BIT(OPTION_RUNG) | OPTION_BIT(OPTION_LEARNER) |
             OPTION_BIT(OPTION_OUT) | OPTION_BIT(OPTION_PAPER),
  .run = run,
};
