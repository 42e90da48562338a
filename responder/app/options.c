#include "responder/app/options.h"

#include "core/settings/nearest.h"
#include "profiles/learner/people.h"

#include <getopt.h>
#include <stdbool.h>
#include <stddef.h>
#include <string.h>

// A word of the command line: a choice, or a wish of commands
typedef struct {
  Row    wish; ///< Of a field of Options; FLAG has only its bit in `given`
  bool   is_choice;
  Choice choice;
} OptionRow;

// `5-6`, or `5` for one bar
static bool
parse_span(void* const field, const char* const text)
{
  BarSpan* const span  = field;
  char           rest  = '\0';
  unsigned       first = 0;
  unsigned       last  = 0;
  const int      n     = sscanf(text, "%4u-%4u%c", &first, &last, &rest);
  const unsigned end   = n == 1 ? first : last;
  char           again[16];
  (void)snprintf(again, sizeof(again), n == 1 ? "%u" : "%u-%u", first, last);
  if (strcmp(again, text) != 0 || first < 1 || end < first) {
    return false;
  }
  *span = (BarSpan){first, end};
  return true;
}

static const char* const papers[] = {"a4", "letter", NULL};
static const char* const orders[] = {"id", "last", "look", NULL};

#define CHOICE(which)                                                          \
  {                                                                            \
    .is_choice = true, .choice = which                                         \
  }
#define FLAG(words, says)                                                      \
  {                                                                            \
    .wish = {.name = words, .kind = ROW_FLAG, .help = says }                   \
  }
#define TEXT(field, words, takes, says)                                        \
  {                                                                            \
    .wish = {                                                                  \
      .name   = words,                                                         \
      .kind   = ROW_LINK,                                                      \
      .offset = offsetof(Options, field),                                      \
      .value  = takes,                                                         \
      .help   = says                                                           \
    }                                                                          \
  }
#define NUMBER(which, field, words, from, to, takes, says)                     \
  {                                                                            \
    .wish = {                                                                  \
      .name   = words,                                                         \
      .kind   = which,                                                         \
      .offset = offsetof(Options, field),                                      \
      .least  = from,                                                          \
      .most   = to,                                                            \
      .value  = takes,                                                         \
      .help   = says                                                           \
    }                                                                          \
  }

static const OptionRow rows[N_OPTIONS] = {
  [OPTION_CHART]     = CHOICE(CHOICE_CHART),
  [OPTION_KEY]       = CHOICE(CHOICE_KEY),
  [OPTION_TEMPO]     = CHOICE(CHOICE_TEMPO),
  [OPTION_FEEL]      = CHOICE(CHOICE_FEEL),
  [OPTION_BARS]      = CHOICE(CHOICE_BARS),
  [OPTION_CHORUSES]  = CHOICE(CHOICE_CHORUSES),
  [OPTION_FIRST]     = CHOICE(CHOICE_FIRST),
  [OPTION_RUNG]      = CHOICE(CHOICE_RUNG),
  [OPTION_SEED]      = CHOICE(CHOICE_SEED),
  [OPTION_MAKE_ROOM] = CHOICE(CHOICE_MAKE_ROOM),
  [OPTION_WAY]       = CHOICE(CHOICE_WAY),
  [OPTION_CONTROL]   = CHOICE(CHOICE_CONTROL),
  [OPTION_TRACK] =
    TEXT(track, "track", "NAME|N", "which track of the take is the player"),
  [OPTION_LEAD_IN] = NUMBER(ROW_NUMBER,
                            lead_in_beats,
                            "lead-in",
                            0,
                            64,
                            "N",
                            "quarters of the take before its bar 1"),
  [OPTION_OUT]     = TEXT(out,
                      "out",
                      "FILE|PORT",
                      "a file or a folder; live: a port, synth or none"),
  [OPTION_WAV]     = TEXT(wav, "wav", "FILE.wav", "write its sound here"),
  [OPTION_SOUNDFONT] =
    TEXT(soundfont, "soundfont", "FILE.sf2", "the sounds to render with"),
  [OPTION_REPORT] =
    TEXT(report, "report", "FILE|-", "write the report as JSON"),
  [OPTION_MUSICXML] =
    TEXT(musicxml, "musicxml", "FILE.xml", "write it as notation"),
  [OPTION_SCORE] =
    TEXT(score, "score", "FILE.pdf", "engrave it: .pdf, .svg, .png or .abc"),
  [OPTION_REPLAY] =
    TEXT(replay, "replay", "FILE.mid", "make a written conversation again"),
  [OPTION_LEARNER] =
    TEXT(learner, "learner", "ID", "who plays; me if nobody is named"),
  [OPTION_PRACTICE] =
    FLAG("practice", "it was practice: keep it in the journal"),
  [OPTION_NAME] = TEXT(name, "name", "NAME", "the name to show"),
  [OPTION_AS]   = TEXT(as, "as", "ID", "whose it is to become"),
  [OPTION_CSV]  = FLAG("csv", "as a table for a spreadsheet"),
  [OPTION_PICTURE] =
    TEXT(picture, "picture", "FILE.svg", "draw it: .svg, .png or .pdf"),
  [OPTION_IN] =
    TEXT(in, "in", "PORT|none", "the keyboard: number or part of name"),
  [OPTION_VIRTUAL] = FLAG("virtual", "open ports for others to connect to"),
  [OPTION_MIDI] =
    TEXT(midi, "midi", "NAME", "the MIDI system: alsa, jack, core, ..."),
  [OPTION_THRU]  = FLAG("thru", "sound your own keys too"),
  [OPTION_CLICK] = FLAG("click", "click the beats of your turns"),
  [OPTION_SYNC]  = FLAG("sync", "send MIDI clock, start and stop"),
  [OPTION_RECORD] =
    TEXT(record, "record", "DIR|none", "where sessions are kept"),
  [OPTION_LEARN_CONTROL] = FLAG("learn-control", "learn it by pressing it"),
  [OPTION_LIVE]          = FLAG("live", "play it through at a keyboard"),
  [OPTION_MINUTES]       = NUMBER(ROW_NUMBER,
                            minutes,
                            "minutes",
                            3,
                            60,
                            "N",
                            "about how long, 3 to 60"),
  [OPTION_DATE] = TEXT(date, "date", "YYYY-MM-DD", "as if it were that day"),
  [OPTION_SPAN] = {.wish = {.name   = "bars",
                            .kind   = ROW_OWN,
                            .offset = offsetof(Options, span),
                            .value  = "A-B",
                            .help   = "the bars of the phrase, at most four",
                            .parse  = parse_span,
                            .right  = "it as 5-6, from bar 1 up"}},
  [OPTION_COUNT] =
    NUMBER(ROW_COUNT, count, "count", 1, COUNT_MOST, "N", "how many, 1 to 24"),
  [OPTION_KEEP] = NUMBER(ROW_COUNT,
                         keep,
                         "keep",
                         1,
                         COUNT_MOST,
                         "N",
                         "put the idea of that number in the notebook"),
  [OPTION_KEPT] = FLAG("kept", "the notebook; with a number, go on from it"),
  [OPTION_DRAW] = FLAG("draw", "draw the phrases, too"),
  [OPTION_PORT] = NUMBER(ROW_COUNT,
                         port,
                         "port",
                         0,
                         PORT_MOST,
                         "N",
                         "of this machine, for the page; 0: any that is free"),
  [OPTION_NO_BROWSER] = FLAG("no-browser", "only print the address"),
  [OPTION_PAPER]      = {.wish = {.name   = "paper",
                                  .kind   = ROW_EITHER,
                                  .offset = offsetof(Options, is_letter),
                                  .words  = papers,
                                  .value  = "a4|letter",
                                  .help   = "the size of a page"}},
  [OPTION_ALL]        = FLAG("all", "of everybody there is, in one PDF"),
  [OPTION_MERGE]      = FLAG("merge", "into somebody else, for good"),
  [OPTION_FOR_GOOD]   = FLAG("for-good", "keep nothing, not even for a month"),
  [OPTION_SORT]       = {.wish = {.name   = "sort",
                                  .kind   = ROW_WORD,
                                  .offset = offsetof(Options, sort),
                                  .words  = orders,
                                  .value  = "id|last|look",
                                  .help = "by ID, last practice, or need of a look"}},
  [OPTION_LOOK]       = FLAG("look", "only who needs a look"),
  [OPTION_RHYTHMS]    = NUMBER(ROW_COUNT,
                            rhythms,
                            "rhythms",
                            1,
                            24,
                            "N",
                            "a page of so many rhythms instead, 1 to 24"),
  [OPTION_HELP]       = FLAG("help", "show this"),
};

const Row*
option_row(const Option option)
{
  const OptionRow* const row = &rows[option];
  return row->is_choice ? &choice_row(row->choice)->row : &row->wish;
}

static Status
take_option(Options* const options,
            const Option   option,
            char* const    value,
            Fault* const   fault)
{
  const OptionRow* const row = &rows[option];
  char                   as[32];
  (void)snprintf(as, sizeof(as), "--%s", option_row(option)->name);
  options->given |= OPTION_BIT(option);
  if (row->is_choice) {
    return said_add(&options->asked, row->choice, as, value, fault);
  }
  return row->wish.kind == ROW_FLAG
           ? STATUS_OK
           : row_parse(&row->wish, options, as, value, fault);
}

static Status
unknown_option(const OptionSet   allowed,
               const char* const word,
               Fault* const      fault)
{
  const char* names[N_OPTIONS];
  unsigned    n_names = 0;
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    if (allowed & OPTION_BIT(i)) {
      names[n_names++] = option_row((Option)i)->name;
    }
  }
  const char* const begin = word + strspn(word, "-");
  char              name[32];
  (void)snprintf(name, sizeof(name), "%.*s", (int)strcspn(begin, "="), begin);
  const char* const near = nearest_word(name, names, n_names);
  return fault_say(fault,
                   STATUS_SYNTAX,
                   "there is no option %s here%s%s",
                   word,
                   near ? "; did you mean --" : "",
                   near ? near : "");
}

static void
list_known(struct option known[N_OPTIONS + 1], const OptionSet allowed)
{
  unsigned n = 0;
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    if (allowed & OPTION_BIT(i)) {
      known[n++] = (struct option){
        option_row((Option)i)->name,
        option_row((Option)i)->value ? required_argument : no_argument,
        NULL,
        (int)i + 1};
    }
  }
  known[n] = (struct option){NULL, 0, NULL, 0};
}

// What getopt_long() makes nothing of: an option of ours without its value, or
// with one that it does not take, or a word that is none
static Status
misread(const OptionSet   allowed,
        const int         found,
        const char* const word,
        Fault* const      fault)
{
  const bool is_long = strncmp(word, "--", 2) == 0;
  if (!is_long || optopt < 1 || optopt > N_OPTIONS) {
    return unknown_option(allowed, word, fault);
  }
  const Row* const row = option_row((Option)(optopt - 1));
  return found == ':'
           ? fault_say(fault,
                       STATUS_SYNTAX,
                       "--%s needs a value: %s",
                       row->name,
                       row->value)
           : fault_say(fault, STATUS_SYNTAX, "--%s takes no value", row->name);
}

Status
options_parse(Options* const  options,
              const OptionSet allowed,
              const int       argc,
              char** const    argv,
              Fault* const    fault)
{
  struct option known[N_OPTIONS + 1];
  list_known(known, allowed);
  *options = (Options){0};
  opterr   = 0;
  optind   = 1;
  for (int word = optind;; word = optind) {
    const int found = getopt_long(argc, argv, ":h", known, NULL);
    if (found < 0) {
      break;
    }
    const Status status =
      found == ':' || found == '?'
        ? misread(
            allowed, found, argv[optind > word ? optind - 1 : word], fault)
        : take_option(options,
                      found == 'h' ? OPTION_HELP : (Option)(found - 1),
                      optarg,
                      fault);
    if (status) {
      return status;
    }
  }
  options->operands   = argv + optind;
  options->n_operands = (unsigned)(argc - optind);
  return STATUS_OK;
}

bool
options_have(const Options* const options, const Option option)
{
  return options->given & OPTION_BIT(option);
}

const char*
options_learner(const Options* const options)
{
  return options->is_nobodys                     ? NULL
         : options_have(options, OPTION_LEARNER) ? options->learner
                                                 : PEOPLE_USUAL_ID;
}

EquipmentWish
options_equipment(const Options* const options)
{
  return (EquipmentWish){
    .in        = options->in,
    .out       = options->out,
    .midi      = options->midi,
    .soundfont = options->soundfont,
    .is_own    = options_have(options, OPTION_VIRTUAL),
  };
}

void
options_help(const OptionSet set, FILE* const stream)
{
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    if (set & OPTION_BIT(i)) {
      const Row* const row = option_row((Option)i);
      char             left[32];
      (void)snprintf(
        left, sizeof(left), "--%s %s", row->name, row->value ? row->value : "");
      (void)fprintf(stream, "  %-22s %s\n", left, row->help);
    }
  }
}
