#include "core/sound/module.h"

#include <dlfcn.h>
#include <string.h>

static const char file_name[] = "barter-sound.so";

Status
sound_module_open(const SoundModule** const module, Fault* const fault)
{
  // Never closed: FluidSynth's libraries leave threads and handlers behind
  void* const handle = dlopen(file_name, RTLD_NOW | RTLD_LOCAL);
  if (!handle) {
    const char* const why = dlerror();
    return fault_set(fault,
                     STATUS_MISSING,
                     file_name,
                     0,
                     "there is no sound: %s; install Barter again, whole",
                     why ? why : "it cannot be opened");
  }

  const SoundModule* const found = dlsym(handle, "sound_module");
  if (!found || strcmp(found->version, BARTER_VERSION) != 0) {
    return fault_set(fault,
                     STATUS_MISSING,
                     file_name,
                     0,
                     "this is not of version " BARTER_VERSION
                     "; end Barter and start it again");
  }
  *module = found;
  return STATUS_OK;
}
