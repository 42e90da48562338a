#include "responder/lesson/equipment.h"

#include "core/files/file.h"
#include "core/files/folder.h"
#include "core/ports/system.h"
#include "core/settings/places.h"
#include "profiles/choices/choices_file.h"

#include <stdio.h>
#include <string.h>

static Status
open_system(void* const context, Ports** const ports, Fault* const fault)
{
  Equipment* const equipment = context;
  char             remark[SYSTEM_REMARK_CAPACITY];
  const Status     status = system_open(ports, equipment->midi, remark, fault);
  if (!status && remark[0] && !equipment->has_told) {
    notices_add(equipment->notices, "%s; using %s", remark, ports_name(*ports));
  }
  equipment->has_told = true; // Once: it is opened again while playing
  return status;
}

static Status
choose_control(Equipment* const     equipment,
               const Choices* const choices,
               Fault* const         fault)
{
  const char* const text = choices->control;
  const bool        is_asked =
    choices_place(choices, CHOICE_CONTROL) == CHOICE_BY_ASKING;
  if (text[0] && trigger_parse(&equipment->control, text)) {
    return fault_say(fault,
                     STATUS_SYNTAX,
                     "%s %.20s is no key or controller; cc64 is the sustain "
                     "pedal, key21 the lowest key of a piano",
                     is_asked ? "--control" : "control",
                     text);
  }
  return STATUS_OK;
}

// Without a keyboard there is still a band to play along with; but a system
// that nobody knows is a slip of the hand
static Status
find_input(Equipment* const equipment, bool* const is_there, Fault* const fault)
{
  Ports*   ports = NULL;
  PortList list;
  unsigned index = 0;
  *is_there      = false;
  if (open_system(equipment, &ports, fault)) {
    if (fault->status == STATUS_MISSING) {
      return fault->status;
    }
    notices_add(
      equipment->notices, "%s; going on without a keyboard", fault->text);
    return STATUS_OK;
  }
  *is_there = !ports_list(ports, PORT_IN, &list) &&
              !ports_choose(&list, PORT_IN, NULL, &index, fault);
  if (!*is_there) {
    notices_add(equipment->notices,
                "no keyboard is connected yet; one that comes is heard (barter "
                "ports lists what there is)");
    equipment->wiring.awaits_in = true;
    *is_there                   = true; // Or will be
  }
  ports_close(ports);
  return STATUS_OK;
}

Status
equipment_choose(Equipment* const           equipment,
                 const EquipmentWish* const wish,
                 const Choices* const       choices,
                 Notices* const             notices,
                 Fault* const               fault)
{
  const char* const in     = wish->in;
  const char* const out    = wish->out;
  const bool        is_own = wish->is_own;
  *equipment             = (Equipment){.midi = wish->midi, .notices = notices};
  Wiring* const wiring   = &equipment->wiring;
  const bool    is_none  = out && strcmp(out, "none") == 0;
  const bool    is_synth = out ? strcmp(out, "synth") == 0 : !is_own;
  *wiring                = (Wiring){
                   .open_system  = open_system,
                   .context      = equipment,
                   .is_own       = is_own,
                   .has_out      = is_own ? !is_none : out && !is_none && !is_synth,
                   .out          = out,
                   .has_sound    = is_synth,
                   .font         = {wish->soundfont, choices->fonts},
                   .loads_behind = wish->loads_behind,
                   .in           = in,
  };
  wiring->has_in = in ? strcmp(in, "none") != 0 : is_own;
  const Status status =
    in || is_own ? STATUS_OK : find_input(equipment, &wiring->has_in, fault);
  return status ? status : choose_control(equipment, choices, fault);
}

// The file is barter's own, so it is written anew from what it says

static Status
write_file(const char* const control,
           const double      lag_ms,
           const char* const path,
           Fault* const      fault)
{
  char text[512];
  int  n = snprintf(text,
                   sizeof(text),
                   "# Kept by barter; what it says goes before barter.cfg.\n"
                    "lag_ms  = %.2f;\n",
                   lag_ms);
  if (control[0]) {
    n += snprintf(
      text + n, sizeof(text) - (size_t)n, "control = \"%s\";\n", control);
  }
  return file_save(path, text, (size_t)n, FILE_OPEN, fault);
}

Status
equipment_keep(const Choices* const choices,
               const Trigger* const control,
               const double* const  lag_ms,
               char* const          path,
               Fault* const         fault)
{
  char folder[PLACE_PATH_CAPACITY];
  char text[TRIGGER_TEXT_CAPACITY];
  place_own_file(CHOICES_EQUIPMENT_FILE, path);
  place_own_file("", folder);
  if (!path[0] || !folder[0]) {
    return fault_say(
      fault, STATUS_SYSTEM, "there is no folder for your settings; set HOME");
  }
  const Status status = folder_make(folder, fault);
  return status ? status
                : write_file(control ? trigger_text(*control, text)
                                     : choices->control,
                             lag_ms ? *lag_ms : choices->lag_ms,
                             path,
                             fault);
}
