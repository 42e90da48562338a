#include "responder/reference/manual.h"

#include "profiles/choices/choices.h"
#include "responder/app/commands.h"
#include "responder/reference/offer.h"

#include <ctype.h>
#include <stdbool.h>
#include <string.h>

enum { LINE_CAPACITY = 512 };

// Words as they are to be read: no macro, no escape; `begins` where a line does
static void
write_words(FILE* const stream, const char* const words, const size_t length)
{
  for (size_t i = 0; i < length; ++i) {
    if (i == 0 && strchr(".'", words[i])) {
      (void)fputs("\\&", stream);
    }
    if (words[i] == '\\') {
      (void)fputs("\\e", stream);
    } else if (words[i] == '-' && (i == 0 || strchr(" -|", words[i - 1]))) {
      (void)fputs("\\-", stream); // Of an option, not of a word
    } else if (words[i] == '~') {
      (void)fputs("\\(ti", stream);
    } else {
      (void)fputc(words[i], stream);
    }
  }
}

static void
write_text(FILE* const stream, const char* const words)
{
  write_words(stream, words, strlen(words));
}

// A sentence begins a line, as mdoc wants it
static void
write_line(FILE* const stream, const char* line, size_t length)
{
  for (size_t i = 1; i + 1 < length; ++i) {
    if (line[i] == ' ' && strchr(".;:", line[i - 1]) && line[i - 1] != ';') {
      write_words(stream, line, i);
      (void)fputc('\n', stream);
      line += i + 1;
      length -= i + 1;
      i = 0;
    }
  }
  write_words(stream, line, length);
  (void)fputc('\n', stream);
}

// Lines that are set in are shown as they stand, the others run on
static void
write_description(FILE* const stream, const char* at)
{
  bool is_shown = false;
  while (*at) {
    const size_t length = strcspn(at, "\n");
    const bool   shows  = *at == ' ';
    if (shows && !is_shown) {
      (void)fputs(".Bd -literal\n", stream);
    } else if (!shows && is_shown) {
      (void)fputs(".Ed\n", stream);
    }
    if (shows) {
      write_words(stream, at, length);
      (void)fputc('\n', stream);
    } else if (length) {
      write_line(stream, at, length);
    } else if (!is_shown && at[1] != ' ') {
      (void)fputs(".Pp\n", stream);
    }
    is_shown = shows;
    at += length + (at[length] == '\n');
  }
  if (is_shown) {
    (void)fputs(".Ed\n", stream);
  }
}

static void
write_head(FILE* const                stream,
           const ManualEdition* const edition,
           const char* const          name)
{
  (void)fprintf(stream,
                ".\\\" Written while building, from the tables of the program\n"
                ".Dd %s\n.Dt ",
                edition->date);
  for (const char* at = name; *at; ++at) {
    (void)fputc(toupper((unsigned char)*at), stream);
  }
  (void)fprintf(stream, " 1\n.Os Barter %s\n", edition->version);
}

static void
write_option_word(FILE* const stream, const Row* const row)
{
  (void)fprintf(stream, "Fl -%s", row->name);
  if (row->value) {
    (void)fprintf(stream, " Ar %s", row->value);
  }
  (void)fputc('\n', stream);
}

// `TAKE.mid`, `[TAKE.mid]`, `FILE...`, `add|list ...`
static void
write_operands(FILE* const stream, const char* const operands)
{
  const size_t length = strlen(operands);
  if (operands[0] == '[') {
    (void)fprintf(stream, ".Op Ar %.*s\n", (int)length - 2, operands + 1);
  } else if (islower((unsigned char)operands[0])) {
    const size_t word = strcspn(operands, " ");
    (void)fprintf(stream, ".Cm %.*s\n.Ar ...\n", (int)word, operands);
  } else if (length > 3 && strcmp(operands + length - 3, "...") == 0) {
    (void)fprintf(stream, ".Ar %.*s ...\n", (int)length - 3, operands);
  } else if (length) {
    (void)fprintf(stream, ".Ar %s\n", operands);
  }
}

static void
write_synopsis(FILE* const stream, const Command* const command)
{
  (void)fprintf(stream, ".Sh SYNOPSIS\n.Nm barter Cm %s\n", command->name);
  write_operands(stream, command->operands);
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    if (offer_has_option(command, (Option)i)) {
      (void)fputs(".Op ", stream);
      write_option_word(stream, option_row((Option)i));
    }
  }
}

static void
write_options(FILE* const stream, const Command* const command)
{
  (void)fputs(".Sh OPTIONS\n.Bl -tag -width Ds\n", stream);
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    if (offer_has_option(command, (Option)i)) {
      const Row* const row = option_row((Option)i);
      (void)fputs(".It ", stream);
      write_option_word(stream, row);
      write_text(stream, row->help);
      (void)fputc('\n', stream);
    }
  }
  (void)fputs(".El\n", stream);
}

void
manual_command(FILE* const                stream,
               const ManualEdition* const edition,
               const Command* const       command)
{
  char name[64];
  (void)snprintf(name, sizeof(name), "barter-%s", command->name);
  write_head(stream, edition, name);
  (void)fprintf(stream, ".Sh NAME\n.Nm %s\n.Nd ", name);
  write_text(stream, command->summary);
  (void)fputc('\n', stream);
  write_synopsis(stream, command);
  (void)fputs(".Sh DESCRIPTION\n", stream);
  write_description(stream, command->words);
  write_options(stream, command);
  (void)fputs(".Sh EXIT STATUS\n"
              "0 if it is done, 1 if the result says no, 2 for wrong use or\n"
              "bad input, 3 if a device or the system failed.\n"
              ".Sh SEE ALSO\n"
              ".Xr barter 1\n",
              stream);
}

static void
write_commands(FILE* const stream)
{
  (void)fputs(".Bl -tag -width calibrate\n", stream);
  for (unsigned i = 0; i < N_COMMANDS; ++i) {
    (void)fprintf(stream, ".It Cm %s\n", commands[i]->name);
    write_text(stream, commands[i]->summary);
    (void)fprintf(stream, ":\n.Xr barter-%s 1\n", commands[i]->name);
  }
  (void)fputs(".El\n", stream);
}

// Who may say a choice, in the order of who wins
static void
write_places(FILE* const stream, const ChoiceRow* const row)
{
  bool is_first = true;
  (void)fputs(";\nsaid by", stream);
  for (unsigned i = CHOICE_BY_CHART; i <= CHOICE_BY_ASKING; ++i) {
    if (row->places & CHOICE_PLACE_BIT(i)) {
      (void)fprintf(stream,
                    "%s %s",
                    is_first ? "" : ",",
                    i == CHOICE_BY_ASKING ? "option"
                    : i == CHOICE_BY_TAKE ? "take"
                    : i == CHOICE_BY_JOURNAL
                      ? "journal"
                      : choice_place_name((ChoicePlace)i));
      is_first = false;
    }
  }
  (void)fputc('\n', stream);
}

static void
write_choices(FILE* const stream)
{
  (void)fputs(".Bl -tag -width Ds\n", stream);
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    const ChoiceRow* const row = choice_row((Choice)i);
    (void)fprintf(stream, ".It Ic %s\n", row->row.name);
    write_text(stream, row->row.help);
    write_places(stream, row);
  }
  (void)fputs(".El\n", stream);
}

bool
manual_program(FILE* const                stream,
               const ManualEdition* const edition,
               FILE* const                text)
{
  char line[LINE_CAPACITY];
  write_head(stream, edition, "barter");
  while (fgets(line, sizeof(line), text)) {
    if (strcmp(line, "@commands\n") == 0) {
      write_commands(stream);
    } else if (strcmp(line, "@choices\n") == 0) {
      write_choices(stream);
    } else {
      (void)fputs(line, stream);
    }
  }
  return !ferror(text);
}
