#include "responder/app/command.h"

#include "core/paper/paper.h"
#include "profiles/ladder/climb.h"
#include "profiles/sheet/print.h"
#include "responder/app/begin.h"
#include "responder/app/choosing.h"
#include "responder/app/who.h"

#include <stdio.h>
#include <stdlib.h>

// What a sheet is made of; large, so kept in place
typedef struct {
  Setup      setup;
  Who        who;
  Sheet      sheet;
  SheetPages pages;
} Printing;

static int
prepare(Printing* const printing, const Options* const options)
{
  const int code = begin_who(&printing->who, options);
  if (code) {
    return code;
  }
  Choices choices = begin_choose(&printing->who, options);
  choose_climb(&choices, &printing->who);
  return begin_setup(&printing->setup, &choices);
}

static SheetRequest
request_of(const Setup* const setup)
{
  const Choices* const choices = &setup->choices;
  const Climb          climb =
    climb_begin(&choices->plan, choices->rung, choices->budget, choices->skill);
  SheetRequest request = {
    .chart          = &setup->chart.chart,
    .ladder         = &setup->ladder,
    .rung           = choices->rung,
    .task           = climb_weakest(&climb, &choices->plan),
    .tempo_bpm      = choices->tempo_bpm,
    .swing_ratio    = feel_swing_ratio(&setup->feel, choices->tempo_bpm),
    .bars_per_turn  = choices->bars,
    .partner_begins = choices->partner_begins,
  };
  (void)snprintf(request.feel, sizeof(request.feel), "%.31s", setup->feel.name);
  return request;
}

static void
tell(const Printing* const printing, const char* const path)
{
  const unsigned n = printing->pages.n_pages;
  char           key[KEY_TEXT_CAPACITY];
  (void)printf("%s in %s: %u page%s, written to %s%s\n",
               printing->setup.chart.chart.title,
               key_text(printing->setup.chart.chart.key, key),
               n,
               n == 1 ? "" : "s",
               path,
               sheet_is_split(&printing->pages, path)
                 ? ", a number before its ending for each page"
                 : "");
}

static int
print(Printing* const printing, const Options* const options)
{
  Fault     fault;
  PaperKind kind = PAPER_PDF;
  if (paper_kind(&kind, options->out, &fault)) {
    return command_fail(&fault);
  }
  const int code = prepare(printing, options);
  if (code) {
    return code;
  }
  const SheetRequest request = request_of(&printing->setup);
  sheet_make(&printing->sheet, &request);
  sheet_pages(&printing->pages,
              &printing->sheet,
              options->is_letter ? SHEET_LETTER : SHEET_A4);
  if (sheet_save(&printing->sheet, &printing->pages, options->out, &fault)) {
    return command_fail(&fault);
  }
  tell(printing, options->out);
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
  Printing* const printing = calloc(1, sizeof(*printing));
  if (!printing) {
    return command_fail_memory();
  }
  const int code = print(printing, options);
  free(printing);
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
