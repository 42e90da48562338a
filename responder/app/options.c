#include "responder/app/options.h"

#include "core/settings/nearest.h"

#include <ctype.h>
#include <errno.h>
#include <getopt.h>
#include <inttypes.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

typedef struct {
  const char* name;
  const char* value; ///< What its value is called; NULL if it takes none
  const char* words;
} OptionRow;

static const OptionRow rows[N_OPTIONS] = {
  [OPTION_CHART]    = {"chart", "NAME|FILE", "the form to play over"},
  [OPTION_KEY]      = {"key", "K", "move the chart to this key: Eb, F#"},
  [OPTION_TEMPO]    = {"tempo", "BPM", "quarters a minute, 30 to 320"},
  [OPTION_FEEL]     = {"feel", "NAME|FILE", "how the band plays"},
  [OPTION_BARS]     = {"bars", "N", "bars in a turn: 1, 2 or 4"},
  [OPTION_CHORUSES] = {"choruses", "N", "times through the form, 1 to 99"},
  [OPTION_FIRST]    = {"first", "WHO", "who begins: player or partner"},
  [OPTION_RUNG]  = {"rung", "R", "a number for all, or notes=N,rhythm=N,..."},
  [OPTION_SEED]  = {"seed", "N", "another number, other answers"},
  [OPTION_TRACK] = {"track", "NAME|N", "which track of the take is the player"},
  [OPTION_LEAD_IN] = {"lead-in", "N", "quarters of the take before its bar 1"},
  [OPTION_MAKE_ROOM] = {"make-room", NULL, "open room in an unbroken solo"},
  [OPTION_OUT]       = {"out",
                        "FILE|PORT",
                        "a file or a folder; live: a port, synth or none"},
  [OPTION_WAV]       = {"wav", "FILE.wav", "write its sound here"},
  [OPTION_SOUNDFONT] = {"soundfont", "FILE.sf2", "the sounds to render with"},
  [OPTION_REPORT]    = {"report", "FILE|-", "write the report as JSON"},
  [OPTION_MUSICXML]  = {"musicxml", "FILE.xml", "write it as notation"},
  [OPTION_REPLAY] = {"replay", "FILE.mid", "make a written conversation again"},
  [OPTION_LEARNER]  = {"learner", "ID", "who plays; me if nobody is named"},
  [OPTION_PRACTICE] = {"practice",
                       NULL,
                       "it was practice: keep it in the journal"},
  [OPTION_NAME]     = {"name", "NAME", "the name to show"},
  [OPTION_AS]       = {"as", "ID", "whose it is to become"},
  [OPTION_CSV]      = {"csv", NULL, "as a table for a spreadsheet"},
  [OPTION_PICTURE]  = {"picture", "FILE.svg", "draw it: .svg, .png or .pdf"},
  [OPTION_IN] = {"in", "PORT|none", "the keyboard: number or part of name"},
  [OPTION_VIRTUAL] = {"virtual", NULL, "open ports for others to connect to"},
  [OPTION_MIDI]    = {"midi", "NAME", "the MIDI system: alsa, jack, core, ..."},
  [OPTION_THRU]    = {"thru", NULL, "sound your own keys too"},
  [OPTION_CLICK]   = {"click", NULL, "click the beats of your turns"},
  [OPTION_SYNC]    = {"sync", NULL, "send MIDI clock, start and stop"},
  [OPTION_RECORD]  = {"record", "DIR|none", "where sessions are kept"},
  [OPTION_CONTROL] = {"control", "cc64|key21", "pedal or key to steer with"},
  [OPTION_LEARN_CONTROL] = {"learn-control", NULL, "learn it by pressing it"},
  [OPTION_LIVE]          = {"live", NULL, "play it through at a keyboard"},
  [OPTION_MINUTES]       = {"minutes", "N", "about how long, 3 to 60"},
  [OPTION_DATE]          = {"date", "YYYY-MM-DD", "as if it were that day"},
  [OPTION_SPAN]  = {"bars", "A-B", "the bars of the phrase, at most four"},
  [OPTION_COUNT] = {"count", "N", "how many, 1 to 24"},
  [OPTION_KEEP]  = {"keep", "N", "put the idea of that number in the notebook"},
  [OPTION_KEPT]  = {"kept", NULL, "the notebook; with a number, go on from it"},
  [OPTION_DRAW]  = {"draw", NULL, "draw the phrases, too"},
  [OPTION_PAPER] = {"paper", "a4|letter", "the size of a page"},
  [OPTION_HELP]  = {"help", NULL, "show this"},
};

static Status
read_number(double* const     number,
            const char* const text,
            const Option      option,
            const double      least,
            const double      most,
            Fault* const      fault)
{
  char*        end   = NULL;
  const double value = strtod(text, &end);
  if (end == text || *end || !isfinite(value) || value < least ||
      value > most) {
    return fault_set(fault,
                     STATUS_RANGE,
                     NULL,
                     0,
                     "--%s %s is not a number from %g to %g",
                     rows[option].name,
                     text,
                     least,
                     most);
  }
  *number = value;
  return STATUS_OK;
}

static Status
read_count(unsigned* const   count,
           const char* const text,
           const Option      option,
           const unsigned    most,
           Fault* const      fault)
{
  double       value  = 0.0;
  const Status status = read_number(&value, text, option, 1.0, most, fault);
  if (status) {
    return status;
  }
  if (value != floor(value)) {
    return fault_set(fault,
                     STATUS_RANGE,
                     NULL,
                     0,
                     "--%s %s is not a whole number from 1 to %u",
                     rows[option].name,
                     text,
                     most);
  }
  *count = (unsigned)value;
  return STATUS_OK;
}

static Status
read_bars(Options* const options, const char* const text, Fault* const fault)
{
  if (strcmp(text, "1") != 0 && strcmp(text, "2") != 0 &&
      strcmp(text, "4") != 0) {
    return fault_set(
      fault, STATUS_RANGE, NULL, 0, "--bars %s is not 1, 2 or 4", text);
  }
  options->bars = (unsigned)(text[0] - '0');
  return STATUS_OK;
}

// `5-6`, or `5` for one bar
static Status
read_span(Options* const options, const char* const text, Fault* const fault)
{
  char           rest  = '\0';
  unsigned       first = 0;
  unsigned       last  = 0;
  const int      n     = sscanf(text, "%4u-%4u%c", &first, &last, &rest);
  const unsigned end   = n == 1 ? first : last;
  char           again[16];
  (void)snprintf(again, sizeof(again), n == 1 ? "%u" : "%u-%u", first, last);
  if (strcmp(again, text) != 0 || first < 1 || end < first) {
    return fault_set(fault,
                     STATUS_RANGE,
                     NULL,
                     0,
                     "--bars %.40s is no span of bars from 1 up; write it as "
                     "5-6",
                     text);
  }
  options->first_bar = first;
  options->last_bar  = end;
  return STATUS_OK;
}

static Status
read_first(Options* const options, const char* const text, Fault* const fault)
{
  options->partner_begins = strcmp(text, "partner") == 0;
  if (!options->partner_begins && strcmp(text, "player") != 0) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     NULL,
                     0,
                     "--first %s is neither player nor partner",
                     text);
  }
  return STATUS_OK;
}

static Status
read_paper(Options* const options, const char* const text, Fault* const fault)
{
  options->is_letter = strcasecmp(text, "letter") == 0;
  if (!options->is_letter && strcasecmp(text, "a4") != 0) {
    return fault_set(fault,
                     STATUS_SYNTAX,
                     NULL,
                     0,
                     "--paper %s is neither a4 nor letter",
                     text);
  }
  return STATUS_OK;
}

// A report holds whole numbers of 63 bits
static Status
read_seed(Options* const options, const char* const text, Fault* const fault)
{
  char* end     = NULL;
  errno         = 0;
  options->seed = strtoull(text, &end, 10);
  if (!isdigit((unsigned char)text[0]) || *end || errno ||
      options->seed > INT64_MAX) {
    return fault_set(fault,
                     STATUS_RANGE,
                     NULL,
                     0,
                     "--seed %s is not a whole number from 0 to %" PRId64,
                     text,
                     INT64_MAX);
  }
  return STATUS_OK;
}

static Status
take_option(Options* const options,
            const Option   option,
            char* const    value,
            Fault* const   fault)
{
  options->given |= OPTION_BIT(option);
  switch (option) {
    case OPTION_CHART:
      options->chart = value;
      break;
    case OPTION_KEY:
      options->key = value;
      break;
    case OPTION_TEMPO:
      return read_number(
        &options->tempo_bpm, value, option, 30.0, 320.0, fault);
    case OPTION_FEEL:
      options->feel = value;
      break;
    case OPTION_BARS:
      return read_bars(options, value, fault);
    case OPTION_CHORUSES:
      return read_count(
        &options->choruses, value, option, CHORUSES_MOST, fault);
    case OPTION_SPAN:
      return read_span(options, value, fault);
    case OPTION_COUNT:
      return read_count(&options->count, value, option, COUNT_MOST, fault);
    case OPTION_KEEP:
      return read_count(&options->keep, value, option, COUNT_MOST, fault);
    case OPTION_FIRST:
      return read_first(options, value, fault);
    case OPTION_RUNG:
      options->rung = value;
      break;
    case OPTION_SEED:
      return read_seed(options, value, fault);
    case OPTION_TRACK:
      options->track = value;
      break;
    case OPTION_LEAD_IN:
      return read_number(
        &options->lead_in_beats, value, option, 0.0, 64.0, fault);
    case OPTION_OUT:
      options->out = value;
      break;
    case OPTION_WAV:
      options->wav = value;
      break;
    case OPTION_SOUNDFONT:
      options->soundfont = value;
      break;
    case OPTION_REPORT:
      options->report = value;
      break;
    case OPTION_MUSICXML:
      options->musicxml = value;
      break;
    case OPTION_REPLAY:
      options->replay = value;
      break;
    case OPTION_LEARNER:
      options->learner = value;
      break;
    case OPTION_NAME:
      options->name = value;
      break;
    case OPTION_AS:
      options->as = value;
      break;
    case OPTION_PICTURE:
      options->picture = value;
      break;
    case OPTION_MINUTES:
      return read_number(&options->minutes, value, option, 3.0, 60.0, fault);
    case OPTION_DATE:
      options->date = value;
      break;
    case OPTION_PAPER:
      return read_paper(options, value, fault);
    case OPTION_IN:
      options->in = value;
      break;
    case OPTION_MIDI:
      options->midi = value;
      break;
    case OPTION_RECORD:
      options->record = value;
      break;
    case OPTION_CONTROL:
      options->control = value;
      break;
    case OPTION_PRACTICE:
    case OPTION_CSV:
    case OPTION_VIRTUAL:
    case OPTION_THRU:
    case OPTION_CLICK:
    case OPTION_SYNC:
    case OPTION_LEARN_CONTROL:
    case OPTION_LIVE:
    case OPTION_MAKE_ROOM:
    case OPTION_KEPT:
    case OPTION_DRAW:
    case OPTION_HELP:
      break;
  }
  return STATUS_OK;
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
      names[n_names++] = rows[i].name;
    }
  }
  const char* const begin = word + strspn(word, "-");
  char              name[32];
  (void)snprintf(name, sizeof(name), "%.*s", (int)strcspn(begin, "="), begin);
  const char* const near = nearest_word(name, names, n_names);
  return fault_set(fault,
                   STATUS_SYNTAX,
                   NULL,
                   0,
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
      known[n++] =
        (struct option){rows[i].name,
                        rows[i].value ? required_argument : no_argument,
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
  const OptionRow* const row = &rows[optopt - 1];
  return found == ':'
           ? fault_set(fault,
                       STATUS_SYNTAX,
                       NULL,
                       0,
                       "--%s needs a value: %s",
                       row->name,
                       row->value)
           : fault_set(
               fault, STATUS_SYNTAX, NULL, 0, "--%s takes no value", row->name);
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
    const int found = getopt_long(argc, argv, ":", known, NULL);
    if (found < 0) {
      break;
    }
    const Status status =
      found == ':' || found == '?'
        ? misread(
            allowed, found, argv[optind > word ? optind - 1 : word], fault)
        : take_option(options, (Option)(found - 1), optarg, fault);
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

void
options_help(const OptionSet set, FILE* const stream)
{
  for (unsigned i = 0; i < N_OPTIONS; ++i) {
    if (set & OPTION_BIT(i)) {
      char left[32];
      (void)snprintf(left,
                     sizeof(left),
                     "--%s %s",
                     rows[i].name,
                     rows[i].value ? rows[i].value : "");
      (void)fprintf(stream, "  %-22s %s\n", left, rows[i].words);
    }
  }
}
