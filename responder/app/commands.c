#include "responder/app/commands.h"

const Command* const commands[N_COMMANDS] = {
  &command_open,
  &command_trade,
  &command_answer,
  &command_hear,
  &command_ideas,
  &command_charts,
  &command_ports,
  &command_calibrate,
  &command_check,
  &command_settings,
  &command_learner,
  &command_progress,
  &command_warmup,
  &command_sheet,
  &command_demo,
};
