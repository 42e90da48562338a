#include "responder/app/options.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <stdlib.h>
#include <string.h>

enum { MOST_WORDS = 96, TEXT_CAPACITY = 1024 };

#define ALL_OPTIONS (OPTION_BIT(N_OPTIONS) - 1U)

// What a name is worth, and whether a value follows it
typedef struct {
  char name[16];
  bool takes_value;
} Name;

static const Name option_names[N_OPTIONS] = {
  [OPTION_CHART]         = {"chart", true},
  [OPTION_KEY]           = {"key", true},
  [OPTION_TEMPO]         = {"tempo", true},
  [OPTION_FEEL]          = {"feel", true},
  [OPTION_BARS]          = {"bars", true},
  [OPTION_CHORUSES]      = {"choruses", true},
  [OPTION_FIRST]         = {"first", true},
  [OPTION_RUNG]          = {"rung", true},
  [OPTION_SEED]          = {"seed", true},
  [OPTION_TRACK]         = {"track", true},
  [OPTION_LEAD_IN]       = {"lead-in", true},
  [OPTION_MAKE_ROOM]     = {"make-room", false},
  [OPTION_WAY]           = {"way", true},
  [OPTION_OUT]           = {"out", true},
  [OPTION_WAV]           = {"wav", true},
  [OPTION_SOUNDFONT]     = {"soundfont", true},
  [OPTION_REPORT]        = {"report", true},
  [OPTION_REPLAY]        = {"replay", true},
  [OPTION_LEARNER]       = {"learner", true},
  [OPTION_PRACTICE]      = {"practice", false},
  [OPTION_NAME]          = {"name", true},
  [OPTION_AS]            = {"as", true},
  [OPTION_CSV]           = {"csv", false},
  [OPTION_PICTURE]       = {"picture", true},
  [OPTION_LIVE]          = {"live", false},
  [OPTION_MINUTES]       = {"minutes", true},
  [OPTION_DATE]          = {"date", true},
  [OPTION_IN]            = {"in", true},
  [OPTION_VIRTUAL]       = {"virtual", false},
  [OPTION_MIDI]          = {"midi", true},
  [OPTION_THRU]          = {"thru", false},
  [OPTION_CLICK]         = {"click", false},
  [OPTION_SYNC]          = {"sync", false},
  [OPTION_RECORD]        = {"record", true},
  [OPTION_CONTROL]       = {"control", true},
  [OPTION_LEARN_CONTROL] = {"learn-control", false},
  [OPTION_MUSICXML]      = {"musicxml", true},
  [OPTION_SCORE]         = {"score", true},
  [OPTION_PAPER]         = {"paper", true},
  [OPTION_SPAN]          = {"bars", true},
  [OPTION_COUNT]         = {"count", true},
  [OPTION_KEEP]          = {"keep", true},
  [OPTION_KEPT]          = {"kept", false},
  [OPTION_DRAW]          = {"draw", false},
  [OPTION_PORT]          = {"port", true},
  [OPTION_NO_BROWSER]    = {"no-browser", false},
  [OPTION_ALL]           = {"all", false},
  [OPTION_RHYTHMS]       = {"rhythms", true},
  [OPTION_MERGE]         = {"merge", false},
  [OPTION_FOR_GOOD]      = {"for-good", false},
  [OPTION_SORT]          = {"sort", true},
  [OPTION_LOOK]          = {"look", false},
  [OPTION_HELP]          = {"help", false},
};

static Options options;
static Fault   fault;
static char    text[TEXT_CAPACITY];
static char*   words[MOST_WORDS];

// Read a line as a shell would give it, without quotes
static Status
parse(const OptionSet allowed, const char* const line)
{
  int n      = 0;
  words[n++] = (char[]){"answer"};
  (void)snprintf(text, sizeof(text), "%s", line);
  for (char* word = strtok(text, " "); word; word = strtok(NULL, " ")) {
    cr_assert_lt(n, MOST_WORDS - 1);
    words[n++] = word;
  }
  words[n] = NULL;
  return options_parse(&options, allowed, n, words, &fault);
}

Test(options, reads_every_one_of_a_file)
{
  cr_assert_eq(
    parse(ALL_OPTIONS,
          "take.mid --chart blues --key Eb --tempo 92.5 --feel swing --bars 2 "
          "--choruses 3 --first partner --rung notes=3 --seed 7 --track 2 "
          "--lead-in 4 --make-room --out a.mid --wav a.wav --soundfont f.sf2 "
          "--report - --replay r.mid --help more.mid"),
    STATUS_OK,
    "%s",
    fault.text);
  cr_assert_str_eq(options.asked.values.chart, "blues");
  cr_assert_str_eq(options.asked.values.key, "Eb");
  cr_assert_float_eq(options.asked.values.tempo_bpm, 92.5, 1e-12);
  cr_assert_str_eq(options.asked.values.feel, "swing");
  cr_assert_eq(options.asked.values.bars, 2);
  cr_assert_eq(options.asked.values.choruses, 3);
  cr_assert(options.asked.values.partner_begins);
  cr_assert_eq(options.asked.values.rung.level[DIMENSION_NOTES], 3);
  cr_assert_eq(options.asked.values.seed, 7);
  cr_assert_str_eq(options.track, "2");
  cr_assert_float_eq(options.lead_in_beats, 4.0, 1e-12);
  cr_assert_str_eq(options.out, "a.mid");
  cr_assert_str_eq(options.wav, "a.wav");
  cr_assert_str_eq(options.soundfont, "f.sf2");
  cr_assert_str_eq(options.report, "-");
  cr_assert_str_eq(options.replay, "r.mid");
  cr_assert_eq(options.n_operands, 2);
  cr_assert_str_eq(options.operands[0], "take.mid");
  cr_assert_str_eq(options.operands[1], "more.mid");
}

// Flags stand between values: none of them touches another's
Test(options, reads_every_one_of_people_and_ports)
{
  cr_assert_eq(
    parse(ALL_OPTIONS,
          "--learner ana --in keys --practice --out synth --csv --midi jack "
          "--virtual --record none --thru --control cc64 --click --name Ana "
          "--sync --as anna --learn-control --picture way.svg "
          "--minutes 12.5 --date 2026-03-02"),
    STATUS_OK,
    "%s",
    fault.text);
  cr_assert_str_eq(options.learner, "ana");
  cr_assert_str_eq(options.in, "keys");
  cr_assert_str_eq(options.out, "synth");
  cr_assert_str_eq(options.midi, "jack");
  cr_assert_str_eq(options.record, "none");
  cr_assert_str_eq(options.asked.values.control, "cc64");
  cr_assert_str_eq(options.name, "Ana");
  cr_assert_str_eq(options.as, "anna");
  cr_assert_str_eq(options.picture, "way.svg");
  cr_assert_float_eq(options.minutes, 12.5, 1e-9);
  cr_assert_str_eq(options.date, "2026-03-02");
}

// A value that any option takes
static const char*
value_of(const Option option)
{
  if (!option_names[option].takes_value) {
    return "";
  }
  return option == OPTION_FIRST     ? " player"
         : option == OPTION_TEMPO   ? " 90"
         : option == OPTION_MINUTES ? " 10"
         : option == OPTION_PAPER   ? " a4"
         : option == OPTION_SORT    ? " last"
         : option == OPTION_PORT    ? " 8080"
         : option == OPTION_WAY     ? " few-notes"
                                    : " 1";
}

/// The bars of a turn and those of a take go by one name, and no command has
/// both.
static OptionSet
set_with(const unsigned option)
{
  const Option other = option == OPTION_SPAN ? OPTION_BARS : OPTION_SPAN;
  return ALL_OPTIONS & ~OPTION_BIT(other);
}

Test(options, knows_which_were_given)
{
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    char line[TEXT_CAPACITY];
    (void)snprintf(
      line, sizeof(line), "--%s%s", option_names[i].name, value_of(i));
    cr_assert_eq(parse(set_with(i), line), STATUS_OK, "%s", fault.text);
    for (unsigned j = 0; j < N_OPTIONS; ++j) {
      cr_assert_eq(options_have(&options, j), i == j, "%s", line);
    }
  }
}

Test(options, takes_the_last_of_two)
{
  cr_assert_eq(parse(ALL_OPTIONS, "--tempo 90 --tempo=120"), STATUS_OK);
  cr_assert_float_eq(options.asked.values.tempo_bpm, 120.0, 1e-12);
}

// POSIX.1-2017, utility syntax guideline 10: after -- all are operands
Test(options, ends_at_two_dashes)
{
  cr_assert_eq(parse(ALL_OPTIONS, "--seed 2 -- --tempo - x"), STATUS_OK);
  cr_assert_eq(options.given, OPTION_BIT(OPTION_SEED));
  cr_assert_eq(options.n_operands, 3);
  cr_assert_str_eq(options.operands[0], "--tempo");
  cr_assert_str_eq(options.operands[1], "-");
}

Test(options, asks_for_a_value_that_is_missing)
{
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    char line[TEXT_CAPACITY];
    char says[TEXT_CAPACITY];
    (void)snprintf(line, sizeof(line), "take.mid --%s", option_names[i].name);
    (void)snprintf(
      says, sizeof(says), "--%s needs a value: ", option_names[i].name);
    if (option_names[i].takes_value) {
      cr_assert_eq(parse(ALL_OPTIONS, line), STATUS_SYNTAX);
      cr_assert_not_null(strstr(fault.text, says), "%s", fault.text);
    } else {
      cr_assert_eq(parse(ALL_OPTIONS, line), STATUS_OK);
    }
  }
}

Test(options, refuses_those_of_other_commands)
{
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    char line[TEXT_CAPACITY];
    char says[TEXT_CAPACITY];
    (void)snprintf(line, sizeof(line), "--%s", option_names[i].name);
    (void)snprintf(
      says, sizeof(says), "there is no option --%s here", option_names[i].name);
    cr_assert_eq(
      parse(OPTION_BIT(OPTION_LEAD_IN + (i == OPTION_LEAD_IN)), line),
      STATUS_SYNTAX);
    cr_assert_not_null(strstr(fault.text, says), "%s", fault.text);
  }
}

typedef struct {
  char   line[64];
  char   says[96];
  Status status;
} FaultRow;

ParameterizedTestParameters(options, fault)
{
  static FaultRow rows[] = {
    {"--temo 90",
     "there is no option --temo here; did you mean --tempo",
     STATUS_SYNTAX},
    {"--temo=90",
     "no option --temo=90 here; did you mean --tempo",
     STATUS_SYNTAX},
    {"--fist player", "did you mean --first", STATUS_SYNTAX},
    {"--make-rome", "did you mean --make-room", STATUS_SYNTAX},
    {"--quite-other", "there is no option --quite-other here", STATUS_SYNTAX},
    {"-t 90", "there is no option -t here", STATUS_SYNTAX},
    {"-xyz", "there is no option -xyz here", STATUS_SYNTAX},
    {"a b --sed 3 c", "did you mean --seed", STATUS_SYNTAX},
    {"--make-room=yes", "--make-room takes no value", STATUS_SYNTAX},
    {"--tempo fast",
     "--tempo fast is not a number from 30 to 320",
     STATUS_RANGE},
    {"--tempo 29.99", "not a number from 30 to 320", STATUS_RANGE},
    {"--tempo 320.01", "not a number from 30 to 320", STATUS_RANGE},
    {"--tempo nan", "not a number from 30 to 320", STATUS_RANGE},
    {"--tempo inf", "not a number from 30 to 320", STATUS_RANGE},
    {"--tempo 1e999", "not a number from 30 to 320", STATUS_RANGE},
    {"--tempo 90bpm", "not a number from 30 to 320", STATUS_RANGE},
    {"--tempo=", "not a number from 30 to 320", STATUS_RANGE},
    {"--tempo -90", "not a number from 30 to 320", STATUS_RANGE},
    {"--bars 3", "--bars 3 is not 1, 2 or 4", STATUS_RANGE},
    {"--bars 8", "is not 1, 2 or 4", STATUS_RANGE},
    {"--bars 4.0", "is not 1, 2 or 4", STATUS_RANGE},
    {"--bars=", "is not 1, 2 or 4", STATUS_RANGE},
    {"--choruses 0", "--choruses 0 is not a number from 1 to 99", STATUS_RANGE},
    {"--choruses 100", "is not a number from 1 to 99", STATUS_RANGE},
    {"--choruses 2.5", "is not a whole number from 1 to 99", STATUS_RANGE},
    {"--first me", "--first me is neither player nor partner", STATUS_SYNTAX},
    {"--first both", "is neither player nor partner", STATUS_SYNTAX},
    {"--rung 9", "--rung 9 is not understood; write 1 to 8", STATUS_RANGE},
    {"--rung notes=", "is not understood; write 1 to 8", STATUS_RANGE},
    {"--key Ebbbbbbbbbbbbbbbb", "--key is too long", STATUS_RANGE},
    {"--seed -1", "--seed -1 is not a whole number from 0 to", STATUS_RANGE},
    {"--seed +1", "is not a whole number", STATUS_RANGE},
    {"--seed 1.5", "is not a whole number", STATUS_RANGE},
    {"--seed 9223372036854775808",
     "from 0 to 9223372036854775807",
     STATUS_RANGE},
    {"--seed 99999999999999999999", "is not a whole number", STATUS_RANGE},
    {"--seed=", "is not a whole number", STATUS_RANGE},
    {"--lead-in -1", "--lead-in -1 is not a number from 0 to 64", STATUS_RANGE},
    {"--lead-in 65", "is not a number from 0 to 64", STATUS_RANGE},
  };
  return cr_make_param_array(FaultRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(FaultRow* row, options, fault)
{
  cr_assert_eq(parse(ALL_OPTIONS, row->line), row->status, "%s", row->line);
  cr_assert_eq(fault.status, row->status);
  cr_assert_not_null(
    strstr(fault.text, row->says), "%s gave: %s", row->line, fault.text);
}

Test(options, takes_both_ends_of_every_range)
{
  cr_assert_eq(parse(ALL_OPTIONS,
                     "--tempo 30 --choruses 1 --seed 0 --lead-in 0 --bars 1 "
                     "--first player"),
               STATUS_OK);
  cr_assert_float_eq(options.asked.values.tempo_bpm, 30.0, 1e-12);
  cr_assert_not(options.asked.values.partner_begins);
  cr_assert_eq(parse(ALL_OPTIONS,
                     "--tempo 320 --choruses 99 --bars 4 --lead-in 64 "
                     "--seed 9223372036854775807"),
               STATUS_OK);
  cr_assert_eq(options.asked.values.choruses, 99);
  cr_assert_eq(options.asked.values.bars, 4);
  cr_assert_eq(options.asked.values.seed, INT64_MAX);
}

static unsigned
lines_of_help(const OptionSet set, char* const help, const size_t size)
{
  FILE* const stream = fmemopen(help, size, "w");
  options_help(set, stream);
  (void)fclose(stream);
  unsigned n = 0;
  for (const char* at = help; *at; ++at) {
    n += *at == '\n';
  }
  return n;
}

Test(options, h_is_help)
{
  cr_assert_eq(parse(ALL_OPTIONS, "-h"), STATUS_OK);
  cr_assert(options_have(&options, OPTION_HELP));
  cr_assert_eq(parse(ALL_OPTIONS, "-x"), STATUS_SYNTAX);
}

Test(options, helps_with_a_line_for_each)
{
  static char help[8192];
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    char name[TEXT_CAPACITY];
    memset(help, 0, sizeof(help));
    (void)snprintf(name, sizeof(name), "  --%s ", option_names[i].name);
    cr_assert_eq(lines_of_help(OPTION_BIT(i), help, sizeof(help)), 1);
    cr_assert_eq(strncmp(help, name, strlen(name)), 0, "%s", help);
    cr_assert_leq(strlen(help), 80, "%s", help);
  }
  cr_assert_eq(lines_of_help(ALL_OPTIONS, help, sizeof(help)), N_OPTIONS);
}

// Every choice that may be asked for has its word, and no other choice
Test(options, know_the_choices_that_may_be_asked_for)
{
  static char help[8192];
  memset(help, 0, sizeof(help));
  (void)lines_of_help(ALL_OPTIONS, help, sizeof(help));
  for (unsigned i = 0; i < N_CHOICES; ++i) {
    const ChoiceRow* const row = choice_row(i);
    const bool is_asked = row->places & CHOICE_PLACE_BIT(CHOICE_BY_ASKING);
    char       name[TEXT_CAPACITY];
    (void)snprintf(name, sizeof(name), "  --%s ", row->row.name);
    cr_assert_eq(strstr(help, name) != NULL, is_asked, "%s", name);
  }
}

typedef struct {
  char     line[32];
  Status   status;
  unsigned first;
  unsigned last;
} SpanRow;

ParameterizedTestParameters(options, span)
{
  static SpanRow rows[] = {
    {"--bars 5-6", STATUS_OK, 5, 6},
    {"--bars 5", STATUS_OK, 5, 5},
    {"--bars 1-1", STATUS_OK, 1, 1},
    {"--bars 9999-9999", STATUS_OK, 9999, 9999},
    {"--bars 9-8", STATUS_RANGE, 0, 0},
    {"--bars 0-2", STATUS_RANGE, 0, 0},
    {"--bars 0", STATUS_RANGE, 0, 0},
    {"--bars -2", STATUS_RANGE, 0, 0},
    {"--bars 5-", STATUS_RANGE, 0, 0},
    {"--bars 5-6x", STATUS_RANGE, 0, 0},
    {"--bars 5-6-7", STATUS_RANGE, 0, 0},
    {"--bars +5", STATUS_RANGE, 0, 0},
    {"--bars 05", STATUS_RANGE, 0, 0},
    {"--bars 10000", STATUS_RANGE, 0, 0},
    {"--bars two", STATUS_RANGE, 0, 0},
  };
  return cr_make_param_array(SpanRow, rows, sizeof(rows) / sizeof(*rows));
}

ParameterizedTest(SpanRow* row, options, span)
{
  cr_assert_eq(parse(OPTION_BIT(OPTION_SPAN), row->line), row->status);
  if (row->status) {
    cr_assert_not_null(strstr(fault.text, "write it as 5-6"), "%s", fault.text);
  } else {
    cr_assert_eq(options.span.first, row->first);
    cr_assert_eq(options.span.last, row->last);
  }
}
