/// @file responder/stage/stage_parts.h What a stage is made of, for the room's
/// own files.

#ifndef RESPONDER_STAGE_STAGE_PARTS_H
#define RESPONDER_STAGE_STAGE_PARTS_H

#include "responder/stage/engine.h"
#include "responder/stage/stage.h"
#include "responder/stage/stopping.h"

enum { STAGE_SEEN = 256 }; ///< Messages; a power of two

struct Stage {
  StageOptions options;
  Pace         pace;
  Outlet       outlet;
  Supervisor   supervisor;
  Sender       sender;
  Engine       engine;
  Keeper       keeper;
  Tapping      tapping; ///< Between sessions
  Ring         keys;    ///< MidiMessage; from the input
  Ring         typed;   ///< ... from another face
  Ring         seen;    ///< ... again, to be shown
  MidiMessage  key_slots[ENGINE_KEYS];
  MidiMessage  typed_slots[ENGINE_KEYS];
  MidiMessage  seen_slots[STAGE_SEEN];
  atomic_bool  thru;
  Stopping     stopping;
  char         text[SUPERVISOR_LINE];
  char         system[16];
  char         guarded[PORT_NAME_CAPACITY]; ///< An output of others; or empty
  unsigned     n_skips; ///< Of this session, that were told of
  TempoClock   clock;   ///< As far as it was told of
  bool         goes_on;
  Gesture      steered; ///< Until it is taken
};

/// Take the next change of time, if there is one.
bool
stage_take_time_change(Stage* stage, TimeChange* change);

#endif // RESPONDER_STAGE_STAGE_PARTS_H
