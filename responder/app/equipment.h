/// @file responder/app/equipment.h Ports, sound and control of a live command,
/// out of options and settings; and what is learnt of them.

#ifndef RESPONDER_APP_EQUIPMENT_H
#define RESPONDER_APP_EQUIPMENT_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/settings/defaults_file.h"
#include "core/status.h"
#include "responder/app/options.h"
#include "responder/stage/gesture.h"
#include "responder/stage/supervisor.h"

/// Keep in place while its wiring is in use.
typedef struct {
  const char* midi; ///< The system asked for; NULL: any
  bool        has_told;
  Wiring      wiring;
  Trigger     control;
} Equipment;

/**
   Read what the options and settings say.

   Where MIDI does not work and no port was asked for, a session goes on without
   a keyboard, with a line that says so.

   @return STATUS_OK; STATUS_SYNTAX with the fault written.
*/
MUST_USE Status
equipment_choose(Equipment*      equipment,
                 const Options*  options,
                 const Defaults* defaults,
                 Fault*          fault);

/**
   Keep what was learnt, in a file of the player's own; what is there of other
   things stays.

   @param control NULL: as it was.
   @param lag_ms NULL: as it was.
   @param[out] path Where, PLACE_PATH_CAPACITY bytes.
   @return STATUS_OK, or STATUS_SYSTEM with the fault written.
*/
MUST_USE Status
equipment_keep(const Trigger* control,
               const double*  lag_ms,
               char*          path,
               Fault*         fault);

#endif // RESPONDER_APP_EQUIPMENT_H
