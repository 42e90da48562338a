/// @file responder/app/begin.h What most commands begin with: who plays, what
/// is chosen, and what is loaded for it. Whatever is wrong is said.

#ifndef RESPONDER_APP_BEGIN_H
#define RESPONDER_APP_BEGIN_H

#include "profiles/choices/choices.h"
#include "responder/app/options.h"
#include "responder/app/who.h"
#include "responder/setup/setup.h"

/**
   Load barter.cfg, equipment.cfg and the settings of who plays.

   @param[out] who As who_find() writes it.
   @return The exit status, EXIT_DONE on success.
*/
int
begin_who(Who* who, const Options* options);

/// Return what is chosen by what is known of who plays and what is asked for.
Choices
begin_choose(const Who* who, const Options* options);

/// Load what was chosen; return the exit status.
int
begin_setup(Setup* setup, const Choices* choices);

#endif // RESPONDER_APP_BEGIN_H
