#include "responder/stage/supervisor.h"

#include "core/time/monotonic.h"
#include "core/time/realtime.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum {
  LOOK_MS  = 250,
  STEP_MS  = 50, // A cable is not out and in any sooner
  AWAIT_MS = 5,
};

static const char jack[] = "jack";

__attribute__((format(printf, 2, 3))) static void
say(Supervisor* const supervisor, const char* const format, ...)
{
  char    line[SUPERVISOR_LINE];
  va_list args;
  va_start(args, format);
  (void)vsnprintf(line, sizeof(line), format, args);
  va_end(args);
  (void)ring_push(&supervisor->lines, line);
}

// Closing: inputs, outputs, sound, and the watchers last

static void
close_ports(Supervisor* const supervisor)
{
  port_close(supervisor->in);
  port_close(supervisor->out);
  ports_close(supervisor->ports);
  supervisor->in    = NULL;
  supervisor->out   = NULL;
  supervisor->ports = NULL;
}

static void
close_sound(Supervisor* const supervisor)
{
  live_close(supervisor->live);
  jack_watch_close(supervisor->watch);
  supervisor->live  = NULL;
  supervisor->watch = NULL;
}

// Opening

static Status
find_name(Supervisor* const supervisor,
          const PortSide    side,
          const char* const wanted,
          char              name[PORT_NAME_CAPACITY],
          Fault* const      fault)
{
  PortList list;
  unsigned index = 0;
  if (ports_list(supervisor->ports, side, &list)) {
    list.n_names = 0;
  }
  const Status status = ports_choose(&list, side, wanted, &index, fault);
  if (!status) {
    (void)snprintf(name, PORT_NAME_CAPACITY, "%s", list.names[index]);
  }
  return status;
}

// The input's thread
static void
hear(void* const context, const MidiMessage* const message)
{
  Supervisor* const supervisor = context;
  held_note(&supervisor->held, message);
  supervisor->receive(supervisor->receive_context, message);
}

static Status
open_in(Supervisor* const supervisor, Fault* const fault)
{
  const PortWish wish = {
    .side    = PORT_IN,
    .is_own  = supervisor->wiring.is_own,
    .name    = supervisor->in_name,
    .receive = hear,
    .context = supervisor,
  };
  const Status status =
    port_open(&supervisor->in, supervisor->ports, wish, fault);
  atomic_store(&supervisor->hears, !status);
  return status;
}

// What was down when it went is down no more
static void
lose_in(Supervisor* const supervisor)
{
  atomic_store(&supervisor->hears, false);
  held_release(
    &supervisor->held, supervisor->receive, supervisor->receive_context);
}

static Status
open_out(Supervisor* const supervisor, Fault* const fault)
{
  const PortWish wish = {
    .side   = PORT_OUT,
    .is_own = supervisor->wiring.is_own,
    .name   = supervisor->out_name,
  };
  return port_open(&supervisor->out, supervisor->ports, wish, fault);
}

static Status
open_sound(Supervisor* const supervisor, Fault* const fault)
{
  const Wiring* const wiring = &supervisor->wiring;
  const LiveWish      wish   = {
           wiring->font, wiring->driver, wiring->programs, N_PARTS};
  const Status status = live_open(&supervisor->live, &wish, fault);
  if (!status && strcmp(live_driver(supervisor->live), jack) == 0) {
    supervisor->watch = jack_watch_open();
  }
  return status;
}

// Nobody is heard through it before
static Status
load_sound(Supervisor* const supervisor, Fault* const fault)
{
  const Status status = live_load(supervisor->live, fault);
  if (status) {
    close_sound(supervisor);
  } else {
    outlet_lead(supervisor->outlet, supervisor->out, supervisor->live);
  }
  return status;
}

static Status
begin_sound(Supervisor* const supervisor, Fault* const fault)
{
  const Status status = open_sound(supervisor, fault);
  if (!status && supervisor->wiring.loads_behind) {
    atomic_store(&supervisor->is_loading, true);
    return STATUS_OK;
  }
  return status ? status : load_sound(supervisor, fault);
}

static void
load_behind(Supervisor* const supervisor)
{
  Fault fault = {.status = STATUS_OK};
  if (load_sound(supervisor, &fault)) {
    supervisor->wiring.has_sound = false; // It would not be better next time
    supervisor->no_font          = fault;
  }
  atomic_store(&supervisor->is_loading, false);
}

static Status
choose_names(Supervisor* const supervisor, Fault* const fault)
{
  const Wiring* const wiring = &supervisor->wiring;
  if (wiring->is_own) {
    (void)snprintf(supervisor->in_name, PORT_NAME_CAPACITY, "in");
    (void)snprintf(supervisor->out_name, PORT_NAME_CAPACITY, "out");
    return STATUS_OK;
  }
  Status status = STATUS_OK;
  if (wiring->has_in) {
    status =
      find_name(supervisor, PORT_IN, wiring->in, supervisor->in_name, fault);
    status = status == STATUS_MISSING && wiring->awaits_in ? STATUS_OK : status;
  }
  if (!status && wiring->has_out) {
    status =
      find_name(supervisor, PORT_OUT, wiring->out, supervisor->out_name, fault);
  }
  return status;
}

static Status
open_ports(Supervisor* const supervisor, Fault* const fault)
{
  const Wiring* const wiring = &supervisor->wiring;
  if (!wiring->has_in && !wiring->has_out) {
    return STATUS_OK;
  }
  Status status =
    wiring->open_system(wiring->context, &supervisor->ports, fault);
  if (!status) {
    status = choose_names(supervisor, fault);
  }
  if (!status && supervisor->in_name[0]) {
    status = open_in(supervisor, fault);
  }
  if (!status && wiring->has_out) {
    status = open_out(supervisor, fault);
  }
  return status;
}

Status
supervisor_open(Supervisor* const  supervisor,
                const Wiring       wiring,
                Outlet* const      outlet,
                const PortReceiver receive,
                void* const        context,
                Fault* const       fault)
{
  memset(supervisor, 0, sizeof(*supervisor));
  supervisor->wiring          = wiring;
  supervisor->outlet          = outlet;
  supervisor->receive         = receive;
  supervisor->receive_context = context;
  atomic_init(&supervisor->stops, false);
  atomic_init(&supervisor->is_loading, false);
  ring_setup(&supervisor->lines,
             supervisor->line_slots,
             sizeof(*supervisor->line_slots),
             SUPERVISOR_LINES);
  Status status = open_ports(supervisor, fault);
  if (!status) {
    outlet_lead(outlet, supervisor->out, NULL);
  }
  if (!status && wiring.has_sound) {
    status = begin_sound(supervisor, fault);
  }
  if (status) {
    supervisor_close(supervisor);
  }
  return status;
}

void
supervisor_close(Supervisor* const supervisor)
{
  outlet_lead(supervisor->outlet, NULL, NULL);
  close_ports(supervisor);
  close_sound(supervisor);
}

// Looking after it

static bool
ports_are_dead(const Supervisor* const supervisor)
{
  return supervisor->ports && !ports_are_alive(supervisor->ports);
}

static bool
sound_is_dead(const Supervisor* const supervisor)
{
  return (supervisor->watch && !jack_watch_is_alive(supervisor->watch)) ||
         (supervisor->live && !live_is_alive(supervisor->live));
}

// Every client of a dead server is closed before a new one is made
static void
bury(Supervisor* const supervisor)
{
  const bool  ports = ports_are_dead(supervisor);
  const bool  sound = sound_is_dead(supervisor);
  Port* const out   = ports ? NULL : supervisor->out;
  Live* const live  = sound ? NULL : supervisor->live;
  if (!ports && !sound) {
    return;
  }
  say(supervisor,
      "The %s has ended. The band goes on; waiting for it.",
      ports ? "MIDI system" : "sound system");
  outlet_lead(supervisor->outlet, out, live);
  if (ports) {
    close_ports(supervisor);
    lose_in(supervisor);
  }
  if (sound) {
    close_sound(supervisor);
  }
}

static void
revive_ports(Supervisor* const supervisor)
{
  const Wiring* const wiring = &supervisor->wiring;
  Fault               fault;
  if (supervisor->ports || (!wiring->has_in && !wiring->has_out) ||
      wiring->open_system(wiring->context, &supervisor->ports, &fault)) {
    return;
  }
  supervisor->in_is_gone  = wiring->has_in;
  supervisor->out_is_gone = wiring->has_out;
  say(supervisor, "The MIDI system is back.");
}

static void
revive_sound(Supervisor* const supervisor)
{
  Fault fault;
  if (supervisor->wiring.has_sound && !supervisor->live &&
      !open_sound(supervisor, &fault) && !load_sound(supervisor, &fault)) {
    say(supervisor, "The sound is back.");
  }
}

static void
await_in(Supervisor* const supervisor)
{
  Fault fault;
  if (!supervisor->wiring.awaits_in || find_name(supervisor,
                                                 PORT_IN,
                                                 supervisor->wiring.in,
                                                 supervisor->in_name,
                                                 &fault)) {
    return;
  }
  if (open_in(supervisor, &fault)) {
    supervisor->in_name[0] = '\0';
    return;
  }
  supervisor->in_is_gone = false;
  say(supervisor, "%.60s is here: you are heard.", supervisor->in_name);
}

static void
look_at_in(Supervisor* const supervisor)
{
  Fault fault;
  if (!supervisor->in_name[0]) {
    await_in(supervisor);
    return;
  }
  if (!supervisor->in_is_gone) {
    if (supervisor->in && !port_is_there(supervisor->in)) {
      supervisor->in_is_gone = true;
      lose_in(supervisor);
      say(supervisor,
          "%.60s is gone. The band goes on; plug it in again.",
          supervisor->in_name);
    }
    return;
  }
  const bool is_back = supervisor->in ? port_is_there(supervisor->in) &&
                                          !port_reopen(supervisor->in)
                                      : !open_in(supervisor, &fault);
  if (is_back) {
    supervisor->in_is_gone = false;
    atomic_store(&supervisor->hears, true);
    say(supervisor, "%.60s is back.", supervisor->in_name);
  }
}

static void
look_at_out(Supervisor* const supervisor)
{
  Fault fault;
  if (!supervisor->out_is_gone) {
    if (supervisor->out && !port_is_there(supervisor->out)) {
      supervisor->out_is_gone = true;
      say(supervisor,
          "%.60s is gone. The band goes on unheard; connect it again.",
          supervisor->out_name);
    }
    return;
  }
  bool is_back = false;
  if (supervisor->out) {
    is_back =
      port_is_there(supervisor->out) && outlet_reopen(supervisor->outlet);
  } else if (!open_out(supervisor, &fault)) {
    outlet_lead(supervisor->outlet, supervisor->out, supervisor->live);
    is_back = true;
  }
  if (is_back) {
    supervisor->out_is_gone = false;
    say(supervisor, "%.60s is back.", supervisor->out_name);
  }
}

static void
look(Supervisor* const supervisor)
{
  bury(supervisor);
  revive_ports(supervisor);
  revive_sound(supervisor);
  if (supervisor->ports) {
    look_at_in(supervisor);
    look_at_out(supervisor);
  }
}

static void*
run(void* const context)
{
  Supervisor* const supervisor = context;
  if (atomic_load(&supervisor->is_loading)) {
    load_behind(supervisor);
  }
  for (unsigned ms = 0; !atomic_load(&supervisor->stops); ms += STEP_MS) {
    if (ms >= LOOK_MS) {
      look(supervisor);
      ms = 0;
    }
    monotonic_sleep_ms(STEP_MS);
  }
  return NULL;
}

Status
supervisor_begin(Supervisor* const supervisor)
{
  return thread_begin(&supervisor->thread, run, supervisor);
}

void
supervisor_await_sound(const Supervisor* const supervisor)
{
  while (atomic_load(&supervisor->is_loading)) {
    monotonic_sleep_ms(AWAIT_MS);
  }
}

const Fault*
supervisor_no_font(const Supervisor* const supervisor)
{
  return !atomic_load(&supervisor->is_loading) && supervisor->no_font.status
           ? &supervisor->no_font
           : NULL;
}

void
supervisor_end(Supervisor* const supervisor)
{
  atomic_store(&supervisor->stops, true);
  (void)pthread_join(supervisor->thread, NULL);
}
