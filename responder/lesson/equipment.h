/// @file responder/lesson/equipment.h Ports, sound and control, as wished and
/// chosen; and what is learnt of them.

#ifndef RESPONDER_LESSON_EQUIPMENT_H
#define RESPONDER_LESSON_EQUIPMENT_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"
#include "profiles/choices/choices.h"
#include "responder/lesson/notices.h"
#include "responder/stage/gesture.h"
#include "responder/stage/supervisor.h"

/// The ports and sounds that are asked for; what is NULL is not.
typedef struct {
  const char* in;        ///< A port, by number or part of its name; or `none`
  const char* out;       ///< ... or `synth`
  const char* midi;      ///< The MIDI system
  const char* soundfont; ///< A file
  bool        is_own;    ///< Open ports for others to connect to
  bool        loads_behind; ///< As in Wiring
} EquipmentWish;

/// Keep in place while its wiring is in use.
typedef struct {
  const char* midi;    ///< The system asked for; NULL: any
  Notices*    notices; ///< Until it is opened
  bool        has_told;
  Wiring      wiring;
  Trigger     control;
} Equipment;

/**
   Choose ports, sound and control.

   Where MIDI does not work and no port was asked for, a session goes on without
   a keyboard, with a notice that says so.

   @param notices Kept until the ports are opened.
   @return STATUS_OK; STATUS_SYNTAX with the fault written.
*/
MUST_USE Status
equipment_choose(Equipment*           equipment,
                 const EquipmentWish* wish,
                 const Choices*       choices,
                 Notices*             notices,
                 Fault*               fault);

/**
   Keep what was learnt, in a file of the player's own; what is there of other
   things stays.

   @param choices As they were loaded.
   @param control NULL: as it was.
   @param lag_ms NULL: as it was.
   @param[out] path Where, PLACE_PATH_CAPACITY bytes.
   @return STATUS_OK, or STATUS_SYSTEM with the fault written.
*/
MUST_USE Status
equipment_keep(const Choices* choices,
               const Trigger* control,
               const double*  lag_ms,
               char*          path,
               Fault*         fault);

#endif // RESPONDER_LESSON_EQUIPMENT_H
