/// @file responder/app/setup.h Everything a session needs, out of defaults,
/// files and options.
///
/// The command line goes before barter.cfg, and that before what the chart
/// suggests.

#ifndef RESPONDER_APP_SETUP_H
#define RESPONDER_APP_SETUP_H

#include "core/attributes.h"
#include "core/band/band.h"
#include "core/settings/chart_file.h"
#include "core/settings/defaults_file.h"
#include "core/settings/faults.h"
#include "core/status.h"
#include "responder/app/options.h"
#include "responder/session/session.h"

#include <stdbool.h>

enum { SETUP_NAME_CAPACITY = 1024 };

/// What was chosen, as it can be written down and read again.
typedef struct {
  char          chart[SETUP_NAME_CAPACITY]; ///< Name or path
  char          feel[SETUP_NAME_CAPACITY];
  char          key[KEY_TEXT_CAPACITY]; ///< Tonic; empty: the chart's own
  double        tempo_bpm;              ///< 0: by the take, else the chart
  unsigned      bars;
  unsigned      choruses; ///< 0: as many as the take asks for
  bool          partner_begins;
  bool          band_thins_for_partner;
  bool          makes_room;
  Rung          rung;
  uint64_t      seed;
  unsigned      split;
  unsigned      lowest;
  unsigned      highest;
  unsigned      hand_span;
  double        lag_ms; ///< How late the player is heard
  DefaultsSound sounds[N_PARTS];
  Rung          most;      ///< Of rungs that the ladder fills in; 0: no limit
  uint64_t      sums[3];   ///< Of the chart, feel and ladder files; 0: unknown
  ClimbPlan     plan;      ///< Zeroed, the rung stays as it is
  double        budget;    ///< Of the plan; 0: the ladder's, for a new learner
  Skill         skill;     ///< What the learner is known to play, for the plan
  unsigned      practised; ///< Which session of practice it is, from 1; or 0
  double        usual_spread_ms; ///< ... and how they keep time; 0: not known
  Idea          kept; ///< Of the notebook, to come back to; no note: none
} Choices;

/// What was loaded for them; about 350 KiB, keep it in place.
typedef struct {
  Choices   choices;
  ChartFile chart; ///< In its key, with its room
  Feel      feel;
  Ladder    ladder;
  Sentences sentences;
} Setup;

/// The file that barter itself keeps: the player's own, over barter.cfg.
#define SETUP_EQUIPMENT "equipment.cfg"

/// Load barter.cfg and what was learnt of the equipment; neither need be there.
/// @return STATUS_OK; else faults are noted.
MUST_USE Status
setup_defaults(Defaults* defaults, Faults* faults);

/**
   Choose by barter.cfg, who plays and the options.

   @param[out] choices Written on success.
   @return STATUS_OK; else faults are noted.
*/
MUST_USE Status
setup_choose(Choices* choices, const Options* options, Faults* faults);

/**
   Let the rungs move as the learner's teacher set it, from where the learner
   stands. Where --rung was given they are only tried, and nothing moves.

   @return STATUS_OK; else faults are noted.
*/
MUST_USE Status
setup_climb(Choices* choices, const Options* options, Faults* faults);

/**
   Load what was chosen.

   Where `choices` leave the feel or the tempo open, the chart's suggestion is
   taken and written into `setup->choices`; without one, swing at 120. Sentences
   that cannot be read are told of, and the built-in ones are said.

   @return STATUS_OK; else faults are noted.
*/
MUST_USE Status
setup_load(Setup* setup, const Choices* choices, Faults* faults);

/// Return the options of a session; they point into the setup.
SessionOptions
setup_session(const Setup* setup);

#endif // RESPONDER_APP_SETUP_H
