#include "responder/app/command.h"

#include "core/paper/paper.h"
#include "profiles/learner/people.h"
#include "profiles/sheet/print.h"
#include "responder/app/begin.h"
#include "responder/lesson/choosing.h"
#include "responder/lesson/printing.h"

#include <stdio.h>
#include <stdlib.h>

// What a sheet is made of; large, so kept in place
typedef struct {
  Setup        setup;
  Who          who;
  PrintingWish wish;
  Printing     printing;
  SheetBook    book;
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
  const int loaded = begin_setup(&work->setup, &choices);
  if (!loaded) {
    Notices notices = {.n = 0};
    printing_lay(&work->printing, &work->setup, &work->wish);
    printing_warn(&work->printing, &notices);
    command_notice(&notices);
  }
  return loaded;
}

static int
wish(Paperwork* const work, const Options* const options)
{
  work->wish = (PrintingWish){
    .size      = options->is_letter ? SHEET_LETTER : SHEET_A4,
    .who       = &work->who,
    .n_rhythms = options_have(options, OPTION_RHYTHMS) ? options->rhythms : 0,
  };
  return begin_day(&work->wish.day, options);
}

// One

static void
tell(const Paperwork* const work, const char* const path)
{
  const Chart* const chart = &work->setup.chart.chart;
  const unsigned     n     = work->printing.pages.n_pages;
  char               key[KEY_TEXT_CAPACITY];
  const bool         reads = work->wish.n_rhythms;
  (void)printf("%s%s%s: %u page%s, written to %s%s\n",
               reads ? "Rhythms" : chart->title,
               reads ? "" : " in ",
               reads ? "" : key_text(chart->key, key),
               n,
               n == 1 ? "" : "s",
               path,
               sheet_is_split(&work->printing.pages, path)
                 ? ", a number before its ending for each page"
                 : "");
}

static int
print_one(Paperwork* const work, const Options* const options)
{
  Fault     fault;
  const int code = prepare(work, options);
  if (code) {
    return code;
  }
  if (printing_save(&work->printing, options->out, &fault)) {
    return command_fail(&fault);
  }
  tell(work, options->out);
  return EXIT_DONE;
}

// All

/// Add everybody's; whoever is at fault is told of and left out.
static int
print_each(Paperwork* const        work,
           const PeopleList* const people,
           const Options* const    options)
{
  int   ended = EXIT_DONE;
  Fault fault;
  for (size_t i = 0; i < people->n_ids; ++i) {
    Options one = *options;
    one.given |= OPTION_BIT(OPTION_LEARNER);
    one.learner    = people->ids[i];
    const int code = prepare(work, &one);
    if (code) {
      command_say("%s is left out", people->ids[i]);
      ended = code;
    } else if (sheet_book_add(&work->book,
                              &work->printing.sheet,
                              &work->printing.pages,
                              &fault)) {
      return command_fail(&fault);
    } else if (work->who.has_bad_journal) {
      ended = EXIT_SYSTEM; // It is of the first rungs, which was said
    }
  }
  if (sheet_book_save(&work->book, options->out, &fault)) {
    return command_fail(&fault);
  }
  (void)printf("%zu learner%s, %u page%s, written to %s\n",
               people->n_ids,
               people->n_ids == 1 ? "" : "s",
               work->book.n_pages,
               work->book.n_pages == 1 ? "" : "s",
               options->out);
  return ended;
}

static int
print_all(Paperwork* const work, const Options* const options)
{
  PeopleList people;
  Fault      fault;
  if (people_list(&people, &fault)) {
    return command_fail(&fault);
  }
  const int code =
    people.n_ids
      ? print_each(work, &people, options)
      : command_misuse("there is nobody yet; barter learner add ID adds one");
  sheet_book_close(&work->book);
  people_list_free(&people);
  return code;
}

static int
check(const Options* const options)
{
  PaperKind kind = PAPER_PDF;
  Fault     fault;
  if (options->n_operands) {
    return command_misuse("sheet takes no file; --chart says of what");
  }
  if (!options_have(options, OPTION_OUT)) {
    return command_misuse("sheet needs --out FILE.pdf, .svg or .png");
  }
  if (paper_kind(&kind, options->out, &fault)) {
    return command_fail(&fault);
  }
  if (options_have(options, OPTION_ALL) &&
      (kind != PAPER_PDF || options_have(options, OPTION_LEARNER))) {
    return command_misuse("--all is of everybody, and needs --out FILE.pdf");
  }
  return EXIT_DONE;
}

static int
run(const Options* const options)
{
  const int wrong = check(options);
  if (wrong) {
    return wrong;
  }
  Paperwork* const work = calloc(1, sizeof(*work));
  if (!work) {
    return command_fail_memory();
  }
  int code = wish(work, options);
  if (!code) {
    code = options_have(options, OPTION_ALL) ? print_all(work, options)
                                             : print_one(work, options);
  }
  free(work);
  return code;
}

const Command command_sheet = {
  .name     = "sheet",
  .operands = "",
  .summary  = "a page to print: form, chords, scales with fingers, a rhythm",
  .words =
    "Writes what to have before you at the keyboard, for a chart, a key and\n"
    "where the learner stands, with name, date and goals; --all one after the\n"
    "other for everybody. --rhythms N is a page of rhythms to read on the "
    "rung\n"
    "of --rung, others with each --seed. A PDF holds all pages; of an SVG or\n"
    "PNG with more than one, each page is a file of its own: NAME-1.svg,\n"
    "NAME-2.svg.",
  .options = OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |
             OPTION_BIT(OPTION_TEMPO) | OPTION_BIT(OPTION_FEEL) |
             OPTION_BIT(OPTION_BARS) | OPTION_BIT(OPTION_FIRST) |
             OPTION_BIT(OPTION_RUNG) | OPTION_BIT(OPTION_LEARNER) |
             OPTION_BIT(OPTION_OUT) | OPTION_BIT(OPTION_PAPER) |
             OPTION_BIT(OPTION_DATE) | OPTION_BIT(OPTION_ALL) |
             OPTION_BIT(OPTION_RHYTHMS) | OPTION_BIT(OPTION_SEED),
  .run = run,
};
