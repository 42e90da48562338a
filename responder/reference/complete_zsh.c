#include "responder/app/commands.h"
#include "responder/reference/complete.h"
#include "responder/reference/offer.h"

#include <string.h>

static const char head[] =
  "#compdef barter\n"
  "# Completes barter's command line in zsh\n"
  "\n"
  "_barter_names()\n"
  "{\n"
  "  case $1 in\n"
  "    charts) barter charts 2>/dev/null | sed '/^$/,$d' ;;\n"
  "    feels) barter charts 2>/dev/null | sed -n '/^Feels$/,/^$/p' | sed 1d "
  ";;\n"
  "    learners) barter learner list 2>/dev/null | sed 1d ;;\n"
  "  esac | cut -d' ' -f1\n"
  "}\n"
  "\n"
  "# Words to offer, @names of a kind, -f for files and -/ for folders\n"
  "_barter_offer()\n"
  "{\n"
  "  local word paths ended=1\n"
  "  local -a all\n"
  "  for word; do\n"
  "    case $word in\n"
  "      -*) paths=$word ;;\n"
  "      @*) all+=(${(f)\"$(_barter_names ${word#@})\"}) ;;\n"
  "      *) all+=($word) ;;\n"
  "    esac\n"
  "  done\n"
  "  (( $#all )) && compadd -a all && ended=0\n"
  "  [[ -n $paths ]] && _files $paths && ended=0\n"
  "  return ended\n"
  "}\n"
  "\n"
  "_barter()\n"
  "{\n"
  "  local state line context ended=1\n"
  "  typeset -A opt_args\n"
  "  _arguments -C '(- *)--help[list the commands]' \\\n"
  "    '(- *)--version[show the version]' \\\n"
  "    '1:command:->command' '*::word:->word' && ended=0\n"
  "  case $state in\n"
  "    command)\n"
  "      local -a known=(\n";

static const char middle[] = "      )\n"
                             "      _describe command known && ended=0\n"
                             "      ;;\n"
                             "    word)\n"
                             "      case $words[1] in\n";

static const char tail[] = "      esac\n"
                           "      ;;\n"
                           "  esac\n"
                           "  return ended\n"
                           "}\n"
                           "\n"
                           "_barter \"$@\"\n";

// Words between quotes and brackets, or where a colon ends them
static void
write_plain(FILE* const stream, const char* at)
{
  for (; *at; ++at) {
    if (*at == '\'') {
      (void)fputs("'\\''", stream);
    } else {
      (void)fprintf(stream, strchr(":[]", *at) ? "\\%c" : "%c", *at);
    }
  }
}

static void
write_offer(FILE* const stream, const Offer* const offer)
{
  (void)fprintf(stream, " _barter_offer");
  if (offer->words[0]) {
    (void)fprintf(stream, " %s", offer->words);
  }
  if (offer->names[0]) {
    (void)fprintf(stream, " @%s", offer->names);
  }
  if (offer->files || offer->folders) {
    (void)fprintf(stream, offer->files ? " -f" : " -/");
  }
}

static void
write_option(FILE* const stream, const Option option)
{
  const Row* const row   = option_row(option);
  const Offer      offer = offer_value(option);
  (void)fprintf(
    stream, "            '--%s%s[", row->name, row->value ? "=" : "");
  write_plain(stream, row->help);
  (void)fputc(']', stream);
  if (row->value) {
    (void)fputc(':', stream);
    write_plain(stream, row->value);
    (void)fputc(':', stream);
    write_offer(stream, &offer);
  }
  (void)fputs("' \\\n", stream);
}

static void
write_command(FILE* const stream, const Command* const command)
{
  (void)fprintf(
    stream, "        %s)\n          _arguments \\\n", command->name);
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    if (offer_has_option(command, (Option)i)) {
      write_option(stream, (Option)i);
    }
  }
  if (command->operands[0]) {
    const Offer operand = offer_operand(command);
    (void)fputs("            '*:", stream);
    write_plain(stream, command->operands);
    (void)fputc(':', stream);
    write_offer(stream, &operand);
    (void)fputs("' \\\n", stream);
  }
  (void)fputs("            && ended=0\n          ;;\n", stream);
}

void
complete_zsh(FILE* const stream)
{
  (void)fputs(head, stream);
  for (unsigned i = 0; i < N_COMMANDS; ++i) {
    (void)fprintf(stream, "        '%s:", commands[i]->name);
    write_plain(stream, commands[i]->summary);
    (void)fputs("'\n", stream);
  }
  (void)fputs(middle, stream);
  for (unsigned i = 0; i < N_COMMANDS; ++i) {
    write_command(stream, commands[i]);
  }
  (void)fputs(tail, stream);
}
