/// @file responder/app/options.h The words of the command line.
///
/// Every command knows a set of the same options; an option is the same word
/// everywhere. One that chooses something for a session has its row in the
/// table of choices, and goes into `asked`; the others are wishes of commands.

#ifndef RESPONDER_APP_OPTIONS_H
#define RESPONDER_APP_OPTIONS_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/choices/choices.h"
#include "responder/lesson/equipment.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

/// A set of options; bit n: the option of that place in the table.
typedef uint64_t OptionSet;

typedef enum {
  OPTION_CHART,
  OPTION_KEY,
  OPTION_TEMPO,
  OPTION_FEEL,
  OPTION_BARS,
  OPTION_CHORUSES,
  OPTION_FIRST,
  OPTION_RUNG,
  OPTION_SEED,
  OPTION_TRACK,
  OPTION_LEAD_IN,
  OPTION_MAKE_ROOM,
  OPTION_WAY,
  OPTION_OUT,
  OPTION_WAV,
  OPTION_SOUNDFONT,
  OPTION_REPORT,
  OPTION_MUSICXML,
  OPTION_SCORE,
  OPTION_REPLAY,
  OPTION_LEARNER,
  OPTION_PRACTICE,
  OPTION_NAME,
  OPTION_AS,
  OPTION_CSV,
  OPTION_PICTURE,
  OPTION_IN,
  OPTION_VIRTUAL,
  OPTION_MIDI,
  OPTION_THRU,
  OPTION_CLICK,
  OPTION_SYNC,
  OPTION_RECORD,
  OPTION_CONTROL,
  OPTION_LEARN_CONTROL,
  OPTION_LIVE,
  OPTION_MINUTES,
  OPTION_DATE,
  OPTION_PAPER,
  OPTION_ALL,
  OPTION_MERGE,
  OPTION_FOR_GOOD,
  OPTION_SORT,
  OPTION_LOOK,
  OPTION_RHYTHMS,
  OPTION_SPAN, ///< --bars, of a take: from one to another
  OPTION_COUNT,
  OPTION_KEEP,
  OPTION_KEPT,
  OPTION_DRAW,
  OPTION_PORT,
  OPTION_NO_BROWSER,
  OPTION_HELP,
} Option;

enum {
  N_OPTIONS  = OPTION_HELP + 1,
  COUNT_MOST = 24, ///< Ideas at once
  PORT_MOST  = 65535,
};

#define OPTION_BIT(option) (UINT64_C(1) << (option))

/// The choices that make a session, as the commands know them that pass one.
#define OPTIONS_OF_SESSION                                                     \
  (OPTION_BIT(OPTION_CHART) | OPTION_BIT(OPTION_KEY) |                         \
   OPTION_BIT(OPTION_TEMPO) | OPTION_BIT(OPTION_FEEL) |                        \
   OPTION_BIT(OPTION_BARS) | OPTION_BIT(OPTION_CHORUSES) |                     \
   OPTION_BIT(OPTION_FIRST) | OPTION_BIT(OPTION_RUNG) |                        \
   OPTION_BIT(OPTION_SEED) | OPTION_BIT(OPTION_MAKE_ROOM) |                    \
   OPTION_BIT(OPTION_WAY))

/// Bars of a take, from 1: --bars A-B.
typedef struct {
  unsigned first;
  unsigned last;
} BarSpan;

/// What was given; a field whose option is not in `given` has no meaning.
typedef struct {
  OptionSet   given;
  Said        asked; ///< The choices
  const char* track;
  double      lead_in_beats;
  const char* out; ///< A file; of a live command a port, `synth` or `none`
  const char* wav;
  const char* soundfont;
  const char* report;
  const char* musicxml;
  const char* score;
  const char* replay;
  const char* learner;
  bool        is_nobodys; ///< No learner plays: the demo
  const char* name;
  const char* as;
  const char* picture;
  double      minutes;
  const char* date;
  bool        is_letter; ///< Paper; else A4
  unsigned    rhythms;
  unsigned    sort; ///< A ClassOrder
  BarSpan     span;
  unsigned    count;
  unsigned    keep;
  unsigned    port;
  const char* in;
  const char* midi;
  const char* record;
  char**      operands;
  unsigned    n_operands;
} Options;

/**
   Read the words after a command.

   @param allowed The options that the command knows.
   @param argv As main() has it, from the command's name on; its words may be
   put in another order, and the options keep their addresses.
   @return STATUS_OK, or STATUS_SYNTAX or STATUS_RANGE with the fault written.
*/
MUST_USE Status
options_parse(Options*  options,
              OptionSet allowed,
              int       argc,
              char**    argv,
              Fault*    fault);

/// Return what is said of an option: its word, value and help.
const Row*
option_row(Option option);

/// Whether an option was given.
bool
options_have(const Options* options, Option option);

/// Return the ID of who plays; NULL if nobody does.
const char*
options_learner(const Options* options);

/// Return the ports and sounds that are asked for.
EquipmentWish
options_equipment(const Options* options);

/// Write a line of help for each option of a set.
void
options_help(OptionSet set, FILE* stream);

#endif // RESPONDER_APP_OPTIONS_H
