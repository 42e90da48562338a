/// @file responder/app/intake.h What a command that hears a take begins with.

#ifndef RESPONDER_APP_INTAKE_H
#define RESPONDER_APP_INTAKE_H

#include "profiles/choices/choices.h"
#include "responder/app/options.h"
#include "responder/app/who.h"
#include "responder/record/take.h"
#include "responder/setup/setup.h"

/**
   Choose by the options, and load the take that is their first operand; its
   tempo and length are chosen unless the options name them. Whatever is wrong
   is said.

   @param who Who plays.
   @param[out] choices Written on success.
   @param[out] take Written on success; give it to take_free().
   @return The exit status, EXIT_DONE on success.
*/
int
intake(Choices* choices, Take* take, const Who* who, const Options* options);

#endif // RESPONDER_APP_INTAKE_H
