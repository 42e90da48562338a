#include "core/module/module.h"

#include <dlfcn.h>
#include <stdio.h>
#include <string.h>

enum { NAME_CAPACITY = 64 };

Status
module_open(const char* const  name,
            const void** const table,
            Fault* const       fault)
{
  char file[NAME_CAPACITY];
  (void)snprintf(file, sizeof(file), "%s.so", name);

  // Never closed: its libraries leave threads and handlers behind
  void* const handle = dlopen(file, RTLD_NOW | RTLD_LOCAL);
  if (!handle) {
    const char* const why = dlerror();
    return fault_in(fault,
                    STATUS_MISSING,
                    file,
                    "a part of Barter is missing (%s); install it again, whole",
                    why ? why : "it cannot be opened");
  }

  const ModuleHead* const head = dlsym(handle, "barter_module");
  if (!head || strcmp(head->version, BARTER_VERSION) != 0) {
    return fault_in(fault,
                    STATUS_MISSING,
                    file,
                    "this part is not of version " BARTER_VERSION
                    "; end Barter and start it again");
  }
  *table = head;
  return STATUS_OK;
}
