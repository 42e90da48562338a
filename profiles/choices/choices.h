/// @file profiles/choices/choices.h What can be chosen for a session: one table
/// says of each choice what it may be, where it may be said, and who wins.
///
/// A choice is one field of Choices and one row of the table in choices.c. From
/// the row come its word of the command line with its help, its key in the
/// settings files, its range errors, its line in a recording, and what
/// `barter settings` tells of it.
///
/// Who is said later wins: places are laid one over the other in the order of
/// ChoicePlace. Choices is a plain value, as is Said.

#ifndef PROFILES_CHOICES_CHOICES_H
#define PROFILES_CHOICES_CHOICES_H

#include "core/attributes.h"
#include "core/band/band.h"
#include "core/fault.h"
#include "core/music/key.h"
#include "core/settings/row.h"
#include "core/status.h"
#include "profiles/ladder/climb.h"
#include "profiles/ladder/ladder.h"
#include "profiles/ladder/way.h"

#include <stdbool.h>
#include <stdint.h>

enum {
  CHOICES_NAME_CAPACITY    = 1024, ///< Of a chart or feel: name or path
  CHOICES_CONTROL_CAPACITY = 16,
  CHOICES_FONTS_CAPACITY   = 256,
  CHOICES_KEPT_CAPACITY    = 1024, ///< Of an idea, as notebook.h writes it
  CHOICES_FROM_CAPACITY    = 48,
  CHOICES_RANGE_LEAST      = 12, ///< Of a player, semitones
  CHORUSES_MOST            = 99, ///< Times through the form
};

/// The choices, in the order of a recording.
typedef enum {
  CHOICE_CHART,
  CHOICE_FEEL,
  CHOICE_KEY,
  CHOICE_TEMPO,
  CHOICE_BARS,
  CHOICE_CHORUSES,
  CHOICE_FIRST,
  CHOICE_THINS,
  CHOICE_MAKE_ROOM,
  CHOICE_WAY,
  CHOICE_RUNG,  ///< All four, or some
  CHOICE_NOTES, ///< ... and each, as rungs are recorded
  CHOICE_RHYTHM,
  CHOICE_SHAPE,
  CHOICE_ORNAMENT,
  CHOICE_SEED,
  CHOICE_SPLIT,
  CHOICE_LOWEST,
  CHOICE_HIGHEST,
  CHOICE_HAND_SPAN,
  CHOICE_LAG,
  CHOICE_PARTNER_PROGRAM,
  CHOICE_PARTNER_LEVEL,
  CHOICE_PLAYER_PROGRAM,
  CHOICE_PLAYER_LEVEL,
  CHOICE_CHORDS_PROGRAM,
  CHOICE_CHORDS_LEVEL,
  CHOICE_BASS_PROGRAM,
  CHOICE_BASS_LEVEL,
  CHOICE_DRUMS_PROGRAM,
  CHOICE_DRUMS_LEVEL,
  CHOICE_FONTS,
  CHOICE_CONTROL,
} Choice;

enum { N_CHOICES = CHOICE_CONTROL + 1 };

/// A set of choices; bit n: the choice n.
typedef uint64_t ChoiceSet;

#define CHOICE_BIT(choice) (UINT64_C(1) << (choice))

/// Where a value comes from; who stands later here wins.
typedef enum {
  CHOICE_BY_DEFAULT,
  CHOICE_BY_CHART,     ///< What it suggests
  CHOICE_BY_LADDER,    ///< Where ladder.cfg lets a new learner begin
  CHOICE_BY_BARTER,    ///< barter.cfg
  CHOICE_BY_EQUIPMENT, ///< equipment.cfg
  CHOICE_BY_LEARNER,   ///< learner.cfg
  CHOICE_BY_JOURNAL,   ///< Where the learner stood last
  CHOICE_BY_TAKE,      ///< The take that is heard
  CHOICE_BY_ASKING,    ///< Command line or page
  CHOICE_BY_RECORDING, ///< That is made again
} ChoicePlace;

#define CHOICE_PLACE_BIT(place) (1U << (place))

/// Where a value was said.
typedef struct {
  uint8_t  place; ///< A ChoicePlace
  uint16_t line;  ///< Of a file, from 1; 0: none in particular
} ChoiceSource;

/// How a part sounds.
typedef struct {
  uint8_t program; ///< As it is sent, 0..127; of no matter for the drums
  uint8_t level;   ///< Channel volume (controller 7), 0..127
} ChoiceSound;

/// What was chosen, as it can be written down and read again.
typedef struct {
  char        chart[CHOICES_NAME_CAPACITY]; ///< Name or path
  char        feel[CHOICES_NAME_CAPACITY];  ///< Empty: as the chart suggests
  char        key[KEY_TEXT_CAPACITY];       ///< Tonic; empty: the chart's own
  double      tempo_bpm;                    ///< 0: by the take, else the chart
  unsigned    bars;                         ///< Of a turn: 1, 2 or 4
  unsigned    choruses; ///< 1..99; 0: as many as the take asks for
  bool        partner_begins;
  bool        band_thins_for_partner; ///< Else for the player
  bool        makes_room;
  Way         way;
  Rung        rung; ///< 0: as the ladder begins
  uint64_t    seed;
  uint8_t     split;     ///< Lowest key of the melody hand
  uint8_t     lowest;    ///< The player's range, MIDI keys
  uint8_t     highest;   ///< At least an octave above `lowest`
  uint8_t     hand_span; ///< Widest stretch, semitones, 5..24
  double      lag_ms;    ///< How late the player is heard, by the equipment too
  ChoiceSound sounds[N_PARTS];               ///< By Part
  char        fonts[CHOICES_FONTS_CAPACITY]; ///< Sound fonts, the best first
  char        control[CHOICES_CONTROL_CAPACITY]; ///< `cc64`, `key21`; or empty

  ChoiceSource from[N_CHOICES]; ///< By Choice

  // What else makes a session again; nobody says it
  Rung      most;      ///< Of rungs that the ladder fills in; 0: no limit
  uint64_t  sums[3];   ///< Of the chart, feel and ladder files; 0: unknown
  ClimbPlan plan;      ///< Zeroed, the rung stays as it is
  double    budget;    ///< Of the plan; 0: the ladder's, for a new learner
  Skill     skill;     ///< What the learner is known to play, for the plan
  unsigned  practised; ///< Which session of practice it is, from 1; or 0
  double    usual_spread_ms; ///< ... and how they keep time; 0: not known
  bool      plays_back;      ///< The best phrase, at the end
  unsigned  listens_behind;  ///< Ticks that keys are waited for; 0: none
  char      opens[CHOICES_KEPT_CAPACITY]; ///< An idea to begin with; or empty
  char      kept[CHOICES_KEPT_CAPACITY];  ///< An idea to come back to; or empty
} Choices;

/// Choices said in one place; those that are not in the set mean nothing. A
/// zeroed one says nothing.
typedef struct {
  ChoiceSet set;
  Choices   values;
} Said;

/// What the table says of a choice.
typedef struct {
  Row         row;      ///< Of a field of Choices
  unsigned    places;   ///< Where it may be said: bits of ChoicePlace
  const char* recorded; ///< Its name in a recording; NULL: it is not there
  double      recorded_least; ///< If it may be recorded beyond the row's range
  double      recorded_most;  ///< 0: as the row
  bool        is_rare;        ///< Recorded only where it is not 0
} ChoiceRow;

/// Return the row of a choice.
const ChoiceRow*
choice_row(Choice choice);

/// Return what holds when nobody says anything.
Choices
choices_plain(void);

/// Write that a choice was said; the field itself is the caller's.
void
choices_mark(Choices* choices, Choice choice, ChoicePlace place, unsigned line);

/// Return where a choice comes from.
ChoicePlace
choices_place(const Choices* choices, Choice choice);

/// Write where a choice comes from: `default`, `barter.cfg:12`, `chart`,
/// `--tempo`; return `text`.
const char*
choices_from(const Choices* choices,
             Choice         choice,
             char           text[CHOICES_FROM_CAPACITY]);

/// Return the name of a place: `default`, `barter.cfg`; what is asked for is by
/// an `option`.
const char*
choice_place_name(ChoicePlace place);

/**
   Add a choice in words, of the command line or a page.

   @param as How it is called in a fault: `--tempo`.
   @param text NULL for what is said by being named.
   @return STATUS_OK; STATUS_SYNTAX or STATUS_RANGE with the fault written.
*/
MUST_USE Status
said_add(Said*       said,
         Choice      choice,
         const char* as,
         const char* text,
         Fault*      fault);

/// Whether a choice was said.
bool
said_has(const Said* said, Choice choice);

/// Lay what was said over choices.
void
choices_lay(Choices* choices, const Said* said, ChoicePlace place);

#endif // PROFILES_CHOICES_CHOICES_H
