/// @file responder/stage/supervisor.h Who opens and closes ports and sound,
/// sees them vanish and brings them back.
///
/// It looks four times a second: a keyboard that comes late is taken up, one
/// that was pulled out is opened again by its name when it returns, a JACK
/// server that died is waited for. What it sees it says in lines for the
/// screen.
///
/// Threads: what is here belongs to the one that opened it; a thread of its own
/// looks after it between supervisor_begin() and supervisor_end().

#ifndef RESPONDER_STAGE_SUPERVISOR_H
#define RESPONDER_STAGE_SUPERVISOR_H

#include "core/attributes.h"
#include "core/band/part.h"
#include "core/fault.h"
#include "core/ports/jack_watch.h"
#include "core/ports/ports.h"
#include "core/sound/live.h"
#include "core/status.h"
#include "core/time/ring.h"
#include "responder/stage/held.h"
#include "responder/stage/outlet.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>

enum {
  SUPERVISOR_LINE  = 160,
  SUPERVISOR_LINES = 32,
};

/// Open the system of ports, at first and after it died.
typedef Status (*SystemOpener)(void* context, Ports** ports, Fault* fault);

/// What to open.
typedef struct {
  SystemOpener open_system;
  void*        context;
  bool         is_own;    ///< Ports of our own, `in` and `out`
  bool         has_in;    ///< Else nobody plays
  bool         awaits_in; ///< Where there is none yet, the first that comes
  const char*  in;        ///< As ports_choose() takes it; NULL: the obvious one
  bool         has_out;
  const char*  out;
  bool         has_sound;
  SoundFont    font;
  bool         loads_behind;      ///< The font is read once all is open
  const char*  driver;            ///< NULL: the first that works
  uint8_t      programs[N_PARTS]; ///< That are made ready: stage_open() does
} Wiring;

typedef struct {
  Wiring       wiring;
  Outlet*      outlet;
  PortReceiver receive;
  void*        receive_context;
  char         in_name[PORT_NAME_CAPACITY]; ///< Empty: it is yet to come
  char         out_name[PORT_NAME_CAPACITY];
  Ports*       ports;
  Port*        in;
  Port*        out;
  Live*        live;
  JackWatch*   watch; ///< Of the sound's server
  atomic_bool  is_loading;
  Fault        no_font; ///< Once it is not; STATUS_OK if there is none
  Held         held;    ///< At the keyboard
  atomic_bool  hears;   ///< There is one
  bool         in_is_gone;
  bool         out_is_gone;
  Ring         lines; ///< char[SUPERVISOR_LINE]; the screen reads them
  char         line_slots[SUPERVISOR_LINES][SUPERVISOR_LINE];
  atomic_bool  stops;
  pthread_t    thread;
} Supervisor;

/**
   Open what is wished.

   @return STATUS_OK; else everything is closed again and the fault written.
*/
MUST_USE Status
supervisor_open(Supervisor*  supervisor,
                Wiring       wiring,
                Outlet*      outlet,
                PortReceiver receive,
                void*        context,
                Fault*       fault);

/// Begin to look after it; STATUS_OK or STATUS_SYSTEM.
MUST_USE Status
supervisor_begin(Supervisor* supervisor);

/// Wait until the sound can be heard, or supervisor_no_font() says why not.
void
supervisor_await_sound(const Supervisor* supervisor);

/// Return why the sound font that was read behind could not be loaded; NULL as
/// long as nothing is wrong with it.
const Fault*
supervisor_no_font(const Supervisor* supervisor);

/// Stop looking; what is open stays so.
void
supervisor_end(Supervisor* supervisor);

/// Close everything in the right order.
void
supervisor_close(Supervisor* supervisor);

#endif // RESPONDER_STAGE_SUPERVISOR_H
