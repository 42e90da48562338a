#include "responder/app/commands.h"
#include "responder/reference/complete.h"
#include "responder/reference/offer.h"

#include <string.h>

static const char head[] =
  "# Completes barter's command line in fish\n"
  "\n"
  "function __barter_names\n"
  "    switch $argv[1]\n"
  "        case charts\n"
  "            barter charts 2>/dev/null | sed '/^$/,$d'\n"
  "        case feels\n"
  "            barter charts 2>/dev/null | sed -n '/^Feels$/,/^$/p' | sed 1d\n"
  "        case learners\n"
  "            barter learner list 2>/dev/null | sed 1d\n"
  "    end | string replace -r ' .*' ''\n"
  "end\n"
  "\n"
  "complete -c barter -f\n"
  "complete -c barter -n __fish_use_subcommand -l help -d 'list the commands'\n"
  "complete -c barter -n __fish_use_subcommand -l version -d 'show the "
  "version'\n";

// Words between quotes
static void
write_plain(FILE* const stream, const char* at)
{
  for (; *at; ++at) {
    (void)fprintf(stream, strchr("'\\", *at) ? "\\%c" : "%c", *at);
  }
}

// What follows `complete -a`, and -F where paths may be, too
static void
write_offer(FILE* const stream, const Offer* const offer)
{
  if (offer->files || offer->folders) {
    (void)fputs(" -F", stream);
  }
  if (offer->words[0] || offer->names[0]) {
    (void)fprintf(stream, " -a '%s", offer->words);
    if (offer->names[0]) {
      (void)fprintf(stream, " (__barter_names %s)", offer->names);
    }
    (void)fputc('\'', stream);
  }
}

static void
write_begin(FILE* const stream, const Command* const command)
{
  (void)fprintf(stream,
                "complete -c barter -n '__fish_seen_subcommand_from %s'",
                command->name);
}

static void
write_option(FILE* const          stream,
             const Command* const command,
             const Option         option)
{
  const Row* const row   = option_row(option);
  const Offer      offer = offer_value(option);
  write_begin(stream, command);
  (void)fprintf(stream, " -l %s", row->name);
  if (row->value) {
    (void)fputs(offer.files || offer.folders ? " -r" : " -x", stream);
    write_offer(stream, &offer);
  }
  (void)fputs(" -d '", stream);
  write_plain(stream, row->help);
  (void)fputs("'\n", stream);
}

static void
write_command(FILE* const stream, const Command* const command)
{
  (void)fprintf(stream,
                "\ncomplete -c barter -n __fish_use_subcommand -a %s -d '",
                command->name);
  write_plain(stream, command->summary);
  (void)fputs("'\n", stream);
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    if (offer_has_option(command, (Option)i)) {
      write_option(stream, command, (Option)i);
    }
  }
  if (command->operands[0]) {
    const Offer operand = offer_operand(command);
    write_begin(stream, command);
    write_offer(stream, &operand);
    (void)fputc('\n', stream);
  }
}

void
complete_fish(FILE* const stream)
{
  (void)fputs(head, stream);
  for (unsigned i = 0; i < N_COMMANDS; ++i) {
    write_command(stream, commands[i]);
  }
}
