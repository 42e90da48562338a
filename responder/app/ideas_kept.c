#include "responder/app/ideas_kept.h"

#include "responder/app/begin.h"
#include "responder/app/command.h"
#include "responder/app/outputs.h"
#include "responder/lesson/kept.h"
#include "responder/tell/ideas_tell.h"

#include <stdlib.h>
#include <string.h>

static bool
is_word(const Options* const options, const char* const word)
{
  return options->n_operands && strcmp(options->operands[0], word) == 0;
}

bool
ideas_kept_is_change(const Options* const options)
{
  return !options_have(options, OPTION_KEPT) &&
         (is_word(options, "rename") || is_word(options, "remove"));
}

int
ideas_kept_open(IdeasKept* const kept, const Options* const options)
{
  const OptionSet notebook = OPTION_BIT(OPTION_KEEP) | OPTION_BIT(OPTION_KEPT);
  const bool      may_miss =
    !(options->given & notebook) && !ideas_kept_is_change(options);
  Fault fault;
  kept->options  = options;
  const int code = begin_who(&kept->who, options);
  if (code || (kept->who.has_bad_journal && may_miss)) {
    return code;
  }
  return command_end(kept_load(&kept->ideas, &kept->who, &fault), &fault);
}

size_t
ideas_kept_number(const IdeasKept* const kept, const char* const word)
{
  const size_t n_ideas = kept->ideas.n_ideas;
  char*        end     = NULL;
  const long   n       = strtol(word, &end, 10);
  if (end == word || *end || n < 1 || (size_t)n > n_ideas) {
    (void)command_misuse("there is no idea %.40s: the notebook of %s holds "
                         "%zu idea%s; barter ideas --kept lists them",
                         word,
                         kept->who.learner.name,
                         n_ideas,
                         n_ideas == 1 ? "" : "s");
    return 0;
  }
  return (size_t)n;
}

Choices
ideas_kept_choose(const IdeasKept* const kept, const size_t number)
{
  const Options* const options = kept->options;
  Choices              choices = begin_choose(&kept->who, options);
  if (!options_have(options, OPTION_CHART)) {
    kept_own(&choices, &kept->ideas.ideas[number - 1]);
    choices_lay(&choices, &options->asked, CHOICE_BY_ASKING);
  }
  return choices;
}

// One whose chart is not here any more is listed without its notes
static void
list_one(const IdeasKept* const kept,
         Desk* const            desk,
         const OpeningSpan      span,
         const size_t           number)
{
  const JournalIdea* const idea    = &kept->ideas.ideas[number - 1];
  const Choices            choices = ideas_kept_choose(kept, number);
  Faults                   faults  = {.n_faults = 0};
  const bool is_laid = !setup_load(&desk->setup, &choices, &faults) &&
                       desk_lay_kept(desk, idea, span);
  ideas_tell_kept(outputs_stream(kept->options),
                  is_laid ? desk : NULL,
                  idea,
                  number,
                  options_have(kept->options, OPTION_DRAW));
  if (faults.n_faults) {
    (void)command_fail_all(&faults);
  }
}

int
ideas_kept_list(const IdeasKept* const kept,
                Desk* const            desk,
                const OpeningSpan      span)
{
  FILE* const       stream = outputs_stream(kept->options);
  const char* const name   = kept->who.learner.name;
  if (!kept->ideas.n_ideas) {
    (void)fprintf(stream,
                  "The notebook of %s is empty; barter ideas --keep N puts one "
                  "in\n",
                  name);
    return EXIT_DONE;
  }
  ideas_tell_notebook(stream, name, options_have(kept->options, OPTION_DRAW));
  for (size_t i = 1; i <= kept->ideas.n_ideas; ++i) {
    list_one(kept, desk, span, i);
  }
  return EXIT_DONE;
}

static int
rename_one(const IdeasKept* const kept, const size_t number)
{
  const char* const name = kept->options->operands[2];
  Fault             fault;
  if (kept_rename(&kept->who, kept->ideas.ideas[number - 1].id, name, &fault)) {
    return command_fail(&fault);
  }
  (void)printf(*name ? "Idea %zu of %s is now called %s.\n"
                     : "Idea %zu of %s has no name any more.\n",
               number,
               kept->who.learner.name,
               name);
  return EXIT_DONE;
}

static int
remove_one(const IdeasKept* const kept, const size_t number)
{
  Fault fault;
  if (kept_remove(&kept->who, kept->ideas.ideas[number - 1].id, &fault)) {
    return command_fail(&fault);
  }
  (void)printf("Idea %zu is out of the notebook of %s; those after it move up "
               "by one.\n",
               number,
               kept->who.learner.name);
  return EXIT_DONE;
}

int
ideas_kept_change(const IdeasKept* const kept)
{
  const Options* const options = kept->options;
  const bool           renames = is_word(options, "rename");
  if (options->n_operands != (renames ? 3U : 2U) ||
      (options->given & ~OPTION_BIT(OPTION_LEARNER))) {
    return command_misuse(renames ? "write barter ideas rename N NAME"
                                  : "write barter ideas remove N");
  }
  const size_t number = ideas_kept_number(kept, options->operands[1]);
  return !number   ? EXIT_USE
         : renames ? rename_one(kept, number)
                   : remove_one(kept, number);
}
