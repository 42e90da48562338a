/// @file core/module/module.h A part of the program in a file of its own.
///
/// Some libraries bring so many others with them that every start would wait
/// for them, and every session hold them. What knows such a library lies in a
/// module, a shared object beside the program, which is opened when it is first
/// wanted, and stays.

#ifndef CORE_MODULE_MODULE_H
#define CORE_MODULE_MODULE_H

#include "core/attributes.h"
#include "core/fault.h"
#include "core/status.h"

/// How the table of a module begins, which it offers as `barter_module`.
typedef struct {
  const char* version; ///< Of the program that it was built with
} ModuleHead;

/**
   Find a module by the program's search path; once or often.

   @param name `barter-sound`.
   @param[out] table Written on success only: what the module offers.
   @return STATUS_OK; STATUS_MISSING, with the fault written, if there is none
   or it is another version's.
*/
MUST_USE Status
module_open(const char* name, const void** table, Fault* fault);

#endif // CORE_MODULE_MODULE_H
