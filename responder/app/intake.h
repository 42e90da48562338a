/// @file responder/app/intake.h What a command that hears a take begins with.

#ifndef RESPONDER_APP_INTAKE_H
#define RESPONDER_APP_INTAKE_H

#include "responder/app/options.h"
#include "responder/app/setup.h"
#include "responder/record/take.h"

/**
   Choose by the options, and load the take that is their first operand; its
   tempo is chosen unless the options name one. Whatever is wrong is said.

   @param[out] choices Written on success.
   @param[out] take Written on success; give it to take_free().
   @return The exit status, EXIT_DONE on success.
*/
int
intake(Choices* choices, Take* take, const Options* options);

#endif // RESPONDER_APP_INTAKE_H
