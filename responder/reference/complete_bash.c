#include "responder/app/commands.h"
#include "responder/reference/complete.h"
#include "responder/reference/offer.h"

static const char head[] =
  "# Completes barter's command line in bash\n"
  "\n"
  "_barter_names()\n"
  "{\n"
  "  case $2 in\n"
  "    charts) \"$1\" charts 2>/dev/null | sed '/^$/,$d' ;;\n"
  "    feels) \"$1\" charts 2>/dev/null | sed -n '/^Feels$/,/^$/p' | sed 1d "
  ";;\n"
  "    learners) \"$1\" learner list 2>/dev/null | sed 1d ;;\n"
  "  esac | cut -d' ' -f1\n"
  "}\n"
  "\n"
  "_barter()\n"
  "{\n"
  "  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD - 1]}\n"
  "  local words= names= paths=\n"
  "  if [ \"$cur\" = = ]; then\n"
  "    cur= # --option=\n"
  "  elif [ \"$prev\" = = ]; then\n"
  "    prev=${COMP_WORDS[COMP_CWORD - 2]}\n"
  "  fi\n";

static const char tail[] =
  "  if [ -n \"$names\" ]; then\n"
  "    words=\"$words $(_barter_names \"$1\" \"$names\")\"\n"
  "  fi\n"
  "  if [ -n \"$paths\" ]; then\n"
  "    compopt -o filenames 2>/dev/null\n"
  "  fi\n"
  "  COMPREPLY=($(compgen -W \"$words\" $paths -- \"$cur\"))\n"
  "}\n"
  "\n"
  "complete -F _barter barter\n";

static void
write_offer(FILE* const stream, const Offer* const offer)
{
  if (offer->words[0]) {
    (void)fprintf(stream, " words='%s'", offer->words);
  }
  if (offer->names[0]) {
    (void)fprintf(stream, " names=%s", offer->names);
  }
  if (offer->files || offer->folders) {
    (void)fprintf(stream, " paths=%s", offer->files ? "-f" : "-d");
  }
  (void)fprintf(stream, " ;;\n");
}

static void
write_options(FILE* const stream, const Command* const command)
{
  (void)fprintf(stream, " words='");
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    if (offer_has_option(command, (Option)i)) {
      (void)fprintf(stream, "--%s ", option_row((Option)i)->name);
    }
  }
  (void)fprintf(stream, "' ;;\n");
}

static void
write_command(FILE* const stream, const Command* const command)
{
  (void)fprintf(stream, "    %s)\n      case $prev in\n", command->name);
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    const Row* const row = option_row((Option)i);
    if (row->value && offer_has_option(command, (Option)i)) {
      const Offer offer = offer_value((Option)i);
      (void)fprintf(stream, "        --%s)", row->name);
      write_offer(stream, &offer);
    }
  }
  const Offer operand = offer_operand(command);
  (void)fprintf(stream, "        *)\n          case $cur in\n            -*)");
  write_options(stream, command);
  (void)fprintf(stream, "            *)");
  if (command->operands[0]) {
    write_offer(stream, &operand);
  } else {
    write_options(stream, command);
  }
  (void)fprintf(stream, "          esac\n          ;;\n      esac\n      ;;\n");
}

void
complete_bash(FILE* const stream)
{
  (void)fputs(head, stream);
  (void)fprintf(stream,
                "  case $COMP_CWORD,${COMP_WORDS[1]} in\n    1,*) words='");
  for (unsigned i = 0; i < N_COMMANDS; ++i) {
    (void)fprintf(stream, "%s ", commands[i]->name);
  }
  (void)fprintf(stream, "--help --version' ;;\n  esac\n");
  (void)fprintf(stream,
                "  [ \"$COMP_CWORD\" -eq 1 ] || case ${COMP_WORDS[1]} in\n");
  for (unsigned i = 0; i < N_COMMANDS; ++i) {
    write_command(stream, commands[i]);
  }
  (void)fprintf(stream, "  esac\n");
  (void)fputs(tail, stream);
}
