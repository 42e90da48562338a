/// @file responder/setup/setup.h Everything a session needs: what was chosen,
/// and the chart, feel, ladder and sentences that were loaded for it.

#ifndef RESPONDER_SETUP_SETUP_H
#define RESPONDER_SETUP_SETUP_H

#include "core/attributes.h"
#include "core/band/band.h"
#include "core/settings/chart_file.h"
#include "core/settings/faults.h"
#include "core/status.h"
#include "profiles/choices/choices.h"
#include "responder/session/session.h"

#include <stdbool.h>

/// What was chosen and loaded; about 350 KiB, keep it in place.
typedef struct {
  Choices   choices;
  ChartFile chart; ///< In its key, with its room
  Feel      feel;
  Ladder    ladder;
  Sentences sentences;
  Faults    of_sentences; ///< If there are any, the built-in ones are said
  Idea      kept;         ///< As the choices have it; no note: none
  Idea      opens;        ///< As the choices have it; no note: none
} Setup;

/**
   Load what was chosen, each file opened once.

   Where `choices` leave the feel or the tempo open, the chart's suggestion is
   taken and written into `setup->choices`; without one, swing at 120; where
   they leave a rung open, the ladder's beginning. Sentences that cannot be read
   are no failure.

   @return STATUS_OK; else faults are noted.
*/
MUST_USE Status
setup_load(Setup* setup, const Choices* choices, Faults* faults);

/// Choose anew what needs no other file and no other room: all but chart, feel,
/// key, bars and whether there is room.
void
setup_again(Setup* setup, const Choices* choices);

/// Let an idea of the notebook come back, in the chart's key; one without a
/// note takes it away.
void
setup_keep(Setup* setup, const Idea* idea);

/// Let the partner begin with an idea, as setup_keep().
void
setup_open_with(Setup* setup, const Idea* idea);

/// Return the options of a session; they point into the setup.
SessionOptions
setup_session(const Setup* setup);

#endif // RESPONDER_SETUP_SETUP_H
