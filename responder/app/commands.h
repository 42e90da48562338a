/// @file responder/app/commands.h All commands, in the order of the help.

#ifndef RESPONDER_APP_COMMANDS_H
#define RESPONDER_APP_COMMANDS_H

#include "responder/app/command.h"

enum { N_COMMANDS = 15 };

extern const Command* const commands[N_COMMANDS];

#endif // RESPONDER_APP_COMMANDS_H
