/// @file responder/app/begin.h What most commands begin with: who plays, what
/// is chosen, and what is loaded for it. Whatever is wrong is said.

#ifndef RESPONDER_APP_BEGIN_H
#define RESPONDER_APP_BEGIN_H

#include "core/settings/faults.h"
#include "core/status.h"
#include "profiles/choices/choices.h"
#include "responder/app/options.h"
#include "responder/lesson/who.h"
#include "responder/record/take.h"
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

/// Return the exit status of what loaded a setup, with whatever is wrong said.
int
begin_loaded(const Setup* setup, Status status, const Faults* faults);

/**
   Choose by the options, and load the take that is their first operand; its
   tempo and length are chosen unless the options name them.

   @param who As begin_who() found them.
   @param[out] choices Written on success.
   @param[out] take Written on success; give it to take_free().
   @return The exit status, EXIT_DONE on success.
*/
int
begin_take(Choices*       choices,
           Take*          take,
           const Who*     who,
           const Options* options);

/// Say it if the chart of a take that is a recording of ours has changed since.
void
begin_changed(const Setup* setup, const Options* options);

/// Say how many of a take's notes begin at or after where hearing ends.
void
begin_rest(const Take* take, Tick end, Meter meter, const Options* options);

/// Read the day of --date, else take today's.
/// @param[out] day Days since 1970-01-01.
/// @return The exit status.
int
begin_day(int32_t* day, const Options* options);

#endif // RESPONDER_APP_BEGIN_H
